"""How a dish is baked, as a hurried cook writes it under the title: "13x9 pan, 350, 40 min"; "375 for 30-35 min."."""

import re

from recipebox.cards.times import read_time

_PARTS = re.compile(r"\s*,\s*(?:(?:at|for)\s+)?|\s+(?:at|for)\s+|\s+@\s*")
_PAN = re.compile(
    r"(?:(?:one|two|three|\d|an?)\s+)?(?:large\s+|small\s+)?\d{1,2}(?:\s*[x×]\s*\d{1,2}){1,2}"
    r"(?:\s*-?\s*(?:inch|in\.?|cm|\"))?(?:\s+(?:baking\s+)?(?:pan|dish|tin|casserole)s?)?"
    r"|\d{1,2}(?:\s*-?\s*(?:inch|in\.?|cm|\"|quart|qt\.?|litre|liter))\s+(?:\w+\s+)?(?:pan|dish|tin|casserole)s?",
    re.IGNORECASE,
)
_HEAT = re.compile(
    r"(?P<number>\d{3})\s*(?:°|º|degrees?|deg\.?)?\s*(?P<scale>[FC])?(?:\s*(?:fan|oven))?", re.IGNORECASE
)
_COLDEST, _HOTTEST = 110, 550  # of ovens, in either scale


def hurried_facts(words: str) -> list[tuple[str, str]] | None:
    """The pan and the oven of a line that says nothing else; None for any other line.

    A heat must be among them, and a pan or a time beside it, so that no list of numbers is taken for an oven.
    """
    line = words.strip(" .*_")
    pan = heat = time = None
    start = end = 0
    for part, at in _split(line):
        if pan is None and _PAN.fullmatch(part):
            pan = part
        elif heat is None and (found := _HEAT.fullmatch(part)) and _COLDEST <= int(found["number"]) <= _HOTTEST:
            heat, start, end = part, at, at + len(part)
        elif time is None and heat is not None and not part.isdigit() and read_time(part, whole=True) is not None:
            time, end = part, at + len(part)
        else:
            return None
    if heat is None or (pan is None and time is None):
        return None
    facts = [("pan", pan)] if pan is not None else []
    return [*facts, ("oven", line[start:end])]


def _split(line: str) -> list[tuple[str, int]]:
    """The parts of a line, each with its place."""
    parts = []
    at = 0
    for gap in _PARTS.finditer(line):
        parts.append((line[at : gap.start()], at))
        at = gap.end()
    return [*parts, (line[at:], at)]
