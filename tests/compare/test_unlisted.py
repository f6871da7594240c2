"""Foods that only a step speaks of."""

from collections.abc import Callable

import pytest

from recipebox.cards.model import Card
from recipebox.compare import Kind, compare
from recipebox.compare.unlisted import unlisted

LINES = ["2 leeks, sliced", "1 lb potatoes", "2 eggs", "1 cup milk", "1 cup cheddar, grated"]


@pytest.mark.parametrize(
    ("step", "foods"),
    [
        ("Whisk the eggs with the milk and a pinch of nutmeg.", {"nutmeg"}),
        ("Squeeze lemon over and bake.", {"lemon"}),
        ("Stir in a little Dijon mustard.", {"dijon mustard"}),
        ("Add the cheddar and two tablespoons of capers.", {"capers"}),
        # Spoken of, not put in; meant otherwise; listed under this or another name.
        ("Roll into balls the size of a walnut.", set()),
        ("I never have buttermilk, so this does.", set()),
        ("Write the date on it and freeze.", set()),
        ("Serve with rice and a squeeze of lemon.", set()),
        ("Add a splash of water and season with salt and pepper.", set()),
        ("Stir in the cheese and the potatoes.", set()),
        ("Add the leek greens if you like.", set()),
    ],
)
def test_only_what_a_step_puts_in_besides_the_list(make_card: Callable[..., Card], step: str, foods: set[str]) -> None:
    """A food is seen where it is bidden to put it in or said how much, and not where it is only spoken of."""
    steps = ["Boil the potatoes.", "Fry the leeks.", "Beat eggs and milk, add cheddar.", step]
    found = unlisted(make_card("a.txt", LINES, steps))
    assert {food.removesuffix("s") for food in found[-1]} == {food.removesuffix("s") for food in foods}
    assert not any(found[:-1])


def test_a_food_in_one_step_only_is_a_difference(make_card: Callable[..., Card]) -> None:
    """Nutmeg that one card puts in without listing it is told at that step."""
    steps = ["Boil the potatoes.", "Whisk the eggs with the milk."]
    a = make_card("a.txt", LINES, steps)
    b = make_card("b.txt", LINES, [steps[0], "Whisk the eggs with the milk and a grating of nutmeg."])
    rows = compare([a, b]).steps
    assert [(row.kind, row.added) for row in rows] == [(Kind.SAME, ()), (Kind.CHANGED, ("nutmeg",))]
    assert [(row.kind, row.removed) for row in compare([b, a]).steps][1] == (Kind.CHANGED, ("nutmeg",))


def test_a_food_listed_by_the_other_is_told_there(make_card: Callable[..., Card]) -> None:
    """What the other card lists is told among the ingredients and not again at the step."""
    a = make_card("a.txt", [*LINES, "1/4 tsp nutmeg"], ["Whisk the eggs with the milk and the nutmeg."])
    b = make_card("b.txt", LINES, ["Whisk the eggs with the milk and a grating of nutmeg."])
    assert [row.kind for row in compare([a, b]).steps] == [Kind.SAME]
