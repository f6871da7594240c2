"""Amounts as cooks write them, to exact fractions and back."""

import re
from fractions import Fraction
from functools import lru_cache

from recipebox.cards.model import Amount

_SIGNS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_WORDS = {
    word: Fraction(number)
    for number, word in enumerate(
        [
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
        ],
        1,
    )
} | {
    "twenty": Fraction(20),
    "thirty": Fraction(30),
    "forty": Fraction(40),
    "fifty": Fraction(50),
    "hundred": Fraction(100),
}
_PARTS = {
    "half": Fraction(1, 2),
    "halves": Fraction(1, 2),
    "third": Fraction(1, 3),
    "thirds": Fraction(1, 3),
    "quarter": Fraction(1, 4),
    "quarters": Fraction(1, 4),
    "fourth": Fraction(1, 4),
    "fourths": Fraction(1, 4),
    "eighth": Fraction(1, 8),
    "eighths": Fraction(1, 8),
}
_SIZED = "(?:ounce|oz|pound|lb|inch|gram|quart|pint|cup)"  # "one eight-ounce package"
_SIGN = "[" + "".join(_SIGNS) + "]"
_BEGINS = frozenset("0123456789.aothfsenqcp") | frozenset(_SIGNS)  # first letters of all that _NUMBER knows
_OVER = r"(?:\d{1,9}\s?[/⁄∕]\s?\d{1,9}(?!\d))"
_ORDINAL = r"(?:(?:th|rd|nd)s?(?![^\W\d_]))?"  # "1/8th"
_PART = "(?:half|halves|thirds?|quarters?|fourths?|eighths?)"
_WORD = "(?:" + "|".join(sorted(_WORDS, key=len, reverse=True)) + ")"
# Every repeat is bounded, so that a line of any length is read in one pass.
_NUMBER = re.compile(
    rf"""
    (?P<whole>\d{{1,9}})(?:(?P<join>\s{{0,3}}[-‐‑–]\s{{0,3}}|\s{{1,3}}(?:and|&|\+)\s{{1,3}}|\s{{0,3}})
        (?:(?P<sign>{_SIGN})|(?<!\d)(?P<over>{_OVER}){_ORDINAL}))
    | (?P<lone>{_SIGN})
    | (?P<fraction>{_OVER}){_ORDINAL}
    | (?P<decimal>\d{{0,9}}[.]\d{{1,9}}(?!\d))
    | (?P<comma>\d{{1,9}},\d{{1,2}}(?!\d))
    | (?P<thousands>\d{{1,3}}(?:,\d{{3}}){{1,3}}(?!\d))
    | (?P<digits>\d{{1,9}}(?!\d))
    | (?P<word>(?:an?\s{{1,3}})?(?:couple|pair)(?:\s{{1,3}}of)?\b)
    | (?P<half>half(?:\s{{1,3}}of)?\s{{1,3}}an?\b)
    | (?P<spoken>(?:{_WORD}|an?)[\s-]{{1,3}}{_PART})\b(?!-and-|\s+and\s+half)(?:\s{{1,3}}(?:of\s{{1,3}})?an?\b)?
    | (?P<named>{_WORD})
        (?:\s{{1,3}}and\s{{1,3}}(?:an?|one|two|three)[\s-]{{1,3}}(?P<named_part>{_PART}))?\b(?!-(?!{_SIZED}\b))
    | (?P<part>half|quarter|third)\b(?!\s*[-&n]|\s+and\s+half)(?:\s{{1,3}}of\b)?
    | (?P<a>an?)\b(?![-.'’])(?=\s)
    """,
    re.VERBOSE | re.IGNORECASE,
)
_AND_A_PART = re.compile(rf"\s{{1,3}}and\s{{1,3}}an?\s{{1,3}}({_PART})\b", re.IGNORECASE)
_TO = re.compile(r"\s{0,3}(?:[-‐‑‒–—~]|\bto\b|\bor\b|\buntil\b|\bthrough\b|[-–]\s{0,2}to\b[-–]?)\s{0,3}", re.IGNORECASE)
_JOINTS = frozenset("-‐‑‒–—~tou")  # first letters of _TO
_AND = re.compile(r"\s{1,3}and\s{1,3}", re.IGNORECASE)
_TWICE = re.compile(r"\s{1,3}")


