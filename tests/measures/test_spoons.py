"""The grid of spoons and cups."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from recipebox.measures.spoons import nearest

SPOONS = st.fractions(min_value=Fraction(1, 16), max_value=800, max_denominator=96)


@given(SPOONS)
def test_from_a_teaspoon_up_something_lies_within_5_per_cent(teaspoons: Fraction) -> None:
    """Above 1 tsp a kitchen's measures come within 6 % of any amount, and from 1 Tbsp within 5 %."""
    found = nearest(teaspoons, Fraction(1, 20))
    off = abs(found.size - teaspoons) / teaspoons
    if teaspoons >= 3:
        assert off <= Fraction(1, 20)
    elif teaspoons >= 1:
        assert off <= Fraction(6, 100)


@given(SPOONS)
def test_at_most_two_measures_or_a_spoon_more(teaspoons: Fraction) -> None:
    """What is shown takes at most two kinds of measure."""
    assert nearest(teaspoons, Fraction(1, 20)).text.count("+") <= 1


@given(SPOONS)
def test_what_is_shown_is_shown_again(teaspoons: Fraction) -> None:
    """Rounding what was rounded changes nothing."""
    once = nearest(teaspoons, Fraction(1, 20))
    assert nearest(once.size, Fraction(0)).size == once.size
