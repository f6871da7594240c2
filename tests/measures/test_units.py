"""Units by name, and conversion between them."""

import subprocess
import sys
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.measures import MeasureError, Unit, convert, kitchen, measures_named, unit
from recipebox.measures.units import units

AMOUNTS = st.fractions(min_value=0, max_value=10000, max_denominator=64)
MEASURED = st.sampled_from([found for found in dict.fromkeys(units().values()) if found.dimension != "count"])


@given(AMOUNTS, MEASURED, MEASURED)
def test_conversion_is_exact_or_refused(amount: Fraction, here: Unit, there: Unit) -> None:
    """Converting there and back gives the very amount, as a fraction; different dimensions are refused in a line."""
    try:
        found = convert(amount, here.name, there.name)
    except MeasureError as error:
        assert here.dimension != there.dimension
        assert "\n" not in str(error)
        return
    assert here.dimension == there.dimension
    assert isinstance(found, Fraction)
    assert convert(found, there.name, here.name) == amount


@given(st.text(max_size=20))
def test_any_word_is_a_unit_or_none(word: str) -> None:
    """No string makes `unit` raise, and a unit it finds has a size above 0 and a source."""
    found = unit(word)
    assert found is None or (found.size > 0 and found.source)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("T", "tablespoon"),
        ("t", "teaspoon"),
        ("Tbsp.", "tablespoon"),
        ("CUPS", "cup"),
        ("fl. oz.", "fluid ounce"),
        ("lbs", "pound"),
        ("#", "pound"),
        ("Esslöffel", "Esslöffel"),
        ("stick", "stick"),
        ("milliliters", "millilitre"),
        ("inches", "inch"),
    ],
)
def test_spellings(written: str, name: str) -> None:
    """Abbreviations are told apart by case, T from t; whole words are not."""
    found = unit(written)
    assert found is not None
    assert found.name == name


def test_a_volume_is_no_weight() -> None:
    """Cups into grams needs a food: refused, and the line says so."""
    with pytest.raises(MeasureError, match="only by the item"):
        convert(Fraction(1), "cup", "gram")


@pytest.mark.parametrize(("amount", "name"), [(Fraction(1), "smoot"), (Fraction(-1), "cup"), (Fraction(1), "")])
def test_absurd_input_is_one_clear_line(amount: Fraction, name: str) -> None:
    """An unknown unit or an amount below nothing raises MeasureError with one line that says what to write."""
    with pytest.raises(MeasureError, match="write") as caught:
        convert(amount, name, "millilitre")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("header", "ml"),
    [
        (None, "14.78676478125"),
        ("Australian", "20"),
        ("metric cups", "15"),
        ("UK", "15"),
        ("US, cups", "14.78676478125"),
    ],
)
def test_whose_tablespoon(header: str | None, ml: str) -> None:
    """The measures header says whose spoons they are: an Australian tablespoon holds 20 ml, a metric one 15."""
    found = unit(measures_named(header).row("tablespoon"))
    assert found is not None
    assert found.size == Fraction(ml)


def test_pint_is_imported_only_when_something_is_converted() -> None:
    """Importing the room, footing and rounding leave pint alone, so that commands start at once."""
    code = (
        "import sys; from fractions import Fraction as F; from recipebox import measures as m;"
        "from recipebox.cards.model import Amount, Ingredient;"
        "m.footing(Ingredient('1 cup flour', amount=Amount(F(1), F(1)), unit='cup', item='flour'));"
        "m.kitchen(F(1, 3), 'cup', 'flour'); assert 'pint' not in sys.modules;"
        "m.convert(F(1), 'cup', 'tablespoon'); assert 'pint' in sys.modules"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False, timeout=60).returncode == 0


@pytest.mark.parametrize("half", ["1/2", 0.5, Fraction(1, 2), "0.5"])
def test_a_number_may_be_given_in_any_way(half: Fraction | float | str) -> None:
    """Text, a whole number, a decimal or a fraction: the answer is an exact fraction."""
    assert convert(half, "cup", "tablespoon") == 8
    assert isinstance(convert(half, "cup", "ml"), Fraction)
    assert kitchen(half, "cup", "flour").text == "1/2 cup"


@pytest.mark.parametrize("nonsense", ["a few", "1/0", float("nan"), float("inf"), ""])
def test_what_is_no_number_is_told_in_one_line(nonsense: float | str) -> None:
    """No traceback of Python's own for what a caller mistyped."""
    with pytest.raises(MeasureError, match="is not a number") as caught:
        convert(nonsense, "cup", "ml")
    assert "\n" not in str(caught.value)
