"""What a cooked thing was before it was cooked, by published yields (worked_examples.csv)."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from recipebox.measures.units import MeasureError, convert, known_unit, unit
from recipebox.tables.load import rows

_NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d+)"
_RAW = re.compile(rf"({_NUMBER}) (lb|oz|cup) (?:dry|dried) (.+)")
_COOKED = re.compile(rf"({_NUMBER}) cups cooked")
_TOPICS = ("bean yield", "pasta yield")
_STATES = re.compile(r"\b(?:cooked|boiled|drained|dry|dried|uncooked)\b")
_BEANS = frozenset({"bean", "beans"})
# The beans that are dried, and words that make no other food of one: common practice, no source.
_KINDS = frozenset(
    {
        "kidney",
        "pinto",
        "black",
        "navy",
        "white",
        "red",
        "cannellini",
        "haricot",
        "great",
        "northern",
        "borlotti",
        "lima",
    }
)
_QUALITY = frozenset({"elbow", "pasta", "small", "large", "medium", "whole", "wheat", "wide"})


@dataclass(frozen=True, slots=True)
class Yield:
    """`amount` of `unit` of the dry food makes `cups` when cooked: about, as published by `source`."""

    food: str
    amount: Fraction
    unit: str
    cups: Fraction
    source: str


def cooked_cups(amount: Fraction, unit_name: str, item: str) -> Fraction | None:
    """About how many cups a dry food makes when cooked: cooked_cups(8, "ounce", "dry egg noodles") == 5/2.

    The first published yield whose measure is of the unit's kind (weight, volume). None where none is published. Raises
    MeasureError for an unknown unit or an amount that is not above 0.
    """
    for row in _for(item):
        if known_unit(unit_name).dimension == known_unit(row.unit).dimension:
            _check(amount)
            return convert(amount, unit_name, row.unit) / row.amount * row.cups
    return None


def before_cooking(amount: Fraction, unit_name: str, item: str) -> Yield | None:
    """What to cook for an amount by volume of a cooked food: 4 cups of cooked macaroni are 8 oz dry.

    The first published yield for the food; None where the item is not called cooked, is no volume, or none is
    published. Raises MeasureError for an amount that is not above 0.
    """
    measured = unit(unit_name)
    found = _for(item)
    if "cooked" not in item.lower().split() or not found or measured is None or measured.dimension != "volume":
        return None
    _check(amount)
    cups = convert(amount, unit_name, "cup")
    return Yield(found[0].food, found[0].amount * cups / found[0].cups, found[0].unit, cups, found[0].source)


def _check(amount: Fraction) -> None:
    if amount <= 0:
        raise MeasureError(f"{amount} is nothing to cook: an amount is above 0")


def _for(item: str) -> list[Yield]:
    """Yields for an item: of a dried bean of any kind, or of the pasta that has this name."""
    words = set(_STATES.sub(" ", item.lower()).replace(",", " ").split()) - _QUALITY
    if _BEANS & words and words - _BEANS <= _KINDS:
        return [one for _, one in _yields() if one.food == "beans"]
    return [one for names, one in _yields() if words in [name - _QUALITY for name in names]]


@cache
def _yields() -> tuple[tuple[tuple[frozenset[str], ...], Yield], ...]:
    """Each published yield with the names of the food it is of."""
    made = []
    for row in rows("worked_examples"):
        raw, cooked = _RAW.fullmatch(row["given"]), _COOKED.search(row["expected"])
        if row["topic"] not in _TOPICS or raw is None or cooked is None:
            continue
        food = raw[3]
        names = tuple(frozenset(name.split()) for name in re.split(r", | or ", food))
        made.append((names, Yield(food, _exact(raw[1]), known_unit(raw[2]).name, _exact(cooked[1]), row["source"])))
    return tuple(made)


def _exact(text: str) -> Fraction:
    return sum(map(Fraction, text.split()), Fraction(0))
