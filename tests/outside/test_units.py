"""Units against NIST Handbook 44, Appendix C, with pint's own registry as a second oracle."""

from fractions import Fraction
from itertools import combinations

import pint
import pytest

from recipebox.measures import MeasureError, convert, unit
from recipebox.measures.registry import ratio
from recipebox.measures.units import known_unit, units
from recipebox.tables.load import rows

# Names in pint's own definitions file of the units that Handbook 44 has.
PINT_NAMES = {
    "teaspoon": "teaspoon",
    "tablespoon": "tablespoon",
    "cup": "cup",
    "fluid ounce": "fluid_ounce",
    "pint": "pint",
    "quart": "quart",
    "gallon": "gallon",
    "gill": "gill",
    "dry pint": "dry_pint",
    "dry quart": "dry_quart",
    "ounce": "ounce",
    "pound": "pound",
    "kilogram": "kilogram",
    "gram": "gram",
    "millilitre": "milliliter",
    "litre": "liter",
    "imperial fluid ounce": "imperial_fluid_ounce",
    "imperial pint": "imperial_pint",
    "imperial quart": "imperial_quart",
    "imperial gallon": "imperial_gallon",
    "inch": "inch",
    "foot": "foot",
    "centimetre": "centimeter",
}


@pytest.fixture(scope="module")
def pints_own() -> pint.UnitRegistry:
    """pint's definitions as it ships them, in exact fractions."""
    return pint.UnitRegistry(non_int_type=Fraction)


# NIST Handbook 44, Appendix C, General Tables of Units of Measurement: units of liquid volume, dry volume and
# avoirdupois mass, in words of the next smaller unit.
HANDBOOK_44 = [
    ("gallon", 4, "quart"),
    ("quart", 2, "pint"),
    ("pint", 4, "gill"),
    ("gill", 4, "fluid ounce"),
    ("pint", 16, "fluid ounce"),
    ("gallon", 128, "fluid ounce"),
    ("cup", 8, "fluid ounce"),
    ("cup", 16, "tablespoon"),
    ("tablespoon", 3, "teaspoon"),
    ("dry quart", 2, "dry pint"),
    ("pound", 16, "ounce"),
    ("foot", 12, "inch"),
    ("kilogram", 1000, "gram"),
    ("litre", 10, "decilitre"),
    ("decilitre", 10, "centilitre"),
    ("centilitre", 10, "millilitre"),
]


@pytest.mark.parametrize(("large", "times", "small"), HANDBOOK_44)
def test_handbook_44_tables(large: str, times: int, small: str) -> None:
    """A unit holds exactly as many of the smaller one as NIST Handbook 44, Appendix C says."""
    assert convert(Fraction(1), large, small) == times


def test_a_gallon_is_231_cubic_inches() -> None:
    """NIST Handbook 44, Appendix C: 1 gallon = 231 cubic inches, 1 inch = 2.54 cm, 1 lb = 453.59237 g, exactly."""
    cubic_inch = convert(Fraction(1), "inch", "cm") ** 3
    assert convert(Fraction(1), "gal", "ml") == 231 * cubic_inch
    assert convert(Fraction(1), "lb", "g") == Fraction("453.59237")


def test_a_dry_pint_is_33_6003125_cubic_inches() -> None:
    """NIST Handbook 44, Appendix C: 1 dry pint = 33.600 312 5 cubic inches, exactly."""
    assert convert(Fraction(1), "dry pint", "ml") == Fraction("33.6003125") * Fraction("2.54") ** 3


@pytest.mark.parametrize("name", PINT_NAMES)
def test_sizes_equal_pints_own_definitions(name: str, pints_own: pint.UnitRegistry) -> None:
    """The size of each unit is exactly what pint's own definitions give it."""
    base = {"volume": "milliliter", "weight": "gram", "length": "centimeter"}
    found = unit(name)
    assert found is not None
    theirs = pints_own.Quantity(Fraction(1), PINT_NAMES[name]).to(base[found.dimension]).magnitude
    assert found.size == Fraction(theirs)


def test_the_registry_has_every_row_of_the_table() -> None:
    """What the pint registry made from the table says of each row is the table's figure, digit for digit."""
    base = {"ml": "millilitre", "g": "gram", "each": "each"}
    for row in rows("kitchen_units"):
        here, there = unit(row["unit"]), unit(base[row["value_unit"]])
        assert here is not None
        assert there is not None
        assert ratio(here, there) == Fraction(row["value"])


def test_converting_goes_there_and_back_through_anything() -> None:
    """For units of one dimension, a to b to c is a to c, and a to b to a is nothing changed."""
    measured = [one.name for one in dict.fromkeys(units().values()) if one.dimension in ("volume", "weight")]
    for a, b in combinations(measured[::3], 2):
        try:
            there = convert(Fraction(7, 3), a, b)
        except MeasureError:
            assert known_unit(a).dimension != known_unit(b).dimension
            continue
        assert convert(there, b, a) == Fraction(7, 3)
