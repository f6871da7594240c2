"""The one pint registry, made from kitchen_units.csv. Importing this module imports pint: do it inside a function."""

from fractions import Fraction
from functools import cache
from typing import Any

import pint

from recipebox.measures.units import MeasureError, Unit, units

_BASES = {"volume": "centimetre ** 3", "weight": "gram_base", "count": "each_base", "length": "centimetre"}


def ratio(here: Unit, there: Unit) -> Fraction:
    """How many of `there` one `here` is, exactly. Raises MeasureError where their dimensions differ."""
    made = registry()
    quantity = made.Quantity(Fraction(1), identifier(here))
    try:
        return Fraction(quantity.to(identifier(there)).magnitude)
    except pint.DimensionalityError as error:
        raise MeasureError(
            f"{here.name} measures {here.dimension} and {there.name} {there.dimension}: "
            "one becomes the other only by the item"
        ) from error


@cache
def registry() -> Any:
    """The registry: kitchen units only, exact fractions, a millilitre being a cubic centimetre."""
    made: Any = pint.UnitRegistry(None, non_int_type=Fraction, cache_folder=None)
    for base in ("centimetre = [length]", "gram_base = [mass]", "each_base = [count]"):
        made.define(base)
    for found in dict.fromkeys(units().values()):
        name = identifier(found)
        if name != "centimetre":
            made.define(f"{name} = {found.size.numerator} / {found.size.denominator} * {_BASES[found.dimension]}")
    return made


def identifier(found: Unit) -> str:
    """A unit's name as pint allows one: letters and digits only."""
    if found.name == "centimetre":
        return found.name
    return "u_" + "".join(letter if letter.isalnum() else f"_{ord(letter):x}_" for letter in found.name)
