"""An exact amount as real measures make it, with how far off that is."""

import re
from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.measures.cans import is_fluid
from recipebox.measures.household import is_fat
from recipebox.measures.scales import METRIC, metric, nearest_ounces, nearest_part, own_or_metric, pounds
from recipebox.measures.shown import TOLERANCE, Shown, about, nearest_step
from recipebox.measures.spoons import PINCH, Spoons, nearest
from recipebox.measures.spoonsets import plain_spoons, spoons_of, teaspoon_ml
from recipebox.measures.units import US, MeasureError, Measures, Number, Unit, exact, known_unit, unit
from recipebox.measures.written import plural

_LARGE = {"pint": Fraction(2), "quart": Fraction(4), "half gallon": Fraction(8), "gallon": Fraction(16)}
_STICK = Fraction(24)  # teaspoons: kitchen_units.csv, a stick is 1/2 cup
_NEAR = Fraction(1, 50)  # an own part this near is taken before spoons are added
_PARTS = (Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3), Fraction(3, 4))

_NUMBER_AND_UNIT = re.compile(r"([\d /.]+?)(?: (\D+))?")
# Units for both ends of a range, with the parts of one that a kitchen measures.
_ONE_UNIT = dict.fromkeys(
    ("teaspoon", "tablespoon", "cup"), (("cup", (4, 3)), ("tablespoon", (2,)), ("teaspoon", (4, 3)))
) | dict.fromkeys(("pound", "ounce"), (("pound", (4, 3)), ("ounce", (4,))))

_MOST_OF = {"tablespoon": Fraction(12), "teaspoon": Fraction(9)}  # nobody counts out more spoons than that


def kitchen(amount: Number, unit_name: str | None, item: str, which: Measures | None = None) -> Shown:
    """The nearest amount that a kitchen's measures make, in the unit given or a handier one of the same kind.

    Spoons and cups of one country (`which`, US if None) change into one another; pounds and ounces, grams and
    kilograms, millilitres and litres too. What its own parts don't reach is told with spoons ("1 pint + 2 Tbsp") or in
    grams. An unknown unit, and a stick of anything but butter, is counted and never changed. Raises MeasureError for
    an amount that is no number or not above 0.
    """
    amount = exact(amount)
    if amount <= 0:
        raise MeasureError(f"{amount} {unit_name or item} is nothing to measure: an amount is above 0")
    measures = which or US
    found = unit(unit_name) if unit_name else None
    if found is None or found.dimension in ("count", "length") or (found.name == "stick" and not is_fat(item)):
        return _counted(amount, found.name if found is not None else unit_name)
    name = found.name
    if name == "fluid ounce" or (name == "ounce" and is_fluid(item)):
        return _fluid_ounces(amount, name, measures)
    if found.dimension == "weight":
        return _weighed(amount, found, measures)
    spoons = spoons_of(name, measures)
    if spoons is not None:
        return _spoons(amount, name, measures, spoons[1], spoons[0])
    if name in _LARGE and measures.row(name) == name:
        return _large(amount, name, measures)
    if name in METRIC:
        return metric(amount, name)
    if name in ("decilitre", "centilitre"):
        return own_or_metric(amount, found)
    return _and_spoons(amount, name, known_unit(measures.row(name)), measures)


def heaped(amount: Fraction, unit_name: str) -> Shown:
    """Heaped or scant spoons and cups, which stay what they are: four heaped spoons are no heaped quarter cup.

    Raises MeasureError for an amount that is not above 0.
    """
    if amount <= 0:
        raise MeasureError(f"{amount} {unit_name} is nothing to measure: an amount is above 0")
    return _counted(amount, unit_name)


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
        exact = [end * found.size / known_unit(other).size for end in (low, high)]
        tried = [_in_one_unit(end, parts) for end in exact]
        off = [shown / end - 1 for shown, end in zip(tried, exact, strict=True)]
        if tried[0] < tried[1] <= _MOST_OF.get(other, tried[1]) and max(map(abs, off)) <= TOLERANCE:
            text = f"{write_amount(tried[0])} to {write_amount(tried[1])} {plural(other, tried[1])}"
            return Shown(text, tried[0] * known_unit(other).size / found.size, unit_name, max(off, key=abs))
    return Shown(f"{ends[0].text} to {ends[1].text}", ends[0].amount, unit_name, error)


def _spoons(amount: Fraction, name: str, measures: Measures, teaspoons: Fraction, spoons: Spoons) -> Shown:
    """Spoons and cups, one `name` being so many `teaspoons`."""
    exact = amount * teaspoons
    if exact < PINCH * 3 / 4:
        return Shown("less than a pinch", PINCH / teaspoons, name, PINCH / exact - 1)
    found = nearest(exact, TOLERANCE, spoons)
    error = found.size / exact - 1
    text = found.text
    if abs(error) > TOLERANCE:
        text = f"{'scant' if error > 0 else 'generous'} {text.removeprefix('a ')}"
    return Shown(text, found.size / teaspoons, name, error)


