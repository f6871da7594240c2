"""Lines and cards at another size."""

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.data import card_data, card_from_data
from recipebox.cards.model import (
    Alternative,
    Amount,
    Card,
    Ingredient,
    Makes,
    Measure,
    Pan,
    SomeAdd,
    Variation,
)
from recipebox.cards.reader import read_cards
from recipebox.cards.shape import lay_out
from recipebox.measures import MeasureError, scale_card, scale_ingredient
from tests.sample import cards_but_mail

FRACTIONS = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=100)
AMOUNTS = st.builds(lambda a, b: Amount(min(a, b), max(a, b)), FRACTIONS, FRACTIONS)
UNITS = st.none() | st.sampled_from(["cup", "gram", "can", "pinch"])
MEASURES = st.builds(Measure, AMOUNTS, UNITS)
OTHERS = st.builds(Alternative, st.none() | AMOUNTS, UNITS, st.text(max_size=5))
LINES = st.builds(
    Ingredient,
    text=st.text(max_size=20),
    amount=st.none() | AMOUNTS,
    unit=UNITS,
    container=st.none() | MEASURES,
    plus=st.lists(MEASURES, max_size=2).map(tuple),
    also=st.lists(MEASURES, max_size=2).map(tuple),
    item=st.text(max_size=10),
    instead=st.lists(st.lists(OTHERS, min_size=1, max_size=2).map(tuple), max_size=2).map(tuple),
)
SOME_LINES = st.lists(LINES, max_size=3).map(tuple)
CARDS = st.builds(
    Card,
    path=st.just("a.txt"),
    title=st.text(max_size=10),
    serves=st.none() | AMOUNTS,
    makes=st.none() | st.builds(Makes, FRACTIONS, FRACTIONS, st.text(max_size=5)),
    pan=st.none() | st.just(Pan("9 x 13")),
    ingredients=SOME_LINES,
    some_add=st.lists(st.builds(SomeAdd, LINES, st.just(("Ines",))), max_size=1).map(tuple),
    variations=st.lists(st.builds(Variation, st.just("Tomasz: flour"), SOME_LINES), max_size=1).map(tuple),
)


@given(CARDS, FRACTIONS)
def test_there_and_back_is_the_same_card(card: Card, factor: Fraction) -> None:
    """A batch and its inverse give the very card back, every field of it."""
    assert scale_card(scale_card(card, factor), 1 / factor) == card


@given(CARDS, FRACTIONS, FRACTIONS)
def test_two_batches_are_one(card: Card, a: Fraction, b: Fraction) -> None:
    """Scaling twice is scaling once by the product; by 1 it changes nothing."""
    assert scale_card(scale_card(card, a), b) == scale_card(card, a * b)
    assert scale_card(card, Fraction(1)) == card


@given(LINES, FRACTIONS)
def test_a_cans_printed_size_and_the_words_stay(line: Ingredient, factor: Fraction) -> None:
    """Only amounts grow: two batches take two cans, not one larger can; the words as written stay as written."""
    scaled = scale_ingredient(line, factor)
    assert scaled.container == line.container
    assert (scaled.text, scaled.item, scaled.unit) == (line.text, line.item, line.unit)
    if line.amount is not None:
        assert scaled.amount == Amount(line.amount.low * factor, line.amount.high * factor)


@pytest.mark.parametrize("factor", [Fraction(0), Fraction(-2)])
def test_no_batch_of_nothing(factor: Fraction) -> None:
    """A factor that is not above 0 is refused in one clear line."""
    with pytest.raises(MeasureError, match="above 0") as caught:
        scale_card(Card("a.txt", "Soup"), factor)
    assert "\n" not in str(caught.value)


@given(CARDS, FRACTIONS)
def test_scaling_commutes_with_data(card: Card, factor: Fraction) -> None:
    """Scaled and then read from its JSON, or read from its JSON and then scaled: the same card."""
    assert card_from_data(card_data(scale_card(card, factor))) == scale_card(card_from_data(card_data(card)), factor)


@pytest.mark.parametrize("factor", [Fraction(1, 3), Fraction(7, 12), Fraction(2), Fraction(12, 5)])
def test_scaling_commutes_with_reading_and_writing(sample_box: Path, factor: Fraction) -> None:
    """Laid out as text, read again and scaled, every card of the family's folder is what it is when scaled at once."""
    seen = 0
    for path, card in cards_but_mail(sample_box):
        (again,) = read_cards(lay_out(card), path)
        assert bare(card_data(scale_card(again, factor))) == bare(card_data(scale_card(card, factor))), path
        seen += 1
    assert seen > 30


def bare(value: Any) -> Any:
    """Data without line numbers, which another layout changes."""
    if isinstance(value, dict):
        return {key: bare(one) for key, one in value.items() if key not in ("line", "trouble", "part")}
    return [bare(one) for one in value] if isinstance(value, list) else value
