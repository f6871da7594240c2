"""An oven's heat on one scale, by the published oven table (oven_marks.csv)."""

from fractions import Fraction
from functools import cache

from recipebox.cards.model import Bake, Heat
from recipebox.measures.units import MeasureError
from recipebox.tables.load import rows

# A fan oven is set lower: 20 C by UK consumer advice, 25 F by US extension advice (oven_marks.csv, basis memory; a UK
# cooker instruction book, seen, says 10 to 20 C). The card's figure is brought back to an oven without a fan.
_FAN_CELSIUS = Fraction(20)
_FAN_FAHRENHEIT = Fraction(25)
_COLDEST = Fraction(-4597, 10)  # absolute zero in Fahrenheit


def fahrenheit(heat: Heat) -> Fraction | None:
    """The heat in Fahrenheit, of an oven without a fan; exact from Celsius, the middle of a range.

    Gas marks and words go by the first row of oven_marks.csv that has them (for words that is NIST's table). None
    where the card gives no figure and no word the table knows.
    """
    if heat.scale == "words":
        return _words(heat.words or "")
    if heat.value is None:
        return _words(heat.words) if heat.words else None
    if heat.scale == "gas":
        ends = [_gas_marks().get(mark) for mark in (heat.value.low, heat.value.high)]
        return None if None in ends else _middle([end for end in ends if end is not None])
    value = heat.value.middle
    if heat.scale == "C":
        value = (value + (_FAN_CELSIUS if heat.fan else 0)) * 9 / 5 + 32
    elif heat.fan:
        value += _FAN_FAHRENHEIT
    return value if value > _COLDEST else None


def celsius(heat: Heat) -> Fraction | None:
    """As `fahrenheit`, in Celsius, exactly: (F - 32) x 5/9."""
    found = fahrenheit(heat)
    return None if found is None else (found - 32) * 5 / 9


def bake_fahrenheit(bake: Bake) -> Fraction | None:
    """The heat of one bake in Fahrenheit. Of several ways to say it: F, C, gas, words, those without a fan first."""
    order = {"F": 0, "C": 1, "gas": 2, "words": 3}
    for heat in sorted(bake.settings, key=lambda one: (one.fan, order.get(one.scale, 9))):
        found = fahrenheit(heat)
        if found is not None:
            return found
    return None


def kitchen_celsius(degrees_fahrenheit: Fraction) -> Fraction:
    """Celsius as an oven's dial has it: to the nearest 10 (from 100 up; 5 below), as NIST's kitchen table rounds.

    Raises MeasureError below absolute zero.
    """
    if degrees_fahrenheit <= _COLDEST:
        raise MeasureError(f"{degrees_fahrenheit} F is colder than anything can be")
    exact = (degrees_fahrenheit - 32) * 5 / 9
    step = 10 if exact >= 80 else 5
    return Fraction(int((exact + Fraction(step, 2)) // step) * step)


@cache
def _gas_marks() -> dict[Fraction, Fraction]:
    marks: dict[Fraction, Fraction] = {}
    for row in rows("oven_marks"):
        if row["gas_mark"]:
            marks.setdefault(Fraction(row["gas_mark"]), _middle(_ends(row["fahrenheit"])))
    return marks


@cache
def _word_heats() -> dict[str, Fraction]:
    heats: dict[str, Fraction] = {}
    for row in rows("oven_marks"):
        words = row["words"].split("(")[0].strip()
        if words and row["fahrenheit"] and not words.startswith("adjustment"):
            heats.setdefault(words, _middle(_ends(row["fahrenheit"])))
    return heats


def _words(words: str) -> Fraction | None:
    kept = [word for word in words.lower().replace("-", " ").split() if word not in {"a", "an", "in", "oven", "the"}]
    known = _word_heats()
    if "to" in kept:
        at = kept.index("to")
        halves = [known.get(" ".join(part)) for part in (kept[:at], kept[at + 1 :])]
        found = [half for half in halves if half is not None]
        return _middle(found) if len(found) == 2 else None
    return known.get(" ".join(kept))


def _ends(cell: str) -> list[Fraction]:
    return [Fraction(end) for end in cell.split("-")]


def _middle(ends: list[Fraction]) -> Fraction:
    return sum(ends, Fraction(0)) / len(ends)