def _fluid_ounces(amount: Fraction, name: str, measures: Measures) -> Shown:
    """Fluid ounces by quarters, or in spoons below one and where no part of one comes near."""
    shown = nearest_ounces(amount)
    teaspoons = known_unit(measures.row("fluid ounce")).size / teaspoon_ml(measures)
    if amount < Fraction(5, 2) and (amount < 1 or abs(shown / amount - 1) > _NEAR) and (amount * 4).denominator > 1:
        return _spoons(amount, name, measures, teaspoons, plain_spoons(measures))
    return about(f"{write_amount(shown)} fl oz", shown, name, amount)


def _weighed(amount: Fraction, found: Unit, measures: Measures) -> Shown:
    if found.name in ("pound", "ounce"):
        return pounds(amount, found.name)
    if found.name in METRIC:
        return metric(amount, found.name)
    if found.name != "stick":
        return own_or_metric(amount, found)
    if (amount * 4).denominator == 1:
        return Shown(f"{write_amount(amount)} {plural('stick', amount)}", amount, "stick", Fraction(0))
    return _plus_spoons(amount, Fraction(amount // 1), "stick", US, _STICK)


def _large(amount: Fraction, name: str, measures: Measures) -> Shown:
    """Pints, quarts and gallons: in the unit given by quarters, else in quarts and cups, or cups alone."""
    cups = amount * _LARGE[name]
    if amount >= 1 and (amount * 4).denominator == 1:
        return Shown(f"{write_amount(amount)} {plural(name, amount)}", amount, name, Fraction(0))
    if cups < 4:
        return _spoons(amount, name, measures, _LARGE[name] * 48, plain_spoons(measures))
    quarts, rest = divmod(nearest_step(cups, Fraction(1, 4) if cups < 12 else Fraction(1, 2)), 4)
    whole = f"{quarts} {plural('quart', Fraction(quarts))}"
    text = f"{whole} + {write_amount(rest)} {plural('cup', rest)}" if rest else whole
    shown = (quarts * 4 + rest) / _LARGE[name]
    return Shown(text, shown, name, shown / amount - 1)


def _and_spoons(amount: Fraction, name: str, found: Unit, measures: Measures) -> Shown:
    """A volume with no smaller brother: by its own quarters and thirds, else the part below with spoons added."""
    own = nearest_part(amount)
    if abs(own / amount - 1) <= _NEAR or found.size < teaspoon_ml(measures) or amount >= 20:
        return about(f"{write_amount(own)} {plural(name, own)}", own, name, amount)
    whole = Fraction(amount // 1)
    ounce = known_unit(measures.row("fluid ounce")).size
    if found.name.startswith("imperial") and found.size > ounce:
        # A measuring jug in Britain is marked in fluid ounces, 20 to the pint: common practice, no source.
        ounces = (amount - whole) * found.size / ounce
        shown = nearest_step(ounces, Fraction(1, 2))
        if shown and abs((shown - ounces) * ounce) <= _NEAR * amount * found.size:
            pints = f"{whole} {plural(name, whole)} + " if whole else ""
            return about(f"{pints}{write_amount(shown)} fl oz", whole + shown * ounce / found.size, name, amount)
    below = max(whole + part for part in (Fraction(0), *_PARTS) if whole + part <= amount)
    return _plus_spoons(amount, below, name, measures, found.size / teaspoon_ml(measures))


def _plus_spoons(amount: Fraction, below: Fraction, name: str, measures: Measures, teaspoons: Fraction) -> Shown:
    """`below` of a unit, and the rest of the amount in spoons, one of the unit being so many `teaspoons`."""
    if not below:
        return _spoons(amount, name, measures, teaspoons, plain_spoons(measures))
    rest = nearest((amount - below) * teaspoons, TOLERANCE, plain_spoons(measures), of=amount * teaspoons)
    text = f"{write_amount(below)} {plural(name, below)} + {rest.text}"
    return about(text, below + rest.size / teaspoons, name, amount)


def _counted(amount: Fraction, name: str | None) -> Shown:
    """Things counted, and units no table knows: by quarters and thirds, below 2 by eighths, sixths, from 10 whole."""
    if amount >= 10:
        shown = nearest_step(amount, Fraction(1))
    else:
        parts = (4, 3) if amount >= 2 else (4, 3, 8, 6)
        steps = [nearest_step(amount, Fraction(1, part)) or Fraction(1, 8) for part in parts]
        shown = min(steps, key=lambda step: (abs(step - amount), step.denominator))
    text = write_amount(shown) if name is None else f"{write_amount(shown)} {plural(name, shown)}"
    return about(text, shown, name, amount)


def _one_word(unit_text: str | None) -> str:
    return (unit_text or "").removesuffix("s").removesuffix("e")


def _in_one_unit(amount: Fraction, parts: tuple[int, ...]) -> Fraction:
    return min((nearest_step(amount, Fraction(1, part)) for part in parts), key=lambda step: abs(step - amount))
