"""Dry to cooked and back; the published rows themselves are tried in tests/outside/test_worked_examples.py."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.measures import MeasureError, before_cooking, cooked_cups

AMOUNTS = st.fractions(min_value=Fraction(1, 8), max_value=100, max_denominator=16)


@given(AMOUNTS, st.sampled_from(["macaroni", "egg noodles", "kidney beans"]), st.sampled_from(["cup", "quart", "ml"]))
def test_there_and_back(amount: Fraction, food: str, name: str) -> None:
    """What is to be cooked for an amount, cooked, is that amount."""
    dry = before_cooking(amount, name, f"cooked {food}")
    assert dry is not None
    assert cooked_cups(dry.amount, dry.unit, f"dry {food}") == dry.cups
    assert dry.source


@pytest.mark.parametrize(
    ("name", "item"),
    [
        ("cup", "macaroni"),  # not called cooked
        ("gram", "cooked macaroni"),
        ("cup", "cooked rice"),
        ("cup", "cooked green beans"),
        ("cup", "cooked taco shells"),
        ("smoot", "cooked macaroni"),
    ],
)
def test_no_published_yield_no_answer(name: str, item: str) -> None:
    """What no row is of is not guessed from a food of a like name."""
    assert before_cooking(Fraction(1), name, item) is None


@pytest.mark.parametrize(("amount", "name"), [("0", "ounce"), ("-1", "ounce"), ("1", "smoot")])
def test_absurd_amounts_are_one_clear_line(amount: str, name: str) -> None:
    """Nothing, less than nothing and an unknown unit raise MeasureError with one line."""
    with pytest.raises(MeasureError) as caught:
        cooked_cups(Fraction(amount), name, "dry macaroni")
    assert "\n" not in str(caught.value)


def test_coffee_beans_are_not_cooked() -> None:
    """Beans that nobody boils have no yield."""
    assert cooked_cups(Fraction(1), "pound", "coffee beans") is None
    assert cooked_cups(Fraction(1), "pound", "vanilla beans") is None
