"""Swaps that cards tell in words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Passage
from recipebox.family.told import told_swaps
from tests.family.making import version

_LISTED = [
    read_ingredient(line) for line in ("3 leeks", "250 ml buttermilk", "1 tbsp honey", "500 g potatoes", "50 g butter")
]


@pytest.mark.parametrize(
    ("words", "item", "instead", "how"),
    [
        ("I was out of leeks, so I used onions instead, half the weight.", "leeks", "onions", "half the weight"),
        ("We took curd cheese instead of half the potatoes.", "potatoes", "curd cheese", "for half of it"),
        ("With treacle because the honey was gone.", "honey", "treacle", None),
        ("You can swap the butter for olive oil.", "butter", "olive oil", None),
        ("No buttermilk? I used plain yogurt.", "buttermilk", "plain yogurt", None),
        ("I never have buttermilk here and use milk, the same amount.", "buttermilk", "milk", "the same amount"),
        ("Substitute sour cream for buttermilk if you must.", "buttermilk", "sour cream", None),
        ("Margarine in place of butter, twice as much.", "butter", "margarine", "twice as much"),
    ],
)
def test_a_swap_is_heard_in_the_words_of_a_note(words: str, item: str, instead: str, how: str | None) -> None:
    """Who used what in place of what, and how much, is read from a sentence."""
    lines = ["225 g onions", "250 g curd cheese", "2 tbsp treacle", "2 tbsp olive oil", "1 egg"]
    card = version("Tomasz", lines, ["Mix."], notes=(Passage(words, 30),))
    (found,) = told_swaps(card, _LISTED)
    assert (found.swap.item, found.swap.instead, found.swap.how) == (item, instead, how)
    assert (found.swap.who, found.paths) == ("Tomasz", ("versions/tomasz.txt",))


@pytest.mark.parametrize(
    "words",
    [
        "Serve with butter, not the good plates.",
        "Use a wide pot instead of a narrow one.",
        "I ran out of time, so I used the oven.",
        "The leeks need longer than you think.",
        "Butter for the dish.",
    ],
)
def test_other_words_are_no_swap(words: str) -> None:
    """Only what names two foods, one for the other, is a swap."""
    assert told_swaps(version("Ada", ["1 egg"], ["Mix."], notes=(Passage(words, 30),)), _LISTED) == []


def test_an_alternative_of_a_line_is_a_swap() -> None:
    """ "250 ml buttermilk or milk" tells a swap, known from that card."""
    card = version("Ada", ["250 ml buttermilk or 250 ml milk"], ["Mix."])
    (found,) = told_swaps(card, _LISTED)
    assert (found.swap.item, found.swap.instead) == ("buttermilk", "milk")


def test_a_remark_that_something_works_too_is_a_swap() -> None:
    """ "(olive oil works too)" beside the butter tells of the butter."""
    card = version("Ada", ["50 g butter (olive oil works too)"], ["Mix."])
    found = [(one.swap.item, one.swap.instead) for one in told_swaps(card, _LISTED)]
    assert found == [("butter", "olive oil")]


@given(
    st.lists(st.sampled_from(["no", "leeks", "⟦7⟧", "used", "the", "instead of", "honey", "?", ".", ",", "half", "x"]))
)
def test_any_words_are_read_without_a_crash(words: list[str]) -> None:
    """Whatever stands in a note, what is heard are swaps of listed things for other things."""
    card = version("Ada", ["1 egg"], ["Mix."], notes=(Passage(" ".join(words), 30),))
    for one in told_swaps(card, _LISTED):
        assert one.swap.item in {line.item for line in _LISTED} and one.swap.instead != one.swap.item


def test_what_came_of_it_is_told_too() -> None:
    """The effect is taken from the sentence, or from the one after it."""
    story = Passage("I used onions instead of leeks. It came out sweeter and the children did not complain.", 30)
    (found,) = told_swaps(version("Tomasz", ["225 g onions"], ["Mix."], notes=(story,)), _LISTED)
    assert found.swap.effect == "sweeter"
