"""How many times a batch is wanted, and how it is shared out over pans."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.amounts import write_amount
from recipebox.cards.model import Amount, Card, Makes, Pan
from recipebox.measures import (
    MeasureError,
    WrongNumberError,
    number_wanted,
    scale_card,
    share_out,
    times_for_pan,
    times_for_serves,
)

FACTORS = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=100)


@given(FACTORS)
def test_what_is_written_is_read(number: Fraction) -> None:
    """Every number from 1/100 to 100 as a cook writes it is the number itself."""
    assert number_wanted(write_amount(number)) == number
    assert number_wanted(f" {write_amount(number)} ") == number


@given(st.text(max_size=12))
def test_any_text_is_a_number_in_bounds_or_refused(words: str) -> None:
    """No text gives a number outside 1/100 to 100, and what is refused is refused in one line."""
    try:
        found = number_wanted(words)
    except WrongNumberError as error:
        assert len(str(error).splitlines()) == 1
        return
    assert Fraction(1, 100) <= found <= 100


@given(st.integers(1, 100), st.integers(1, 100))
def test_for_people_and_back(has: int, wants: int) -> None:
    """Scaled for so many people a card serves them, and scaled back it is the card it was."""
    card = Card("a.txt", "Stew", serves=Amount(Fraction(has), Fraction(has + 2)))
    factor = times_for_serves(card, Fraction(wants))
    there = scale_card(card, factor)
    assert there.serves is not None
    assert there.serves.low == wants
    assert scale_card(there, times_for_serves(there, Fraction(has))) == card


def test_a_card_that_does_not_say_is_not_guessed() -> None:
    """Without a number of people the line says what the card does say; 12 rolls are no 12 people."""
    card = Card("a.txt", "Rolls", makes=Makes(Fraction(12), Fraction(12), "rolls"))
    with pytest.raises(MeasureError, match="it makes 12 rolls") as caught:
        times_for_serves(card, Fraction(6))
    assert not isinstance(caught.value, WrongNumberError)
    with pytest.raises(WrongNumberError):
        times_for_pan(Fraction(1, 117))


@given(FACTORS, st.integers(0, 20), st.booleans())
def test_the_pans_together_are_the_batch(factor: Fraction, freezer: int, asked: bool) -> None:
    """Shares are equal and add up, people with them; as many are frozen as asked, and at least one is for now."""
    pan = Pan("8x8", 1, "rectangle", (Fraction(8), Fraction(8)), None, "inch") if asked else None
    card = Card("a.txt", "Stew", serves=Amount(Fraction(6), Fraction(8)), pan=Pan("2 quart"))
    shares = share_out(card, factor, freezer, pan)
    assert sum(one.batch for one in shares) == factor
    assert len({one.batch for one in shares}) == 1
    assert sum(one.serves.low for one in shares if one.serves) == 6 * factor
    assert [one.use for one in shares].count("freezer") == freezer
    assert shares[0].use == "now"
    own = pan if asked else card.pan if shares[0].batch == 1 else None
    assert all(one.pan == own for one in shares)
