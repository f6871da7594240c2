"""Amounts as cooks write them."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.model import Amount

kitchen_amounts = st.builds(Fraction, st.integers(0, 9999), st.integers(1, 99)).filter(bool)


def low_high(words: str) -> tuple[Fraction, Fraction] | None:
    found = read_amount(words)
    return None if found is None else (found[0].low, found[0].high)


@pytest.mark.parametrize(
    ("words", "amount"),
    [
        ("1 1/2 cups", "3/2"),
        ("1-1/2 cups", "3/2"),
        ("1 and 1/2 cups", "3/2"),
        ("1 & 1/2 cups", "3/2"),
        ("one and a half cups", "3/2"),
        ("1½ cups", "3/2"),
        ("1 ½ cups", "3/2"),
        ("1⁄2 cup", "1/2"),
        ("1 1⁄2 cups", "3/2"),
        ("½ cup", "1/2"),
        ("⅔ cup", "2/3"),
        ("0.5 l", "1/2"),
        (".5 oz", "1/2"),
        ("1,5 dl", "3/2"),
        ("1,000 g", "1000"),
        ("half a lemon", "1/2"),
        ("one-half cup", "1/2"),
        ("three quarters cup", "3/4"),
        ("two-thirds cup", "2/3"),
        ("a quarter of a cabbage", "1/4"),
        ("a cup", "1"),
        ("an onion", "1"),
        ("a couple of carrots", "2"),
        ("twelve eggs", "12"),
    ],
)
def test_every_way_of_writing_a_number_is_read_exactly(words: str, amount: str) -> None:
    """A number is the same exact fraction however it is written."""
    assert low_high(words) == (Fraction(amount), Fraction(amount))


@pytest.mark.parametrize(
    ("words", "low", "high"),
    [
        ("6-8 apples", "6", "8"),
        ("between 6 and 8 apples", "6", "8"),
        ("6 – 8 apples", "6", "8"),
        ("6 to 8 apples", "6", "8"),
        ("2 or 3 apples", "2", "3"),
        ("1 -2 tablespoon", "1", "2"),
        ("1/2-3/4 cup", "1/2", "3/4"),
        ("½–¾ cup", "1/2", "3/4"),
        ("1 - 1 1/2 lb", "1", "3/2"),
        ("1 1/4-1 1/2 cups", "5/4", "3/2"),
        ("two to three carrots", "2", "3"),
    ],
)
def test_ranges_keep_both_ends(words: str, low: str, high: str) -> None:
    """A range is read with its low and its high end."""
    assert low_high(words) == (Fraction(low), Fraction(high))


@pytest.mark.parametrize("words", ["", "onion", "half-and-half", "half and half", "1/0 cup", "another", "a", "⁄2", "-"])
def test_what_is_no_amount_is_none(words: str) -> None:
    """Words without a number, and a number over zero, are no amount."""
    assert read_amount(words) is None


@given(kitchen_amounts)
def test_writing_then_reading_gives_the_same_amount(amount: Fraction) -> None:
    """What `write_amount` writes is read back exactly, wholly, with nothing left over."""
    written = write_amount(amount)
    assert read_amount(written) == (Amount(amount, amount), len(written))


@given(kitchen_amounts, kitchen_amounts)
def test_written_ranges_are_read_back(one: Fraction, other: Fraction) -> None:
    """A range written with "to" is read back exactly."""
    low, high = sorted((one, other))
    if low < high:
        written = f"{write_amount(low)} to {write_amount(high)}"
        assert read_amount(written) == (Amount(low, high), len(written))


@given(st.text(alphabet="0123456789/⁄.,-–½¾ aonedhlf&to", max_size=60))
def test_reading_never_raises_and_takes_what_is_there(words: str) -> None:
    """Whatever the string, reading ends with None or an amount within the words, low end not above the high one."""
    found = read_amount(words)
    if found is not None:
        amount, used = found
        assert 0 < used <= len(words)
        assert 0 <= amount.low <= amount.high
