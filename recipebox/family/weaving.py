"""Putting an ingredient's words into a step, or taking them out, so that it still reads as a cook wrote it."""

import re
from collections.abc import Sequence

from recipebox.cards.model import Ingredient
from recipebox.cards.things import thing
from recipebox.compare import step_names
from recipebox.family.model import plain_item
from recipebox.family.sentences import (
    calm,
    joined,
    mentions,
    said,
    sentences,
    short_name,
    without,
    without_clause,
    without_opening,
    without_sign,
)

_LAST = re.compile(
    r"^(?:(?:then|now|and)\s+)?(?:bake|roast|serve|cook (?:until|for)|put (?:it )?in(?:to)? the oven|in the oven"
    r"|cover and bake|let (?:it )?(?:stand|cool)|eat)\b",
    re.IGNORECASE,
)
_NO = re.compile(r"\b(?:no|without|never|not)\s+(?:\w+\s+)?$", re.IGNORECASE)
_AGAINST = re.compile(r"\b(?:than|instead|unlike|not like)\b", re.IGNORECASE)
_TALK = re.compile(r"\b(?:i|we|my|our|because|instead|rather than|and not|never)\b", re.IGNORECASE)
_BAKING = re.compile(
    r"\b(?:bake|roast|simmer|oven|degrees|min(?:ute)?s?|hours?)\b|\d\s*°|\d{3}\s?[CF]\b", re.IGNORECASE
)
_PRAISE = re.compile(r"\s+(?:is|are|was|were|makes?|gives?|keeps?|does|do)\b", re.IGNORECASE)
# A step that takes all there is, without naming it: common practice, no source.
_EVERYTHING = re.compile(
    r"\b(?:mix|combine|stir|put|beat|blend|throw|add|whisk|place|layer)\s+(?:it\s+|them\s+)?all\b(?!\s+(?:the|of|but|your)\b)"
    r"|\ball\s+(?:together|in\s+(?:a|the|one)\b)",
    re.IGNORECASE,
)
SEASONING = frozenset({"salt", "pepper", "black pepper", "white pepper", "salt and pepper", "pepper and salt"})


def names(step: str, line: Ingredient) -> bool:
    """Whether a step speaks of an ingredient, by its own words or as `compare` hears it."""
    return step_names(step, line) or bool(mentions(step, line)) or takes_everything(step)


def takes_everything(step: str) -> bool:
    """Whether a step takes all there is ("mix all together")."""
    return _EVERYTHING.search(step) is not None


def without_talk(
    step: str, foreign: Sequence[Ingredient], listed: Sequence[Ingredient], adopted: Sequence[Ingredient] = ()
) -> str:
    """The step without sentences that only tell of things of other cards, or set one of them against what is used.

    Nor one that says "no flour needed" where flour was adopted.
    """
    kept = []
    for sentence in sentences(step):
        if any(_NO.search(sentence[:start]) for line in adopted for start, _ in mentions(sentence, line)):
            continue
        strange = [line for line in foreign if _own_spans(sentence, line, listed)]
        aside = sentence[:1] in "([" or _TALK.search(sentence) is not None
        if not strange or (any(mentions(sentence, line) for line in listed) and not aside):
            kept.append(sentence)
    return " ".join(kept)


def freed_of(step: str, line: Ingredient, listed: Sequence[Ingredient]) -> str | None:
    """The step without an ingredient: taken from the lists it stands in, or the sentence that is only about it.

    "" where the whole step is only about it; the step itself where no words of its own name it; None where it cannot
    be taken out without harm.
    """
    kept: list[str] = []
    for sentence in sentences(step):
        spans = _own_spans(sentence, line, listed)
        if not spans:
            kept.append(sentence)
            continue
        others = [one for one in listed if _apart(sentence, one, spans)]
        if not others:
            left = without_clause(sentence, spans) or without_opening(sentence, spans) or without_sign(sentence, spans)
            if left is None and _BAKING.search(sentence):
                return None  # how long and how hot is not lost with it
            kept += [left] if left else []
            continue
        shorter = without(sentence, spans) or without_clause(sentence, spans)
        if (
            shorter is None
            and _PRAISE.match(sentence[max(end for _, end in spans[:1]) :])
            and spans[0][0] <= len("The ")
        ):
            continue  # "The vinegar is important, a lentil soup without sour is sad."
        if shorter is None or any(not mentions(shorter, one) for one in others):
            return None
        kept.append(shorter)
    return " ".join(kept)


