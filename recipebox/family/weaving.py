"""Putting an ingredient's words into a step, or taking them out, so that it still reads as a cook wrote it."""

import re
from collections.abc import Sequence

from recipebox.cards.model import Ingredient
from recipebox.compare import step_names
from recipebox.family.joining import named
from recipebox.family.sentences import (
    mentions,
    sentences,
    stems,
    without,
    without_clause,
    without_opening,
    without_sign,
)

_IF_USED = re.compile(r",?\s+if (?:using|used|you like|desired|wanted|you want)\b", re.IGNORECASE)
_LOOKS_LIKE = re.compile(
    r"\b(?:like|as|resembl\w+|fine|no|not|without|than|size of|your|any)\s+(?:\w+\s+)?$", re.IGNORECASE
)
_A_PART = re.compile(
    r"\s+(?:whites?|yolks?|shells?|skins?|juices?|peel|zest|rind|stalks?|leaves|seeds?|bones?|sheets?|case|base|mixture)\b",
    re.IGNORECASE,
)
_NO_WORK = re.compile(r"(?:in|on|into|with|for)\b[^,;]*\.?", re.IGNORECASE)  # "In a small bowl."
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
    r"|\ball\s+(?:together|in\s+(?:a|the|one)\b)"
    r"|\b(?:add|mix|stir|put|throw|tip|combine|beat|whisk|blend|toss)\s+(?:in\s+|everything\s+else|with\s+)?(?:(?:all\s+)?the\s+)?"
    r"(?:rest\b(?!\s+of\s+the\s+(?!ingredients))|(?:remaining|other)\s+ingredients|everything(?:\s+else)?\b(?!\s+(?:with|but|except)\b))"
    r"|\b(?:all|the rest of|remaining|other)\s+(?:of\s+)?(?:the\s+)?(?:other\s+|remaining\s+)?ingredients\b",
    re.IGNORECASE,
)


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
        if not strange or not aside or _BAKING.search(sentence):
            kept.append(sentence)
    return " ".join(kept)


def uses(step: str, line: Ingredient, known: Sequence[Ingredient]) -> bool:
    """Whether a step takes an ingredient that none of the known is: "a pinch of salt", not "salt the water"."""
    return any(
        re.search(r"\w\W*$", step[:start])
        and not _LOOKS_LIKE.search(step[:start])
        and not re.match(
            r"\s+(?:it|them|the|a|an|out|off|up|well|until|and\s+(?:flour|line))\b", step[end:], re.IGNORECASE
        )
        and not re.search(r"[.;:!?]\s*$", step[:start])
        for start, end in _own_spans(step, line, known)
    )


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
            kept += [left] if left and not _NO_WORK.fullmatch(left.strip()) else []
            continue
        shorter = without(sentence, spans) or without_clause(sentence, spans)
        if shorter is not None and _NO_WORK.fullmatch(shorter.strip()):
            return None
        if (
            shorter is None
            and _PRAISE.match(sentence[max(end for _, end in spans[:1]) :])
            and spans[0][0] <= len("The ")
        ):
            continue  # "The vinegar is important, a lentil soup without sour is sad."
        if shorter is None or any(not mentions(shorter, one) for one in others):
            return None
        if line.optional and not any(one.optional for one in others):
            shorter = _IF_USED.sub("", shorter)
        kept.append(shorter)
    return " ".join(kept)


def renamed(step: str, line: Ingredient, instead: Ingredient, listed: Sequence[Ingredient]) -> str | None:
    """The step with what is listed in place of an ingredient named where that was; None where a part of it is named."""
    spans = _own_spans(step, line, [one for one in listed if one is not instead])
    if mentions(step, instead) and spans == mentions(step, instead):
        return step
    if mentions(step, instead):
        step = _without_comparing(step, instead)
        spans = _own_spans(step, line, [one for one in listed if one is not instead])
    name = named(instead)
    for start, end in sorted(spans, reverse=True):
        if stems(step[start:end]) <= stems(instead.item):
            continue  # "the beef" is said of either
        if _A_PART.match(step[end:]):
            return None
        word = name.capitalize() if step[start].isupper() and step[start:end].istitle() else name
        step = step[:start] + word + step[end:]
    return step


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


def _apart(text: str, line: Ingredient, spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Where a text names an ingredient outside these spans."""
    return [(start, end) for start, end in mentions(text, line) if not any(a <= start and end <= b for a, b in spans)]


def _own_spans(text: str, line: Ingredient, listed: Sequence[Ingredient]) -> list[tuple[int, int]]:
    """Where a text names an ingredient by words that name nothing else that is listed."""
    others = [span for one in listed for span in mentions(text, one)]
    return [
        span for span in mentions(text, line) if not any(start <= span[0] and span[1] <= end for start, end in others)
    ]
