"""The baking dish that a header line or a step names."""

import re
from collections.abc import Iterable
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.model import Amount, Measure, Pan, Passage

MOST = 2000  # letters of one step that are looked at
_NUMBER = r"\d{1,3}(?:[.,]\d{1,2})?(?:\s?[½¼¾]|[\s-]+\d/\d)?|[½¼¾]"
_UNIT = r"(?:inch(?:es)?|in\b\.?|\"|”|″|''|cm\b|centimet(?:er|re)s?|mm\b)"
_SIDES = re.compile(
    rf"(?P<a>{_NUMBER})\s*(?:-?\s*(?P<u1>{_UNIT}))?\s*(?:x|×|by|X|\*)\s*(?P<b>{_NUMBER})\s*(?:-?\s*(?P<u2>{_UNIT}))?"
    rf"(?:\s*(?:x|×|by|X|\*)\s*(?P<c>{_NUMBER})\s*(?:-?\s*(?P<u3>{_UNIT}))?)?",
)
_ONE = re.compile(rf"(?P<a>{_NUMBER})\s*-?\s*(?P<u>{_UNIT})(?:\s*-?\s*(?P<rest>[\w -]{{0,40}}))?", re.IGNORECASE)
_VOLUME = re.compile(
    r"(?P<n>\d+(?:[.,]\d+)?(?:\s?[½¼¾]|[\s-]+(?:and[\s-]+)?\d/\d)?|one|two|three|½)\s*-?\s*(?P<u>quarts?|qt\b\.?"
    r"|lit(?:er|re)s?|l\b|pints?|cups?|gallons?|ml\b)",
    re.IGNORECASE,
)
_HOLES = re.compile(
    r"(?P<n>\d{1,2}|twelve|six)\s*-?\s*(?:hole|cup|well|count|mould|mold|slot)\b[\w -]{0,20}?(?:muffin|cupcake"
    r"|bun|tart|tin|tray|pan)|(?P<m>\d{1,2})\s+(?:muffin|cupcake|bun)\s+(?:cups|holes|wells|mou?lds)\b"
    r"|(?:muffin|cupcake|bun)\b[\w -]{0,12}?(?:tin|tray|pan)s?",
    re.IGNORECASE,
)
_WARE = (
    r"(?:baking (?:dish|pan|tin|sheet|tray)|casserole(?: dish)?|pie (?:dish|plate|tin|pan)|cake (?:tin|pan)s?"
    r"|loaf (?:tin|pan)s?|(?:spring\s?form|bundt|tube|loaf|sheet|round|square|"
    r"roasting|flan|tart|quiche|brownie|gratin|souffl[ée]|muffin|cupcake|bun|jelly roll|swiss roll|traybake"
    r"|angel food|cast[- ]iron)[\w -]{0,18}(?:dish|pan|tin|tray|tins|pans|dishes|skillet)?|dish(?:es)?|pans?"
    r"|tins?|skillet|mould|mold|tray|"
    r"springform|kastenform|auflaufform|moule|molde|stampo|teglia|bakvorm)"
)
_NAMED = re.compile(
    rf"(?<![\w-])(?:(?P<n>\d|one|two|three|four|a|an"
    rf"|the)\s+)?(?P<body>[^.;,:]{{0,45}}?)\b(?P<ware>{_WARE})\b(?P<after>\s*\([^()]{{1,40}}\))?",
    re.IGNORECASE,
)
_NOUN = re.compile(
    r"(?:dish|pan|tin|tray|sheet|skillet|mou?ld|plate|casserole|form|moule|molde|stampo|teglia|bakvorm|bundt)(?:e?s)?\b",
    re.IGNORECASE,
)
_COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "a": 1, "an": 1, "the": 1, "six": 6, "twelve": 12}
_SHAPES = (
    ("muffin", r"muffin|cupcake|\bbun\b"),
    ("tube", r"bundt|tube|angel|kugelh?opf|gugelhupf|ring"),
    ("loaf", r"loaf|kastenform|cake? anglais|pullman"),
    ("round", r"round|spring\s?form|\bpie\b|flan|tart|quiche|skillet|circle|diameter|layer|rund"),
    ("rectangle", r"square|rectang|oblong|sheet|traybake|jelly roll|swiss roll|brownie"),
)


def read_pan(value: str) -> Pan | None:
    """The pan that the words of a `pan:` line name; None for no words."""
    words = value.strip()[:MOST]
    if not words:
        return None
    return _pan(words, words)