def renamed(step: str, line: Ingredient, instead: Ingredient, listed: Sequence[Ingredient]) -> str:
    """The step with what is listed in place of an ingredient named where that was."""
    spans = _own_spans(step, line, [one for one in listed if one is not instead])
    if mentions(step, instead) and spans == mentions(step, instead):
        return step
    if mentions(step, instead):
        step = _without_comparing(step, instead)
        spans = _own_spans(step, line, [one for one in listed if one is not instead])
    name = _named(instead)
    for start, end in sorted(spans, reverse=True):
        word = name.capitalize() if step[start].isupper() and step[start:end].istitle() else name
        step = step[:start] + word + step[end:]
    return step


def woven(
    step: str,
    other: str,
    line: Ingredient,
    listed: Sequence[Ingredient],
    foreign: Sequence[Ingredient],
    method: Sequence[str],
    whole: bool = False,
) -> tuple[str | None, int | None]:
    """The step with an ingredient that another version's step names; and which step of the method, if not this one.

    A sentence only about it is taken over whole. Where it is named beside something that the method names, it is put
    beside that, unless only `whole` sentences may come in. (None, None) where neither can be done.
    """
    have = {said(sentence) for text in method for sentence in sentences(text)}
    for sentence in sentences(other):
        spans = mentions(sentence, line)
        if not spans:
            continue
        beside = [one for one in listed if one is not line and mentions(sentence, one)]
        if not beside and not any(names(sentence, one) for one in foreign):
            quiet = calm(sentence)
            if said(quiet) not in have and not re.search(r"\d", quiet):
                return placed(step, quiet if quiet[-1:] in ".!?" else quiet + "."), None
        at = spans[0][0]
        for one in (
            ()
            if whole
            else sorted(beside, key=lambda one: min(abs(at - start) for start, _ in mentions(sentence, one)))
        ):
            found = _beside(step, one, line)
            if found:
                return found, None
            for number, text in enumerate(method):
                found = _beside(text, one, line)
                if found:
                    return found, number
    return None, None


def placed(step: str, sentence: str) -> str:
    """The step with one sentence more, before the sentence that bakes or serves."""
    whole = sentences(step)
    if whole and whole[-1][-1] not in ".!?:":
        whole[-1] += "."
    at = next((number for number, one in enumerate(whole) if _LAST.match(one)), len(whole))
    return " ".join([*whole[:at], sentence, *whole[at:]])


def fallback_sentence(items: Sequence[str]) -> str:
    """What a cook says of things nobody's words are at hand for: "Add the parsley and chives."."""
    names = list(items)
    whole = names[0] if len(names) == 1 else ", ".join(names[:-1]) + f" and {names[-1]}"
    if all(thing(name) in SEASONING for name in names):
        return f"Season with {whole}."
    return f"Add the {whole}."


def _without_comparing(step: str, instead: Ingredient) -> str:
    """The step without a clause that sets one thing against what now stands there ("they need longer than leeks")."""
    whole = []
    for sentence in sentences(step):
        clauses = re.split(r"(?<=[,;])\s+", sentence)
        kept = [clause for clause in clauses if not (mentions(clause, instead) and _AGAINST.search(clause))]
        cut = len(kept) < len(clauses) and clauses[-1] not in kept
        text = " ".join(kept)
        whole.append(text.rstrip(",; ") + "." if cut and text else text)
    return " ".join(one for one in whole if one)


def _beside(text: str, one: Ingredient, line: Ingredient) -> str | None:
    whole = sentences(text)
    for number, sentence in enumerate(whole):
        spans = mentions(sentence, one)
        if spans:
            changed = joined(sentence, spans[0], _named(line))
            if mentions(changed, line):
                return " ".join([*whole[:number], changed, *whole[number + 1 :]])
    return None


def _apart(text: str, line: Ingredient, spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Where a text names an ingredient outside these spans."""
    return [(start, end) for start, end in mentions(text, line) if not any(a <= start and end <= b for a, b in spans)]


def _own_spans(text: str, line: Ingredient, listed: Sequence[Ingredient]) -> list[tuple[int, int]]:
    """Where a text names an ingredient by words that name nothing else that is listed."""
    others = [span for one in listed for span in mentions(text, one)]
    return [
        span for span in mentions(text, line) if not any(start <= span[0] and span[1] <= end for start, end in others)
    ]


def _named(line: Ingredient) -> str:
    return short_name(plain_item(line))
