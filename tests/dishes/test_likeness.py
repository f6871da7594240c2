"""How alike two cards are."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.dishes import features, likeness, same_dish, telling
from recipebox.measures import scale_card

LINES = ("2 lb lamb", "1 lb okra", "2 onions", "1 can (14.5 oz) chopped tomatoes", "2 tbsp sumac", "1 tsp salt")
POOL = (*LINES, "1 cup bulgur", "500 g okra", "1 cup yogurt", "3 eggs", "salt and pepper", "2 tbsp flour")
MakeCard = Callable[..., Card]


def test_a_card_is_wholly_like_itself_on_any_batch(make_card: MakeCard) -> None:
    """Scaling a card changes nothing about which dish it is."""
    card = make_card("a.txt", LINES, "Lamb and Okra", ["Fry the lamb with the okra."])
    assert same_dish(card, replace(scale_card(card, Fraction(3)), path="b.txt")).score == pytest.approx(1)


def test_order_of_lines_means_nothing(make_card: MakeCard) -> None:
    """Reordered ingredients are the same card."""
    a, b = (make_card(path, lines, "Okra", ["Stew."]) for path, lines in (("a.txt", LINES), ("b.txt", LINES[::-1])))
    assert same_dish(a, b).score == pytest.approx(1)


def test_telling_things_weigh_more(make_card: MakeCard) -> None:
    """Losing the okra matters more than losing the salt."""
    card = make_card("a.txt", LINES)
    without = {gone: same_dish(card, make_card("b.txt", [line for line in LINES if gone not in line])).score
               for gone in ("okra", "salt")}  # fmt: skip
    assert without["okra"] < without["salt"] < 1
    assert telling("salt") < telling("butter") < telling("sumac") == 1


def test_titles_do_not_make_a_dish(make_card: MakeCard) -> None:
    """Two cards of one title that share hardly anything are not the same dish."""
    one = make_card("a.txt", LINES, "Sunday Supper")
    other = make_card("b.txt", ["4 eggs", "1 cup polenta", "1 lb spinach", "salt"], "Sunday Supper")
    assert not same_dish(one, other).same


def test_why_is_in_words(make_card: MakeCard) -> None:
    """The reason counts ingredients and names the batch."""
    one = make_card("a.txt", LINES, "Lamb and Okra")
    other = make_card("b.txt", ["4 lb lamb", "2 lb okra", "4 onions", "2 tbsp sumac"], "Okra with lamb")
    assert same_dish(one, other).why == "4 of 6 ingredients, titles alike; that one is a double batch"


@given(st.lists(st.sampled_from(POOL), max_size=8), st.lists(st.sampled_from(POOL), max_size=8))
def test_likeness_is_symmetric_and_bounded(make_card: MakeCard, one: list[str], other: list[str]) -> None:
    """A is as like B as B is like A, from 0 to 1, with the same reason for the ingredients."""
    a = features(make_card("a.txt", one, "Lamb bake", ["Bake the lamb."]))
    b = features(make_card("b.txt", other, "Okra", ["Fry the okra in butter."]))
    there, back = likeness(a, b), likeness(b, a)
    assert there.score == back.score
    assert 0 <= there.score <= 1 + 1e-9
    assert there.same == back.same
