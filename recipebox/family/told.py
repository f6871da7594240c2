"""Swaps that cards tell in words: "out of leeks, so I used onions instead, half the weight"; "or oil"; "oil works too".

How people say such things is common practice, no source. Only things that somebody's card or the published swaps name
are heard, so that no other words are taken for food.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from recipebox.cards.model import Card, Ingredient, Swap
from recipebox.cards.things import thing
from recipebox.family.model import FoundSwap, plain_item
from recipebox.family.sentences import mentions, sentences, stem
from recipebox.tables import rows

_X = r"⟦(?P<x>\d+)⟧"
_Y = r"⟦(?P<y>\d+)⟧"
_DET = r"(?:(?:the|a|an|some|any|my|more|real|good|bit of|little)\s+)*"
_USED = r"(?:used?|took|takes?|put(?: in)?|made it with|make it with|tried|try|went with|have|had|add(?:ed)?|got)"
_PATTERNS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        r"(?:out of|ran out of|no|without|lacking|had no|have no|not have|never have|cannot (?:buy|get)"
        r"|can't (?:buy|get))"
        rf"\s+{_DET}{_X}(?P<between>[^.;⟦]{{0,40}}?)\b{_USED}\s+{_DET}{_Y}",
        rf"{_Y}\s+(?:instead of|in place of|rather than|in lieu of|and not|but not|not)\s+"
        rf"(?P<part>half (?:of )?|some of |part of )?{_DET}{_X}",
        rf"instead of\s+(?P<part>half (?:of )?|some of |part of )?{_DET}{_X}[^.;⟦]{{0,30}}?\b{_USED}\s+{_DET}{_Y}",
        rf"\b{_USED}\s+{_DET}{_Y}\s+for\s+{_DET}{_X}",
        rf"{_Y}\s+because\s+{_DET}{_X}\s+(?:was|were|had|is|are)\s+(?:all\s+)?(?:gone|run out|finished|empty|used up)",
        rf"(?:swap(?:ped)?|replaced?|exchanged?)\s+{_DET}{_X}\s+(?:for|with|by)\s+{_DET}{_Y}",
        rf"substitut(?:e|ed|ing)\s+{_DET}{_Y}\s+for\s+{_DET}{_X}",
        rf"{_X}\s+(?:can be|may be|could be|was|were)\s+(?:replaced|swapped|exchanged)\s+(?:by|with|for)\s+{_DET}{_Y}",
    )
)
# Words without which none of these is said: a quick look before food is looked for.
_HINT = re.compile(
    r"\b(?:out of|no|without|lacking|not|never|cannot|can['’]t|instead|in place|rather than|in lieu|because|swap\w*"
    r"|replac\w+|exchang\w+|substitut\w+|too|as well|also|fine|nicely|the same work|gone|empty)\b"
    rf"|\b{_USED}\b.*\bfor\b",
    re.IGNORECASE,
)
_WORKS = re.compile(
    rf"{_Y}\s+(?:also\s+)?(?:works?|does|do|will do|goes|is fine|are fine|is good|are good|can be used)"
    r"(?:\s+(?:too|as well|just as well|also|fine|nicely|instead|the same work))",
    re.IGNORECASE,
)
_HOW = re.compile(
    r"\b(?:(?:about\s+)?(?:half|twice|double|a third of|two thirds of|a quarter of|three quarters of|the same"
    r"|three times)\s+"
    r"(?:of\s+)?(?:the\s+|as\s+)?(?:weight|amount|volume|quantity|much|many)"
    r"|[\d½¼¾/ ]+\s*\w+\s+for\s+[\d½¼¾/ ]+\s*\w+)\b",
    re.IGNORECASE,
)
_EFFECT = re.compile(
    r"\b(?:it|loaf|cake|bread|sauce|dish|bake|soup|dough|top(?:ping)?|this|that)\s+"
    r"(?:came out|comes out|came|turns out|turned out|was|is|becomes|became|gets|got|tastes?|tasted|makes it"
    r"|made it)\s+"
    r"(?P<effect>(?:a (?:bit|little)\s+|much\s+|more\s+|less\s+|rather\s+|quite\s+)*(?:[a-z]+(?:er|ier)\b|"
    r"(?<=more )[a-z]+|(?<=less )[a-z]+|(?<=a bit )[a-z]+|(?<=quite )[a-z]+|(?<=rather )[a-z]+)"
    r"(?:\s+in\s+[a-z]+)?(?:\s+and\s+[a-z]+(?:er|ier)\b)?)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class _Known:
    name: str
    words: tuple[str, ...]


def told_swaps(card: Card, listed: Sequence[Ingredient], others: Iterable[Ingredient] = ()) -> list[FoundSwap]:
    """Swaps that a version's own words tell, for things that are `listed`; `others` are things of other versions.

    From alternatives of its ingredient lines ("1 cup cream, or milk"), remarks, steps and notes.
    """
    found = list(_alternatives(card, listed))
    passages = [(passage, effect) for passage, effect in _passages(card) if _HINT.search(passage)]
    known = _known([*listed, *card.ingredients, *others]) if passages else []
    wanted = {thing(name): plain_item(line) for line in listed for name in (line.item, *line.items) if name}
    for passage, effect in passages:
        for item, instead, how in _in_words(passage, known):
            listed_as = _listed_as(item, wanted)
            if listed_as is None or thing(instead) == thing(listed_as):
                continue
            how = how or _matched(_HOW, passage)
            found.append(FoundSwap(Swap(listed_as, instead, how, card.name, None, effect), (card.called,)))
    return _once(found)


def effect_told(card: Card, item: Ingredient) -> str | None:
    """What a card says came of it, in a sentence about this thing or the one after ("It came out sweeter")."""
    for passage, effect in _passages(card):
        if effect and mentions(passage, item):
            return effect
    return None


def _alternatives(card: Card, listed: Sequence[Ingredient]) -> Iterable[FoundSwap]:
    for line in card.ingredients:
        match = next((one for one in listed if thing(one.item) == thing(line.item)), None)
        if match is None:
            continue
        for group in line.instead:
            if not group or thing(group[0].item) == thing(line.item):
                continue
            instead = " and ".join(one.item for one in group)
            yield FoundSwap(Swap(plain_item(match), instead, None, card.name, None, None), (card.called,))


def _passages(card: Card) -> list[tuple[str, str | None]]:
    """Each sentence of a card with the effect told in it or in the sentence after it."""
    texts = [card.title, *(note.text for note in card.notes), *(step.text for step in card.steps)]
    texts += [f"{line.item}, {line.remark}" for line in card.ingredients if line.remark]
    texts += [header.value for header in card.headers]
    found: list[tuple[str, str | None]] = []
    for text in texts:
        whole = _answered(sentences(text))
        for at, sentence in enumerate(whole):
            after = whole[at + 1] if at + 1 < len(whole) else ""
            found.append((sentence, _effect(sentence) or _effect(after)))
    return found


def _answered(whole: list[str]) -> list[str]:
    """Sentences, a question put together with what answers it ("No buttermilk? I used yogurt.")."""
    joined: list[str] = []
    for sentence in whole:
        if joined and joined[-1].endswith("?"):
            joined[-1] += f" {sentence}"
        else:
            joined.append(sentence)
    return joined


def _effect(sentence: str) -> str | None:
    match = _EFFECT.search(sentence)
    return match["effect"].strip() if match else None


def _in_words(sentence: str, known: Sequence[_Known]) -> Iterable[tuple[str, str, str | None]]:
    masked, names = _masked(sentence, known)
    if "⟦" not in masked:
        return
    for pattern in _PATTERNS:
        for match in pattern.finditer(masked):
            part = (match.groupdict().get("part") or "").strip()
            how = "for half of it" if part.startswith("half") else f"for {part} it" if part else None
            yield names[int(match["x"])], names[int(match["y"])], how
    for match in _WORKS.finditer(masked):
        for other in names[: int(match["y"])][-1:]:
            yield other, names[int(match["y"])], None


def _masked(sentence: str, known: Sequence[_Known]) -> tuple[str, list[str]]:
    """The sentence with each known thing as ⟦0⟧, ⟦1⟧ ..., the longest name first, and the names as written."""
    sentence = sentence.replace("⟦", "").replace("⟧", "")  # the marks are ours here
    words = list(re.finditer(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", sentence))
    stems = [stem(word.group()) for word in words]
    by_first: dict[str, list[_Known]] = {}
    for one in known:
        by_first.setdefault(one.words[0], []).append(one)
    names: list[str] = []
    parts: list[str] = []
    at = end = 0
    while at < len(words):
        fits = [one for one in by_first.get(stems[at], ()) if tuple(stems[at : at + len(one.words)]) == one.words]
        if not fits:
            at += 1
            continue
        size = max(len(one.words) for one in fits)
        start, stop = words[at].start(), words[at + size - 1].end()
        parts.append(sentence[end:start] + f"⟦{len(names)}⟧")
        name = sentence[start:stop]
        opens = not sentence[:start].strip(" \"'(“‘[")
        names.append(name.lower() if name.isupper() or opens else name)
        end = stop
        at += size
    return "".join(parts) + sentence[end:], names


def _known(lines: Iterable[Ingredient]) -> list[_Known]:
    """The names things go by in sentences: whole names and, for names of several words, the last."""
    names = {name for line in lines for one in (line.item, *line.items) if one for name in (one, thing(one))}
    heads = {name.split(",")[0].split()[-1] for name in names if name.split(",")[0].split()}
    return list({one.words: one for one in (*_foods(), *map(_name, sorted(names | heads))) if one.words}.values())


@cache
def _foods() -> tuple[_Known, ...]:
    """Names that the shipped tables know."""
    names = {row[column] for row in rows("substitutions") for column in ("item", "instead")}
    names |= {name for row in rows("food_groups") for name in row["things"].split(";")}
    return tuple(_name(name) for name in sorted(names))


def _name(name: str) -> _Known:
    bare = name.split(",")[0].split("(")[0]
    return _Known(name, tuple(stem(word) for word in re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", bare)))


def _listed_as(item: str, wanted: dict[str, str]) -> str | None:
    """The listed thing meant by a word: itself, or the one thing listed whose name ends in it ("syrup")."""
    common = thing(item)
    if common in wanted:
        return wanted[common]
    ends = {wanted[name] for name in wanted if name.split()[-1:] == common.split()[-1:] and len(common.split()) == 1}
    return ends.pop() if len(ends) == 1 else None


def _matched(pattern: re.Pattern[str], text: str) -> str | None:
    match = pattern.search(text)
    return match.group().strip() if match else None


def _once(found: Iterable[FoundSwap]) -> list[FoundSwap]:
    kept: dict[tuple[str, str], FoundSwap] = {}
    for one in found:
        kept.setdefault((thing(one.swap.item), thing(one.swap.instead)), one)
    return list(kept.values())
