"""Oven heats on one scale."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Amount, Bake, Heat
from recipebox.measures import MeasureError, bake_fahrenheit, celsius, fahrenheit, kitchen_celsius

DEGREES = st.integers(min_value=-100, max_value=600)


@given(DEGREES, st.booleans())
def test_both_scales_agree_exactly(degrees: int, fan: bool) -> None:
    """Fahrenheit of a heat and its Celsius are one heat, exactly, whichever was written."""
    for scale in ("F", "C"):
        heat = Heat(scale, Amount(Fraction(degrees), Fraction(degrees)), fan)
        f, c = fahrenheit(heat), celsius(heat)
        assert f is not None
        assert c is not None
        assert f == c * 9 / 5 + 32


@given(st.text(max_size=30))
def test_unknown_words_are_no_heat(words: str) -> None:
    """Words the table does not have give no figure, and never an error."""
    found = fahrenheit(Heat("words", words=words))
    assert found is None or 200 <= found <= 500


def test_words_joined_by_to_lie_between() -> None:
    """A moderate to hot oven lies between a moderate one and a hot one."""
    between, moderate, hot = (fahrenheit(Heat("words", words=w)) for w in ("moderate to hot", "moderate", "hot oven"))
    assert between is not None
    assert moderate is not None
    assert hot is not None
    assert moderate < between < hot


@pytest.mark.parametrize("heat", [Heat("F"), Heat("gas", Amount(Fraction(42), Fraction(42))), Heat("words")])
def test_no_figure_no_guess(heat: Heat) -> None:
    """A heat without a figure, or a gas mark no oven has, is not known."""
    assert fahrenheit(heat) is None
    assert celsius(heat) is None


def test_a_range_stands_on_its_middle() -> None:
    """350 to 375 F is 362.5."""
    assert fahrenheit(Heat("F", Amount(Fraction(350), Fraction(375)))) == Fraction(725, 2)


def test_a_bake_without_settings_has_no_heat() -> None:
    """A bake that gives only minutes has no heat to compare."""
    assert bake_fahrenheit(Bake("25 minutes", 1)) is None


def test_colder_than_cold_is_refused() -> None:
    """A figure below absolute zero is no heat, and is not written on a dial."""
    assert fahrenheit(Heat("C", Amount(Fraction(-300), Fraction(-300)))) is None
    with pytest.raises(MeasureError, match="colder"):
        kitchen_celsius(Fraction(-500))
