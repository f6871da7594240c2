"""Putting an ingredient's words into a step, or taking them out, so that it still reads as a cook wrote it."""

import re
from collections.abc import Sequence

from recipebox.cards.model import Ingredient
from recipebox.cards.things import thing
from recipebox.compare import step_names
from recipebox.family.model import plain_item
from recipebox.family.sentences import joined, mentions, said, sentences, without

_LAST = re.compile(
    r"^(?:(?:then|now|and)\s+)?(?:bake|roast|serve|cook (?:until|for)|put (?:it )?in(?:to)? the oven|in the oven"
    r"|cover and bake|let (?:it )?(?:stand|cool)|eat)\b",
    re.IGNORECASE,
)
_SEASONING = frozenset({"salt", "pepper", "black pepper", "white pepper", "salt and pepper", "pepper and salt"})


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
        others = [one for one in listed if mentions(sentence, one)]
        if not others:
            continue
        shorter = without(sentence, spans)
        if shorter is None or any(not mentions(shorter, one) for one in others):
            return None
        kept.append(shorter)
    return " ".join(kept)


def renamed(step: str, line: Ingredient, instead: Ingredient, listed: Sequence[Ingredient]) -> str:
    """The step with what is listed in place of an ingredient named where that was."""
    spans = _own_spans(step, line, [one for one in listed if one is not instead])
    if mentions(step, instead) and spans == mentions(step, instead):
        return step
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
) -> tuple[str | None, int | None]:
    """The step with an ingredient that another version's step names; and which step of the method, if not this one.

    A sentence only about it is taken over whole. Where it is named beside something that the method names, it is put
    beside that. (None, None) where neither can be done.
    """
    have = {said(sentence) for text in method for sentence in sentences(text)}
    for sentence in sentences(other):
        spans = mentions(sentence, line)
        if not spans:
            continue
        beside = [one for one in listed if one is not line and mentions(sentence, one)]
        if not beside and not any(step_names(sentence, one) for one in foreign):
            calm = sentence if not sentence.isupper() else sentence.capitalize()
            if said(calm) not in have and not re.search(r"\d", calm):
                return placed(step, calm if calm[-1:] in ".!?" else calm + "."), None
        at = spans[0][0]
        for one in sorted(beside, key=lambda one: min(abs(at - start) for start, _ in mentions(sentence, one))):
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
    if all(thing(name) in _SEASONING for name in names):
        return f"Season with {whole}."
    return f"Add the {whole}."


def _beside(text: str, one: Ingredient, line: Ingredient) -> str | None:
    whole = sentences(text)
    for number, sentence in enumerate(whole):
        spans = mentions(sentence, one)
        if spans:
            changed = joined(sentence, spans[0], _named(line))
            if mentions(changed, line):
                return " ".join([*whole[:number], changed, *whole[number + 1 :]])
    return None


def _own_spans(text: str, line: Ingredient, listed: Sequence[Ingredient]) -> list[tuple[int, int]]:
    """Where a text names an ingredient by words that name nothing else that is listed."""
    others = [span for one in listed for span in mentions(text, one)]
    return [
        span for span in mentions(text, line) if not any(start <= span[0] and span[1] <= end for start, end in others)
    ]


def _named(line: Ingredient) -> str:
    return plain_item(line).split(",")[0].split("(")[0].strip()
