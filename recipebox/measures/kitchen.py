"""An exact amount as real measures make it, with how far off that is."""

import re
from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.measures.cans import is_fluid
from recipebox.measures.spoons import PINCH, nearest
from recipebox.measures.units import US, MeasureError, Measures, unit

TOLERANCE = Fraction(1, 20)  # an error above this is told in words
_TEASPOON = "teaspoon"
_SPOONS = frozenset({"teaspoon", "tablespoon", "cup", "gill", "saltspoon"})
_LARGE = {"pint": Fraction(2), "quart": Fraction(4), "half gallon": Fraction(8), "gallon": Fraction(16)}
_SHORT = {
    "teaspoon": "tsp",
    "tablespoon": "Tbsp",
    "fluid ounce": "fl oz",
    "ounce": "oz",
    "pound": "lb",
    "gram": "g",
    "kilogram": "kg",
    "milligram": "mg",
    "millilitre": "ml",
    "centilitre": "cl",
    "decilitre": "dl",
    "litre": "l",
    "centimetre": "cm",
    "millimetre": "mm",
}
_IRREGULAR = {"leaf": "leaves", "loaf": "loaves", "half": "halves", "inch": "inches", "foot": "feet"}

_NUMBER_AND_UNIT = re.compile(r"([\d /.]+?)(?: (\D+))?")
# Units for both ends of a range, with the parts of one that a kitchen measures.
_ONE_UNIT = dict.fromkeys(_SPOONS, (("cup", (4, 3)), ("tablespoon", (2,)), ("teaspoon", (4, 3)))) | dict.fromkeys(
    ("pound", "ounce"), (("pound", (4, 3)), ("ounce", (4,)))
)


@dataclass(frozen=True, slots=True)
class Shown:
    """What to write: `text` ("1/2 cup + 2 Tbsp"), its exact `amount` in `unit`, and `error` = (shown - exact)/exact.

    An error above 5 % is said in the text: scant (a little less than this is wanted), generous, or about.
    """

    text: str
    amount: Fraction
    unit: str | None
    error: Fraction

    @property
    def rounded(self) -> bool:
        """Whether what is shown is not exact."""
        return self.error != 0


def kitchen(amount: Fraction, unit_name: str | None, item: str, which: Measures | None = None) -> Shown:
    """The nearest amount that a kitchen's measures make, in the unit given or a handier one of the same kind.

    US spoons and cups change into one another; pounds and ounces, grams and kilograms, millilitres and litres too.
    Cups of other countries (`which`) and units with no usual steps keep their unit. Raises MeasureError for an amount
    that is not above 0.
    """
    if amount <= 0:
        raise MeasureError(f"{amount} {unit_name or item} is nothing to measure: an amount is above 0")
    found = unit(unit_name) if unit_name else None
    name = found.name if found is not None else unit_name
    if name in _SPOONS and (which or US).row(name) == name:
        return _spoons(amount, name)
    if name in _LARGE and (which or US).row(name) == name:
        return _large(amount, name)
    if name == "fluid ounce" or (name == "ounce" and is_fluid(item)):
        shown = _nearest_ounces(amount)
        return _said(f"{write_amount(shown)} fl oz", shown, name, amount)
    if name in ("pound", "ounce"):
        return _pounds(amount, name)
    if name in ("gram", "kilogram", "millilitre", "litre"):
        return _metric(amount, name)
    return _counted(amount, name, item)