def pan_in_steps(steps: Iterable[Passage]) -> Pan | None:
    """The first baking dish of known size or shape that steps name."""
    for step in steps:
        text = step.text[:MOST]
        if not any(character.isdigit() for character in text) and "loaf" not in text and "muffin" not in text:
            continue
        for match in _SIDES.finditer(text):
            around = _around(text, match.start(), match.end())
            if _NOUN.search(around[1]):
                return _pan(around[0], around[1])
        for pattern in (_ONE, _VOLUME, _HOLES):
            for match in pattern.finditer(text):
                first, last = match.start(), match.end()
                behind = re.match(
                    rf"[\w\s,()-]{{0,30}}?\b{_WARE}\b",
                    text[match.start("u") if pattern is not _HOLES else first :],
                    re.IGNORECASE,
                )
                if behind is None:
                    continue
                last = max(
                    match.end() if pattern is _HOLES else 0,
                    (match.start("u") if pattern is not _HOLES else first) + behind.end(),
                )
                counted = re.search(r"\b(\d|two|three|four)\s+$", text[:first])
                words = text[counted.start() if counted else first : last].strip(" ,(")
                if _NOUN.search(words) is None:
                    continue
                return _pan(words, words)
    return None


def _around(text: str, start: int, end: int) -> tuple[str, str]:
    """The words for the pan, and those that tell its shape."""
    before = re.search(
        rf"(?:(?:\b(?:\d|two|three|four)\s+)?\b{_WARE}\s*\(?)$", text[max(0, start - 40) : start], re.IGNORECASE
    )
    behind = re.match(rf"[\w\s.,\"”″()-]{{0,40}}?\b{_WARE}\b", text[end:], re.IGNORECASE)
    first = max(0, start - 40) + before.start() if before else start
    counted = re.search(r"\b(\d|two|three|four)\s+$", text[:first])
    if counted:
        first = counted.start()
    last = end + behind.end() if behind and not before else end
    return text[first:last].strip(" ,("), text[first:last]


def _pan(text: str, words: str) -> Pan:
    lower = words.lower()
    shape = next((name for name, pattern in _SHAPES if re.search(pattern, lower)), None)
    if match := _HOLES.search(words):
        number = match["n"] or match["m"]
        count = 12 if number is None else int(number) if number.isdigit() else _COUNTS[number.lower()]
        return Pan(text, count=count, shape="muffin")
    count = _count(words)
    if match := _SIDES.search(words):
        return _measured(text, match, shape, count, lower)
    if volume := _VOLUME.search(words):
        return Pan(text, count=count, shape=shape, volume=_volume(volume))
    if match := _ONE.search(words):
        side = _exact(match["a"])
        unit = "inch" if match["u"][0] in "iI\"”″'" else "centimeter"
        if match["u"].startswith("mm"):
            side /= 10
        square = "square" in lower
        return Pan(
            text,
            count=count,
            shape=shape or None,
            sides=(side, side) if square else (side,),
            depth=_depth(words),
            unit=unit,
        )
    return Pan(text, count=count, shape=shape)


def _measured(text: str, match: re.Match[str], shape: str | None, count: int, lower: str) -> Pan:
    first, second = _exact(match["a"]), _exact(match["b"])
    third = _exact(match["c"]) if match["c"] else None
    units = [u for u in (match["u1"], match["u2"], match["u3"]) if u]
    metric = units[0].lower().startswith(("c", "m")) if units else max(first, second) > 18
    scale = Fraction(1, 10) if units and units[0].lower().startswith("mm") else Fraction(1)
    sides = [first * scale, second * scale]
    depth = None if third is None else third * scale
    if shape in ("round", "tube") and third is None:
        # "9 x 2 inch round": the second figure is the depth
        sides, depth = [sides[0]], sides[1]
    if shape is None or (shape in ("round", "tube") and third is not None):
        shape = "rectangle"
    return Pan(text, count, shape, tuple(sides), depth, "centimeter" if metric else "inch")


def _depth(words: str) -> Fraction | None:
    match = re.search(rf"({_NUMBER})\s*-?\s*{_UNIT}\s*(?:deep|high|tall)", words, re.IGNORECASE)
    return _exact(match[1]) if match else None


def _count(words: str) -> int:
    match = re.match(
        r"\s*(\d|two|three|four|one|a|an)\s+(?=[a-z]*\s*\d|.*\b(?:pans|tins|dishes|trays)\b|[a-z])",
        words,
        re.IGNORECASE,
    )
    if match is None:
        return 1
    if match[1].isdigit() and re.match(
        r"\s*(?:x|×|by|inch|in\b|quart|qt|lit|l\b|cm|pint|cup|\d/)", words[match.end() :], re.IGNORECASE
    ):
        return 1
    number = int(match[1]) if match[1].isdigit() else _COUNTS[match[1].lower()]
    return number if number > 0 else 1


def _volume(match: re.Match[str]) -> Measure:
    word = match["u"].lower()
    unit = {"q": "quart", "l": "liter", "p": "pint", "c": "cup", "g": "gallon", "m": "milliliter"}[word[0]]
    number = match["n"]
    value = Fraction(_COUNTS[number.lower()]) if number.lower() in _COUNTS else _exact(number)
    return Measure(Amount(value, value), unit)


def _exact(words: str) -> Fraction:
    read = read_amount(words.replace("-", " ").replace(",", "."))
    return read[0].low if read is not None else Fraction(re.sub(r"\D.*", "", words) or "1")
