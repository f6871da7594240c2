"""Amounts as a kitchen's scale and measuring jug show them: pounds, ounces, grams, millilitres."""

from dataclasses import replace
from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.measures.shown import Shown, about, nearest_step
from recipebox.measures.units import Unit, known_unit
from recipebox.measures.written import decimal, plural

_NEAR = Fraction(1, 50)  # an own step this near is taken before another unit
_KILO = {"gram": "kilogram", "millilitre": "litre"}
METRIC = frozenset({*_KILO, *_KILO.values()})


def pounds(amount: Fraction, name: str) -> Shown:
    """Pounds by quarters and thirds where exact, else pounds and ounces; ounces by 1/8, from 2 1/2 on by 1/4.

    Rounding ounces to the nearest quarter is what the Armed Forces Recipe Service prints (worked_examples.csv). Less
    than an ounce that no such step comes near is told in grams, as a kitchen scale shows it.
    """
    ounces = amount * 16 if name == "pound" else amount
    whole_pounds = ounces / 16
    per = Fraction(16) if name == "pound" else Fraction(1)
    tidy = (whole_pounds * 4).denominator == 1 or (name == "pound" and (whole_pounds * 3).denominator == 1)
    if tidy and (whole_pounds >= 1 or name == "pound"):
        return Shown(f"{write_amount(whole_pounds)} lb", amount, name, Fraction(0))
    shown = nearest_ounces(ounces)
    if ounces < Fraction(5, 2) and abs(shown / ounces - 1) > _NEAR:
        return in_grams(amount, known_unit(name))
    whole, rest = divmod(shown, 16)
    if whole and ounces >= 16:
        text = f"{whole} lb {write_amount(rest)} oz" if rest else f"{whole} lb"
    else:
        text = f"{write_amount(shown)} oz"
    return about(text, shown / per, name, amount)


def nearest_ounces(ounces: Fraction) -> Fraction:
    """Ounces by quarters from 2 1/2 on; below that by quarters, thirds or eighths, whichever is nearest."""
    if ounces >= Fraction(5, 2):
        return nearest_step(ounces, Fraction(1, 4))
    steps = [nearest_step(ounces, Fraction(1, part)) or Fraction(1, part) for part in (4, 3, 8)]
    return min(steps, key=lambda step: (abs(step - ounces), step.denominator))


def metric(amount: Fraction, name: str) -> Shown:
    """Grams and millilitres to 1, 5 or 10 by size, to 1 where that is over 2 % off; from 1000 in kilograms, to 50."""
    large = name in _KILO.values()
    small_name = name if not large else next(small for small, kilo in _KILO.items() if kilo == name)
    exact = amount * 1000 if large else amount
    if exact.denominator == 1 and (exact < 1000 or exact % 10 == 0):
        shown = exact
    else:
        steps = ((1, Fraction(1, 20)), (5, Fraction(1, 10)), (10, Fraction(1, 2)), (50, 1), (250, 5), (1000, 10))
        step = next((Fraction(step) for below, step in steps if exact < below), Fraction(50))
        shown = max(nearest_step(exact, step), step)
        if step > 1 and abs(shown / exact - 1) > _NEAR:
            shown = nearest_step(exact, Fraction(1))
    if shown >= 1000:
        text = f"{decimal(shown / 1000)} {plural(_KILO[small_name], shown)}"
    else:
        text = f"{decimal(shown)} {plural(small_name, shown)}"
    return about(text, shown / 1000 if large else shown, name, amount)


def own_or_metric(amount: Fraction, found: Unit) -> Shown:
    """A unit with no smaller brother, in its own quarters and thirds if those come near, else in grams or ml."""
    own = nearest_part(amount)
    if abs(own / amount - 1) <= _NEAR:
        return Shown(f"{write_amount(own)} {plural(found.name, own)}", own, found.name, own / amount - 1)
    return in_grams(amount, found)


def in_grams(amount: Fraction, found: Unit) -> Shown:
    """The amount in grams (millilitres of a volume), still counted in the unit given."""
    shown = metric(amount * found.size, "gram" if found.dimension == "weight" else "millilitre")
    return replace(shown, amount=shown.amount / found.size, unit=found.name)


def nearest_part(amount: Fraction) -> Fraction:
    """The nearest quarter or third of a whole, at least a quarter; whole ones from 20 on."""
    if amount >= 20:
        return nearest_step(amount, Fraction(1))
    steps = [nearest_step(amount, Fraction(1, part)) or Fraction(1, 4) for part in (4, 3)]
    return min(steps, key=lambda step: (abs(step - amount), step.denominator))
