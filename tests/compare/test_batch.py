"""The batch factor."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.compare import batch_factor
from recipebox.compare.batch import believed
from recipebox.measures import scale_card

LINES = ("2 cups flour", "3/4 cup milk", "2 eggs", "1/4 lb butter", "1 tsp salt", "1 can (14.5 oz) chopped tomatoes")
FACTORS = [Fraction(n, d) for n in range(1, 7) for d in range(1, 5)]
ratios = st.fractions(min_value=Fraction(1, 8), max_value=8, max_denominator=12)


@pytest.mark.parametrize("factor", FACTORS)
def test_a_scaled_card_is_found_to_be_scaled(make_card: Callable[..., Card], factor: Fraction) -> None:
    """A card times n is n times the card, for halves, thirds, quarters and whole numbers to six."""
    card = make_card("a.txt", LINES, serves=8)
    assert batch_factor(card, replace(scale_card(card, factor), path="b.txt")) == factor


def test_real_changes_do_not_hide_a_double_batch(make_card: Callable[..., Card]) -> None:
    """Two changed amounts among six leave a double batch a double batch."""
    one = make_card("a.txt", LINES)
    other = make_card(
        "b.txt", ["4 cups flour", "1 cup milk", "4 eggs", "225 g butter", "1 tsp salt", "2 cans (14.5 oz) tomatoes"]
    )
    assert batch_factor(one, other) == 2


def test_grams_and_cups_meet(make_card: Callable[..., Card]) -> None:
    """A half batch is seen across cups and grams, by household weights."""
    one = make_card("a.txt", ["2 cups flour", "1 cup sugar", "1 cup butter"])
    other = make_card("b.txt", ["125 g flour", "100 g sugar", "113 g butter"])
    assert batch_factor(one, other) == Fraction(1, 2)


def test_servings_tell_where_amounts_do_not(make_card: Callable[..., Card]) -> None:
    """With no amount in common, what the cards serve decides; with nothing at all, they are one batch."""
    assert batch_factor(make_card("a.txt", ["salt"], serves=6), make_card("b.txt", ["salt"], serves=12)) == 2
    assert batch_factor(make_card("a.txt", ["salt"]), make_card("b.txt", ["salt"])) == 1


def test_amounts_go_before_servings(make_card: Callable[..., Card]) -> None:
    """The same amounts said to feed twice as many are the same batch."""
    assert batch_factor(make_card("a.txt", LINES, serves=4), make_card("b.txt", LINES, serves=8)) == 1


@settings(max_examples=200, deadline=None)
@given(st.lists(st.tuples(ratios, st.sampled_from([0.3, 0.5, 1.0])), max_size=8))
def test_the_factor_is_mirrored(votes: list[tuple[Fraction, float]]) -> None:
    """Whatever speaks for a factor speaks turned over for its inverse."""
    turned = [(1 / ratio, weight) for ratio, weight in votes]
    assert believed(turned, []) == 1 / believed(votes, [])
