"""How many times one line's amount is another's."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Amount, Ingredient, Measure
from recipebox.measures import compare_amounts, scale_ingredient

POSITIVE = st.fractions(min_value=Fraction(1, 16), max_value=64, max_denominator=48)


def line(number: str | Fraction, unit: str | None, item: str, preparation: str | None = None) -> Ingredient:
    """A line of one amount."""
    value = Fraction(number)
    return Ingredient("", amount=Amount(value, value), unit=unit, item=item, preparation=preparation)


@given(POSITIVE, POSITIVE, st.sampled_from(["cup", "gram", "can", "clove", None]), st.sampled_from(["garlic", "zzz"]))
def test_a_scaled_line_compares_as_its_factor(amount: Fraction, factor: Fraction, unit: str | None, item: str) -> None:
    """A line against itself scaled is exactly the factor, the other way round its inverse, and never approximate."""
    one = line(amount, unit, item)
    other = scale_ingredient(one, factor)
    there, back = compare_amounts(one, other), compare_amounts(other, one)
    assert there is not None
    assert back is not None
    assert (there.value, there.approximate) == (factor, False)
    assert back.value == 1 / factor


@pytest.mark.parametrize(
    ("a", "b", "low", "high", "approximate"),
    [
        (line("1", "cup", "butter"), line("2", "stick", "butter"), "0.99", "1.01", True),
        (line("2", "cup", "flour"), line("250", "gram", "plain flour"), "0.99", "1.01", True),
        (line("1", "cup", "milk"), line("240", "millilitre", "milk"), "1.01", "1.02", False),
        (line("1", "pound", "potatoes"), line("453.59237", "gram", "potato"), "1", "1", False),
        (line("2", "clove", "garlic"), line("2", "teaspoon", "garlic"), "0.9", "1", True),
        (line("1", "cup", "cheddar cheese", "grated"), line("4", "ounce", "cheddar"), "0.99", "1.01", True),
        (line("3", None, "eggs"), line("3", None, "large eggs"), "1", "1", False),
        (line("2", None, "large onions"), line("2", None, "small onions"), "0.4", "0.5", True),
        (line("2", None, "large onions"), line("2", None, "onions"), "1", "1", False),
        (line("1", "dozen", "eggs"), line("6", None, "eggs"), "1/2", "1/2", False),
    ],
)
def test_cups_grams_and_counts_meet(a: Ingredient, b: Ingredient, low: str, high: str, approximate: bool) -> None:
    """Amounts in different kinds of measure meet on one footing, marked approximate where a weight table was used."""
    found = compare_amounts(a, b)
    assert found is not None
    assert Fraction(low) <= found.value <= Fraction(high)
    assert found.approximate == approximate


def test_printed_cans_compare_by_weight() -> None:
    """A 10.75 oz can against a 10.5 oz one is 42/43, not one can for one."""
    cans = [
        Ingredient("", amount=Amount(Fraction(1), Fraction(1)), unit="can", item="tomato soup",
                   container=Measure(Amount(Fraction(size), Fraction(size)), "ounce"))
        for size in ("10.75", "10.5")
    ]  # fmt: skip
    found = compare_amounts(*cans)
    assert found is not None
    assert (found.value, found.approximate) == (Fraction(42, 43), False)


@pytest.mark.parametrize(
    ("a", "b"),
    [
        (line("1", "cup", "dragon fruit"), line("100", "gram", "dragon fruit")),
        (line("1", "cup", "milk"), Ingredient("milk", item="milk")),
        (line("0", "cup", "milk"), line("1", "cup", "milk")),
        (line("1", "bunch", "cilantro"), line("1", "cup", "zzz")),
    ],
)
def test_no_common_footing_no_answer(a: Ingredient, b: Ingredient) -> None:
    """Without a row, an amount or anything to divide by, there is no ratio."""
    assert compare_amounts(a, b) is None


def test_drained_cans_compare_by_what_is_printed() -> None:
    """A 15 oz can of beans drained and one of 30 oz undrained are one to two: the cook opens half as much."""
    cans = [
        Ingredient("", amount=Amount(Fraction(1), Fraction(1)), unit="can", item="chickpeas", preparation=preparation,
                   container=Measure(Amount(Fraction(size), Fraction(size)), "ounce"))
        for size, preparation in ((15, "drained"), (30, None))
    ]  # fmt: skip
    found = compare_amounts(*cans)
    assert found is not None
    assert (found.value, found.approximate) == (2, False)
