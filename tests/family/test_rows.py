"""Rows as a cook sets them side by side."""

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.family import propose_new
from recipebox.family.rows import rows_across
from tests.family.making import version


def _row_of(cards: list[Card], item: str) -> dict[str, str]:
    """What each version has in the row in which the first has an item."""
    rows = [row for row in rows_across(cards) if item in row.cells.get(cards[0].called, _NONE).ingredient.text]
    (row,) = rows
    names = {card.called: card.name for card in cards}
    return {names[called]: cell.ingredient.text for called, cell in row.cells.items()}


_NONE = rows_across([version("Nobody", ["1 -"], [])])[0].cells["versions/nobody.txt"]


def test_what_a_cook_tells_decides_whose_place_a_thing_takes() -> None:
    """ "celeriac instead of the celery" stands in the celery's row, though it is a root like the parsnip."""
    lines = ["2 sticks celery", "1 parsnip", "200 g lentils"]
    story = "I have taken celeriac instead of the celery. Cook it all."
    cards = [
        version("Ada", lines, ["Cook the celery, parsnip and lentils."]),
        version("Bo", lines, ["Cook the celery, parsnip and lentils."]),
        version("Cleo", ["150 g celeriac", "200 g lentils"], [story]),
    ]
    assert _row_of(cards, "celery") == {"Ada": "2 sticks celery", "Bo": "2 sticks celery", "Cleo": "150 g celeriac"}
    (found,) = propose_new("Soup", cards).swaps
    assert (found.swap.item, found.swap.instead, found.swap.who) == ("celery", "celeriac", "Cleo")


def test_what_is_for_serving_stands_in_for_nothing() -> None:
    """Green onions for garnish are not in the leeks' place."""
    lines = ["3 leeks", "1 kg potatoes"]
    cards = [
        version("Ada", lines, ["Cook."]),
        version("Bo", lines, ["Cook."]),
        version("Cleo", ["green onions, for garnish", "1 kg potatoes"], ["Cook."]),
    ]
    assert "Cleo" not in _row_of(cards, "leeks")


_FOODS = (
    "leeks",
    "onions",
    "potatoes",
    "parsnips",
    "butter",
    "oil",
    "milk",
    "cream",
    "salt and pepper",
    "salt",
    "flour",
)


@given(st.lists(st.lists(st.sampled_from(_FOODS), min_size=1, max_size=8), min_size=1, max_size=5))
@settings(max_examples=40, deadline=None)
def test_no_line_is_lost_among_the_rows(lists: list[list[str]]) -> None:
    """Every ingredient line of every version stands in some row."""
    cards = [version(f"Cook {at}", [f"{at + 1} {food}" for food in foods], []) for at, foods in enumerate(lists)]
    rows = rows_across(cards)
    for card in cards:
        held = {id(line) for row in rows if card.called in row.cells for line in row.cells[card.called].lines}
        assert held == {id(line) for line in card.ingredients}
