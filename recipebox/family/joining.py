"""Putting a thing of another version into a sentence of the method, or a sentence about it into a step."""

import re
from collections.abc import Sequence

from recipebox.cards.model import Ingredient
from recipebox.cards.things import thing
from recipebox.family.model import plain_item
from recipebox.family.sentences import VERBS, mentions, sentences, short_name

SEASONING = frozenset({"salt", "pepper", "black pepper", "white pepper", "salt and pepper", "pepper and salt"})
# Where one thing more may join what is named; not where it is sliced, drained or lined up. Common practice, no source.
_MIXING = frozenset(
    re.split(
        r"\s+",
        "add stir mix toss combine whisk beat blend fold put throw tip scatter sprinkle strew cook fry saute sauté "
        "soften sweat pour season brown simmer place work rub cream stew top sift include return",
    )
)
_ANY_VERB = re.compile(
    r"\b(?:" + VERBS + r"|saute|sauté|brown|place|core|quarter|halve|dice|soak|rinse|squeeze|preheat|line|grease|butter"
    r"|remove|discard|set|sift|combine|strain|coat|dredge|dip|trim|skim|mash|crush|fit|lift|spoon|reserve|serve|thaw"
    r"|braise|grill|broil|marinate|knead|use|prepare|separate|get|break|bash|drop|drizzle|include)\b",
    re.IGNORECASE,
)
_NAME_ENDS = re.compile(
    r"\s*(?:[^\w\s]|$)|\s+(?:and|with|in|into|to|until|till|over|for|on|onto|then|together|at|from|through|while|or|by"
    r"|around|as|just|gently|well|so|if|when|before|after|once)\b",
    re.IGNORECASE,
)
_LAST = re.compile(
    r"^(?:(?:then|now|and)\s+)?(?:bake|roast|serve|cook (?:until|for)|put (?:it )?in(?:to)? the oven|in the oven"
    r"|cover and (?:bake|cook|simmer)|let (?:it )?(?:stand|cool|rest)|eat|simmer"
    r"|remove|discard|transfer|garnish|cool|rest)\b",
    re.IGNORECASE,
)


def named(line: Ingredient) -> str:
    """What a step calls a listed thing."""
    return short_name(plain_item(line))


def verb_before(sentence: str, place: int) -> str | None:
    """What is done to the thing a sentence names at this place: its last verb before it."""
    before = sentence[:place]
    verbs = [
        verb.group().casefold()
        for verb in _ANY_VERB.finditer(before)
        if not re.search(r"\b(?:the|a|of|with)\s+$", before[: verb.start()], re.IGNORECASE)
    ]
    return verbs[-1] if verbs else None


def _joins(sentence: str, span: tuple[int, int], done: str | None) -> bool:
    """Whether one thing more may stand beside what a sentence names there: it is mixed, fried, strewn with others, or
    the same is `done` to the one thing more in its own card."""
    verb = verb_before(sentence, span[0])
    if re.search(r"\b(?:but|except|without|no|not)\s+(?:\w+\s+){0,2}$", sentence[: span[0]], re.IGNORECASE):
        return False
    if not _NAME_ENDS.match(sentence[span[1] :]):
        return False  # "over the pastry case"
    if sentence[: span[0]].count("(") > sentence[: span[0]].count(")"):
        return False
    if verb is None:
        return bool(re.match(r",?\s+(?:and\b|&|\w+,)", sentence[span[1] :]))
    return verb in _MIXING or verb == done


def beside(sentence: str, near: Sequence[Ingredient], line: Ingredient, done: str | None) -> str | None:
    """The sentence with a thing put beside the first of `near` it may stand beside; None where there is none.

    `done` is what is done to it in its own card.
    """
    for one in near:
        for span in mentions(sentence, one)[:1]:
            on_top = verb_before(sentence, span[0]) in ("top", "scatter", "strew") and thing(line.item) in SEASONING
            if not on_top and _joins(sentence, span, done):
                changed = joined(sentence, span, named(line))
                if mentions(changed, line):
                    return changed
    return None


def joined(sentence: str, beside: tuple[int, int], item: str) -> str:
    """The sentence with an item put into the list beside another: "Mix the crumbs and scatter" with "the crumbs and
    the parsley"; in a list of several it takes a comma ("crumbs, parsley and cheese")."""
    start, end = beside
    before, after = sentence[:start], sentence[end:]
    determined = "the " if re.search(r"\b(?:the|all)\s+$", before, re.IGNORECASE) else ""
    if (last := re.search(r",?\s+(?:and|&)\s+((?:the\s+)?)$", before)) and not re.match(
        r",\s+(?!(?:then\s+)?(?:" + VERBS + r")\b)", after, re.IGNORECASE
    ):
        return f"{before[: last.start()]}, {last[1]}{sentence[start:end]} and {determined}{item}{after}"
    if re.match(r",?\s+(?:and|&)\s+(?:the\s+)?\w", after) and not re.match(
        r"\s+(?:and|&)\s+(?:" + VERBS + r")\b", after, re.IGNORECASE
    ):
        return f"{sentence[:end]}, {item}{after}"
    if re.match(r",\s+(?!" + VERBS + r"|then|and|until|till|so|but|stir|lid)\w", after, re.IGNORECASE):
        return f"{sentence[:end]}, {item}{after}"
    return f"{sentence[:end]} and {determined}{item}{after}"


def sentence_after(step: str, number: int, sentence: str) -> str:
    """The step with one sentence more after its sentence of this number (-1: as the first); before one that bakes."""
    whole = sentences(step)
    if whole and whole[-1][-1] not in ".!?:":
        whole[-1] += "."
    at = number + 1
    while at > 0 and at <= number + 1 and _LAST.match(whole[at - 1]):
        at -= 1
    return " ".join([*whole[:at], sentence, *whole[at:]])


def placed(step: str, sentence: str) -> str:
    """The step with one sentence more, before the sentence that bakes or serves."""
    whole = sentences(step)
    at = next((number for number, one in enumerate(whole) if _LAST.match(one)), len(whole))
    return sentence_after(step, at - 1, sentence)


def sentence_of_our_own(items: Sequence[str]) -> str:
    """What a cook says of things nobody's words are at hand for: "Add the parsley and chives."."""
    names = list(items)
    whole = names[0] if len(names) == 1 else ", ".join(names[:-1]) + f" and {names[-1]}"
    if all(thing(name) in SEASONING for name in names):
        return f"Season with {whole}."
    return f"Add the {whole}."
