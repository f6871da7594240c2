"""How a dish is baked, in a hurried cook's words."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.hurried import hurried_facts
from recipebox.cards.model import Amount
from recipebox.cards.reader import read_cards


@pytest.mark.parametrize(
    ("words", "facts"),
    [
        ("13x9 pan, 350", [("pan", "13x9 pan"), ("oven", "350")]),
        ("9 x 13, 375 for 40 min.", [("pan", "9 x 13"), ("oven", "375 for 40 min")]),
        ("375 for 30-35 min.", [("oven", "375 for 30-35 min")]),
        ("180C, 1 hour", [("oven", "180C, 1 hour")]),
        ("2 quart dish, 350F, 45 minutes", [("pan", "2 quart dish"), ("oven", "350F, 45 minutes")]),
    ],
)
def test_a_pan_an_oven_and_a_time_need_no_names(words: str, facts: list[tuple[str, str]]) -> None:
    """Each is known by its shape, as long as nothing else stands on the line."""
    assert hurried_facts(words) == facts


@pytest.mark.parametrize(
    "words", ["350", "9x13", "350 g flour", "2 cups, 350 ml", "40 min", "600 for 20 min", "200, 300", "", "350, beaten"]
)
def test_a_line_that_may_be_something_else_is_left(words: str) -> None:
    """A number alone, a size alone, an amount of food or a heat no oven has is no oven."""
    assert hurried_facts(words) is None


@given(st.text("0123456789xFC ,.°-forminpah", max_size=30))
def test_what_is_found_stands_in_the_line(words: str) -> None:
    """Nothing is made up: each value is words of the line."""
    for _, value in hurried_facts(words) or []:
        assert value in words


def test_a_hurried_head_is_read() -> None:
    """ "For 2" and the line below it are facts, not the first ingredients; "For 2 crusts" would be a group."""
    text = "Corn pudding\nFor 2\n13x9 pan, 350\n\n2 cups corn\n1 cup milk\n\nMix all and bake 40 min.\n"
    (card,) = read_cards(text.encode(), "corn.txt")
    assert card.serves is not None and card.serves.low == 2
    assert [item.item for item in card.ingredients] == ["corn", "milk"]
    assert card.pan is not None
    assert card.oven[0].settings[0].value == Amount(Fraction(350), Fraction(350)) and card.oven[0].minutes is not None


def test_a_yield_and_whom_it_feeds_stand_on_one_line() -> None:
    """What is made and how many it feeds are two facts."""
    text = "Ginger pudding\nmakes 1 pudding, feeds 4\n\n100 g flour\n2 eggs\n\nBeat everything. Steam for 2 hours.\n"
    (card,) = read_cards(text.encode(), "ginger.txt")
    assert card.serves is not None and card.serves.low == 4
    assert card.makes is not None and card.makes.what == "pudding"
