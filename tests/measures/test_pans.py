"""Pans by volume and by area."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Amount, Measure, Pan
from recipebox.measures import MeasureError, convert, pan_area, pan_factor, pan_volume_ml

SIDES = st.fractions(min_value=1, max_value=30, max_denominator=8)
PANS = st.builds(
    Pan,
    text=st.just("tin"),
    count=st.integers(1, 3),
    shape=st.none() | st.sampled_from(["rectangle", "round", "loaf", "tube"]),
    sides=st.lists(SIDES, min_size=1, max_size=2).map(tuple),
    depth=st.none() | SIDES,
    unit=st.none() | st.sampled_from(["inch", "centimetre"]),
)


def pan(*sides: int, shape: str = "rectangle", count: int = 1, depth: int | None = None) -> Pan:
    """A pan in inches."""
    return Pan("", count, shape, tuple(map(Fraction, sides)), None if depth is None else Fraction(depth), "inch")


@given(PANS, PANS)
def test_factors_turn_round(old: Pan, new: Pan) -> None:
    """From one pan to another and back is 1 exactly; from a pan to itself is 1."""
    try:
        factor = pan_factor(old, new)
    except MeasureError:
        return
    assert pan_factor(new, old) == 1 / factor
    assert pan_factor(old, old) == 1


@given(PANS)
def test_two_pans_hold_twice_as_much(one: Pan) -> None:
    """Area and volume are of all the pans together."""
    two = Pan(one.text, one.count * 2, one.shape, one.sides, one.depth, one.unit)
    area, held = pan_area(one), pan_volume_ml(one)
    assert area is not None
    assert pan_area(two) == area * 2
    assert pan_volume_ml(two) == (None if held is None else held * 2)


def test_inches_and_centimetres_are_one_pan() -> None:
    """An 8 inch square and one of 20.32 cm are alike to the last digit."""
    metric = Pan("", 1, "rectangle", (Fraction("20.32"),) * 2, None, "centimetre")
    assert pan_area(metric) == pan_area(pan(8, 8))
    assert pan_volume_ml(metric) == pan_volume_ml(pan(8, 8))


def test_by_area_where_a_depth_is_missing_by_volume_where_both_are_known() -> None:
    """8 x 8 to 9 x 13 is 117/64 by area; given both depths it goes by what the sources say they hold."""
    assert pan_factor(pan(8, 8), pan(13, 9)) == Fraction(117, 64)
    deep = pan_factor(pan(8, 8, depth=2), pan(13, 9, depth=2))
    assert deep == Fraction(29, 2) / 8  # cups
    quarts = Pan("2 quart", volume=Measure(Amount(Fraction(2), Fraction(2)), "quart"))
    assert pan_factor(pan(8, 8, depth=2), quarts) == 1


def test_a_muffin_tin_counts_its_cups() -> None:
    """Twelve standard muffin cups hold 12 half cups."""
    found = pan_volume_ml(Pan("12-hole tin", 12, "muffin"))
    # test-kitchen pan list reprinted by state Extension services, from memory
    assert found == convert(Fraction(6), "cup", "ml")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (Pan("a big pan"), pan(9, 13)),
        (pan(0, 9), pan(9, 13)),
        (pan(-9, 13), pan(9, 13)),
        (pan(9, 13), Pan("", volume=Measure(Amount(Fraction(1), Fraction(1)), "pound"))),
        (pan(9, 13), Pan("", sides=(Fraction(9),), unit="cup")),
        (pan(9, 13), Pan("", volume=Measure(Amount(Fraction(1), Fraction(1)), "firkinette"))),
    ],
)
def test_absurd_pans_are_one_clear_line(old: Pan, new: Pan) -> None:
    """A pan of no size, a side of nothing, or pounds for a volume: one line that says what to write."""
    assert None in (pan_volume_ml(old), pan_volume_ml(new))
    with pytest.raises(MeasureError, match="write") as caught:
        pan_factor(old, new)
    assert "\n" not in str(caught.value)
