"""Which cards are looked at closer tonight."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from recipebox.box import create
from recipebox.cards.onhand import read_on_hand
from recipebox.index import Index, open_index
from recipebox.pantry import tonight, tonight_data, worth_a_look

TODAY = date(2026, 11, 25)
SHELVES = [
    "Fridge\n  3 leeks\n",
    "Fridge\n  1 litre milk, use by 2026-11-27\n  200 g cheddar\n",
    "Pantry\n  1 kg flour\n  salt\n  olive oil\n",
    "Pantry\n  butter\n  500 g brown lentils\n  2 tins tomatoes\nFreezer\n  1 batch white sauce\n",
    "Fridge\n  any old fish\n  herbs\n  nuts\n",
    "Pantry\n  nothing anybody asks for\n",
]


@pytest.fixture(scope="module")
def index(tmp_path_factory: pytest.TempPathFactory) -> Index:
    """The invented family's box, with a card that names another."""
    root = tmp_path_factory.mktemp("tonight") / "box"
    shutil.copytree(Path(__file__).parents[2] / "sample_box", root)
    named = (
        "Leftovers under a sauce\n\nIngredients\n  1 batch white sauce, see card\n  1 quince\n\nMethod\n  1. Bake.\n"
    )
    (root / "leftovers.txt").write_text(named, encoding="utf-8")
    made = open_index(create(root, "kitchen"))
    made.refresh()
    return made


@pytest.mark.parametrize("shelf", SHELVES)
def test_the_answer_is_that_of_the_whole_box(index: Index, shelf: str) -> None:
    """Going by things alone leaves out no card that `tonight` would tell of, and changes nothing it tells."""
    on_hand, dishes = read_on_hand(shelf.encode()), index.dishes()
    cards, titles = worth_a_look(index, on_hand, TODAY, dishes)
    some = tonight(cards, on_hand, TODAY, dishes=dishes, titles=titles)
    every = tonight(list(index.cards()), on_hand, TODAY, dishes=dishes)
    assert tonight_data("", some) == tonight_data("", every)


def test_most_cards_are_not_read(index: Index) -> None:
    """Of a shelf with one thing few cards are worth a look."""
    cards, _ = worth_a_look(index, read_on_hand(b"Pantry\n  poppy seeds\n"), TODAY, index.dishes())
    assert 0 < len(cards) < index.count() / 4