def read_amount(words: str) -> tuple[Amount, int] | None:
    """The amount at the start of `words`, and how many characters it takes; None if there is none.

    Reads 2, 1 1/2, 1-1/2, 1½, 1⁄2, 0.5, "1,5", one and a half, half a, a, a couple of, and ranges (6-8, 2 to 3,
    1 or 2). A number over zero is no amount.
    """
    first = _number(words, 0)
    if first is None:
        return _between(words) if words[:8].lower() == "between " else None
    low, at, spelt = first
    if spelt != "a" and words[at : at + 4].lstrip()[:1].lower() in _JOINTS and (joint := _TO.match(words, at)):
        second = _number(words, joint.end())
        if second is not None and second[2] != "a" and (second[0] > low) and _is_range(words, joint, second):
            return Amount(low, second[0]), second[1]
    again = _TWICE.match(words, at) if words[at + 1 : at + 2] == words[:1] else None
    if again and words[again.end() : again.end() + at] == words[:at] and words[at * 2 + 1 : at * 2 + 2] == " ":
        at = again.end() + at  # "2 2 slices ham": the amount written twice
    return Amount(low, low), at


def write_amount(amount: Fraction) -> str:
    """An exact amount as a cook writes it: "1 1/2", "3", "2/3"; denominators stay as they are."""
    whole, rest = divmod(abs(amount), 1)
    sign = "-" if amount < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


def _between(words: str) -> tuple[Amount, int] | None:
    """ "between 2 and 3"."""
    low = _number(words, 8)
    joint = _AND.match(words, low[1]) if low is not None else None
    high = _number(words, joint.end()) if joint else None
    if low is None or high is None or high[0] <= low[0]:
        return None
    return Amount(low[0], high[0]), high[1]


def _is_range(words: str, joint: re.Match[str], second: tuple[Fraction, int, str]) -> bool:
    """A dash before a number may also begin a size: "2 - 14 oz cans" is two cans."""
    return not (joint.group().strip() == "" or (joint.group().strip() == "or" and second[2] == "part"))


def _number(words: str, at: int) -> tuple[Fraction, int, str] | None:
    if words[at : at + 1].lower() not in _BEGINS:
        return None
    match = _NUMBER.match(words, at)
    if match is None:
        return None
    kind = match.lastgroup or ""
    if kind in ("sign", "over"):
        part = _over(_SIGNS.get(match["sign"] or "", match["over"] or ""))
        whole = _exact(match["whole"])
        if part is None:
            return None
        if match["join"].strip() in tuple("-‐‑–") and match["join"].strip() and part >= 1:
            return whole, match.end("whole"), "digits"
        return whole + part, match.end(), "mixed"
    if kind in ("lone", "fraction"):
        value = _over(_SIGNS.get(match[kind], match[kind]))
        return None if value is None else (value, match.end(), kind)
    if kind == "comma":
        return _exact(match.group().replace(",", ".")), match.end(), kind
    if kind == "thousands":
        return _exact(match.group().replace(",", "")), match.end(), kind
    if kind == "digits":
        if also := _AND_A_PART.match(words, match.end()):
            return _exact(match.group()) + _PARTS[also[1].lower()], also.end(), "mixed"
        if match.group().startswith("00"):
            return None  # a kind of flour
        return _exact(match.group()), match.end(), kind
    if kind == "decimal":
        text = match.group()
        return _exact("0" + text if text.startswith(".") else text), match.end(), kind
    return _spoken(match, kind)


def _spoken(match: re.Match[str], kind: str) -> tuple[Fraction, int, str]:
    if kind == "word":
        return Fraction(2), match.end(), kind
    if kind == "half":
        return Fraction(1, 2), match.end(), kind
    if kind == "a":
        return Fraction(1), match.end(), kind
    if kind == "part":
        return _PARTS[match["part"].lower()], match.end(), kind
    if kind == "spoken":
        count, part = re.split(r"[\s-]+", match["spoken"].lower())
        return _WORDS.get(count, Fraction(1)) * _PARTS[part], match.end(), kind
    value = _WORDS[match["named"].lower()]
    if match["named_part"]:
        count = re.split(r"[\s-]+", match.group().lower())[-2]
        value += _WORDS.get(count, Fraction(1)) * _PARTS[match["named_part"].lower()]
    return value, match.end(), "named"


@lru_cache(maxsize=2048)
def _exact(text: str) -> Fraction:
    """The number written so; a kitchen has few, and making a Fraction is slow."""
    return Fraction(text)


@lru_cache(maxsize=2048)
def _over(text: str) -> Fraction | None:
    over, _, under = text.replace("⁄", "/").replace("∕", "/").partition("/")
    return Fraction(int(over), int(under)) if int(under) else None