def kitchen_range(
    low: Fraction, high: Fraction, unit_name: str | None, item: str, which: Measures | None = None
) -> Shown:
    """A range, both ends in one unit where a kitchen has both so: "1/2 to 1 Tbsp", "6 to 9 Tbsp".

    `amount` is the low end shown; `error` the larger of both. Raises MeasureError for an end that is not above 0.
    """
    ends = kitchen(low, unit_name, item, which), kitchen(high, unit_name, item, which)
    error = max((end.error for end in ends), key=abs)
    if ends[0].text == ends[1].text:
        return Shown(ends[0].text, ends[0].amount, unit_name, error)
    numbers = [_NUMBER_AND_UNIT.fullmatch(end.text) for end in ends]
    first, second = numbers
    if first and second and _one_word(first[2]) == _one_word(second[2]):
        return Shown(f"{first[1]} to {ends[1].text}", ends[0].amount, unit_name, error)
    found = unit(unit_name) if unit_name else None
    for other, parts in _ONE_UNIT.get(found.name, ()) if found is not None else ():
        if found is None or (which or US).row(found.name) != found.name:
            break
        exact = [end * found.size / _size(other) for end in (low, high)]
        tried = [_in_one_unit(end, parts) for end in exact]
        off = [shown / end - 1 for shown, end in zip(tried, exact, strict=True)]
        if tried[0] < tried[1] and max(map(abs, off)) <= TOLERANCE:
            text = f"{write_amount(tried[0])} to {write_amount(tried[1])} {plural(other, tried[1])}"
            return Shown(text, tried[0] * _size(other) / found.size, unit_name, max(off, key=abs))
    return Shown(f"{ends[0].text} to {ends[1].text}", ends[0].amount, unit_name, error)


def plural(name: str, amount: Fraction) -> str:
    """A unit's written form beside an amount: "cups", "tsp", "leaves"."""
    if name in _SHORT:
        return _SHORT[name]
    if amount <= 1 or name[-1:] == "s" or not name[-1:].isascii():
        return name
    if name in _IRREGULAR:
        return _IRREGULAR[name]
    return f"{name}es" if name.endswith(("ch", "sh", "x")) else f"{name}s"


def _spoons(amount: Fraction, name: str) -> Shown:
    size, teaspoon = _size(name), _size(_TEASPOON)
    exact = amount * size / teaspoon
    if exact < PINCH * 3 / 4:
        return Shown("less than a pinch", PINCH * teaspoon / size, name, PINCH / exact - 1)
    found = nearest(exact, TOLERANCE)
    error = found.size / exact - 1
    text = found.text
    if abs(error) > TOLERANCE:
        text = f"{'scant' if error > 0 else 'generous'} {text.removeprefix('a ')}"
    return Shown(text, found.size * teaspoon / size, name, error)


def _large(amount: Fraction, name: str) -> Shown:
    """Pints, quarts and gallons: in the unit given by quarters, else in quarts and cups, or cups alone."""
    cups = amount * _LARGE[name]
    if amount >= 1 and (amount * 4).denominator == 1:
        return Shown(f"{write_amount(amount)} {plural(name, amount)}", amount, name, Fraction(0))
    if cups < 4:
        inner = _spoons(cups, "cup")
        return Shown(inner.text, inner.amount / _LARGE[name], name, inner.error)
    quarts, rest = divmod(_nearest_step(cups, Fraction(1, 4) if cups < 12 else Fraction(1, 2)), 4)
    whole = f"{quarts} {plural('quart', Fraction(quarts))}"
    text = f"{whole} + {write_amount(rest)} {plural('cup', rest)}" if rest else whole
    shown = (quarts * 4 + rest) / _LARGE[name]
    return Shown(text, shown, name, shown / amount - 1)


def _pounds(amount: Fraction, name: str) -> Shown:
    """Pounds by quarters and thirds where exact, else pounds and ounces; ounces by 1/8, from 2 1/2 on by 1/4.

    Rounding ounces to the nearest quarter is what the Armed Forces Recipe Service prints (worked_examples.csv).
    """
    ounces = amount * 16 if name == "pound" else amount
    pounds = ounces / 16
    per = Fraction(16) if name == "pound" else Fraction(1)
    tidy = (pounds * 4).denominator == 1 or (name == "pound" and (pounds * 3).denominator == 1)
    if tidy and (pounds >= 1 or name == "pound"):
        return Shown(f"{write_amount(pounds)} lb", amount, name, Fraction(0))
    shown = _nearest_ounces(ounces)
    whole, rest = divmod(shown, 16)
    if whole and ounces >= 16:
        text = f"{whole} lb {write_amount(rest)} oz" if rest else f"{whole} lb"
    else:
        text = f"{write_amount(shown)} oz"
    return _said(text, shown / per, name, amount)


