"""Units against NIST Handbook 44, Appendix C, with pint's own registry as a second oracle."""

from fractions import Fraction
from functools import cache
from itertools import combinations

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.measures import MeasureError, convert, unit
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


@cache
def pints_definitions() -> pint.UnitRegistry:
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
def test_sizes_equal_pints_own_definitions(name: str) -> None:
    """The size of each unit is exactly what pint's own definitions give it."""
    base = {"volume": "milliliter", "weight": "gram", "length": "centimeter"}
    found = unit(name)
    assert found is not None
    theirs = pints_definitions().Quantity(Fraction(1), PINT_NAMES[name]).to(base[found.dimension]).magnitude
    assert found.size == Fraction(theirs)


@pytest.mark.parametrize("row", rows("kitchen_units"), ids=lambda row: row["unit"])
def test_each_row_of_kitchen_units_converts_to_its_figure(row: dict[str, str]) -> None:
    """One of the row's unit, converted, is the table's figure digit for digit; each alias is that unit or a rival's.

    Where two rows claim one spelling the first row of the table has it: "dash" is 1/8 tsp as makers of measuring
    spoons mark it, and the Extension's half of that has a row with a longer name.
    """
    base = {"ml": "millilitre", "g": "gram", "each": "each"}[row["value_unit"]]
    assert convert(Fraction(1), row["unit"], base) == Fraction(row["value"])
    for alias in filter(None, row["aliases"].split(";")):
        found = unit(alias)
        assert found is not None
        if found.size != Fraction(row["value"]):
            claims = [
                other for other in rows("kitchen_units") if alias in (other["unit"], *other["aliases"].split(";"))
            ]
            assert Fraction(claims[0]["value"]) == found.size
            assert claims[0] != row


def test_every_pair_of_units_goes_there_and_back() -> None:
    """For all units of the table, a to b to a is the same fraction; units of two dimensions are refused."""
    every = [one.name for one in dict.fromkeys(units().values())]
    pairs = 0
    for a, b in combinations(every, 2):
        try:
            there = convert(Fraction(7, 3), a, b)
        except MeasureError:
            assert known_unit(a).dimension != known_unit(b).dimension
            continue
        assert isinstance(there, Fraction)
        assert convert(there, b, a) == Fraction(7, 3)
        pairs += 1
    assert pairs > 2000


@settings(max_examples=50)
@given(
    st.fractions(min_value=0, max_value=10**9, max_denominator=10**4),
    st.sampled_from(list(PINT_NAMES)),
    st.sampled_from(list(PINT_NAMES)),
)
def test_any_amount_converts_as_pints_own_registry_does(amount: Fraction, here: str, there: str) -> None:
    """Every pair of units that pint knows too: the same fraction as pint's own definitions give, there and back."""
    theirs = pints_definitions()
    one = known_unit(here), known_unit(there)
    if one[0].dimension != one[1].dimension:
        with pytest.raises(MeasureError):
            convert(amount, here, there)
        return
    found = convert(amount, here, there)
    assert found == Fraction(theirs.Quantity(amount, PINT_NAMES[here]).to(PINT_NAMES[there]).magnitude)
    assert convert(found, there, here) == amount
