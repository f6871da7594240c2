"""Telling a bare ingredient line from a step, a heading or chatter."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.likeness import ingredient_likeness


@pytest.mark.parametrize(
    "text",
    [
        "2 cups flour",
        "salt and pepper",
        "butter",
        "Cream",
        "a pinch of nutmeg",
        "juice of 1 lemon",
        "grated cheddar, for the top",
        "1 can (14.5 oz) tomatoes",
        "leeks, 3",
        "3 large eggs, beaten",
    ],
)
def test_ingredient_lines_lie_above_the_cut(text: str) -> None:
    """Lines that name something to buy are above 0.5."""
    assert ingredient_likeness(text) > 0.5


@pytest.mark.parametrize(
    "text",
    [
        "Preheat the oven to 350 degrees.",
        "Mix the flour with 2 eggs and 1 cup milk until smooth.",
        "1. Butter a baking dish",
        "2 Add the leeks to the pan.",
        "Gently fold in the blueberries.",
        "Squeeze the lemon over the fish.",
        "Dear Ines, here is the bake you asked for!",
        "Leek and Potato Gratin",
        "I always double it for Easter.",
        "Serves 6",
        "30 minutes",
        "Method",
        "Topping:",
        "",
    ],
)
def test_steps_headings_and_chatter_lie_below_the_cut(text: str) -> None:
    """Lines that tell what to do, name a group or chat are below 0.5."""
    assert ingredient_likeness(text) < 0.5


@given(st.text(max_size=300))
def test_likeness_is_a_share(text: str) -> None:
    """Whatever the string, the likeness lies between 0 and 1."""
    assert 0 <= ingredient_likeness(text) <= 1