def _nearest_ounces(ounces: Fraction) -> Fraction:
    if ounces >= Fraction(5, 2):
        return _nearest_step(ounces, Fraction(1, 4))
    steps = [
        _nearest_step(ounces, Fraction(1, part)) or Fraction(1, part)
        for part in (4, 3, 8, 16)[: 4 if ounces < 1 else 3]
    ]
    return min(steps, key=lambda step: (abs(step - ounces), step.denominator))


def _metric(amount: Fraction, name: str) -> Shown:
    """Grams and millilitres to 1, 5 or 10 by size; from 1000 in kilograms and litres, to 50."""
    large = name in ("kilogram", "litre")
    small_name, large_name = ("gram", "kilogram") if name in ("gram", "kilogram") else ("millilitre", "litre")
    exact = amount * 1000 if large else amount
    if exact.denominator == 1 and (exact < 1000 or exact % 10 == 0):
        shown = exact
    else:
        steps = ((1, Fraction(1, 20)), (5, Fraction(1, 10)), (10, Fraction(1, 2)), (50, 1), (250, 5), (1000, 10))
        step = next((Fraction(step) for below, step in steps if exact < below), Fraction(50))
        shown = max(_nearest_step(exact, step), step)
    if shown >= 1000:
        text = f"{_decimal(shown / 1000)} {_SHORT[large_name]}"
    else:
        text = f"{_decimal(shown)} {_SHORT[small_name]}"
    return _said(text, shown / 1000 if large else shown, name, amount)


def _counted(amount: Fraction, name: str | None, item: str) -> Shown:
    """Things counted, and units with no smaller brother: by quarters and thirds, from 10 on whole; eggs by halves."""
    halves_only = "egg" in item.lower().split() or "eggs" in item.lower().split()
    if amount >= 10:
        shown = _nearest_step(amount, Fraction(1))
    elif halves_only:
        shown = max(_nearest_step(amount, Fraction(1, 2)), Fraction(1, 2))
    else:
        parts = (4, 3) if amount >= 2 else (4, 3, 8)
        steps = [_nearest_step(amount, Fraction(1, part)) or Fraction(1, 8) for part in parts]
        shown = min(steps, key=lambda step: (abs(step - amount), step.denominator))
    text = write_amount(shown) if name is None else f"{write_amount(shown)} {plural(name, shown)}"
    return _said(text, shown, name, amount)


def _said(text: str, shown: Fraction, name: str | None, exact: Fraction) -> Shown:
    error = shown / exact - 1
    return Shown(f"about {text}" if abs(error) > TOLERANCE else text, shown, name, error)


def _one_word(unit_text: str | None) -> str:
    return (unit_text or "").removesuffix("s").removesuffix("e")


def _in_one_unit(amount: Fraction, parts: tuple[int, ...]) -> Fraction:
    return min((_nearest_step(amount, Fraction(1, part)) for part in parts), key=lambda step: abs(step - amount))


def _nearest_step(amount: Fraction, step: Fraction) -> Fraction:
    return (amount / step + Fraction(1, 2)) // 1 * step


def _decimal(number: Fraction) -> str:
    whole, rest = divmod(number, 1)
    if not rest:
        return str(whole)
    thousandths = int(rest * 1000)
    return f"{whole}.{thousandths:03d}".rstrip("0")


def _size(name: str) -> Fraction:
    found = unit(name)
    if found is None:
        raise MeasureError(f"no table knows the unit {name}")
    return found.size
