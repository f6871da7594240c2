"""Whole comparisons."""

from collections.abc import Callable

import pytest

from recipebox.cards.model import Card
from recipebox.compare import compare, comparison_data


def test_a_card_and_itself_do_not_differ(make_card: Callable[..., Card]) -> None:
    """The same card under two names: every row the same, batch 1."""
    lines, steps = ["2 cups flour", "1 tsp salt", "2 eggs"], ["Mix all.", "Bake 30 minutes at 350 F."]
    data = comparison_data(compare([make_card("a.txt", lines, steps), make_card("b.txt", lines, steps)]))
    assert {row["kind"] for row in data["ingredients"] + data["steps"] + [data["oven"]]} == {"same"}
    assert data["batch"] == {"a.txt": "1", "b.txt": "1"}


def test_the_shape_is_that_of_the_page(make_card: Callable[..., Card]) -> None:
    """Keys, exact fractions as text, steps counted from 1."""
    a = make_card("a.txt", ["1/2 cup milk", "2 eggs"], ["Mix."])
    data = comparison_data(compare([a, make_card("b.txt", ["1 cup milk", "4 eggs"], ["Mix."])]))
    assert set(data) == {"cards", "same_dish", "batch", "ingredients", "steps", "oven", "pan"}
    assert data["batch"] == {"a.txt": "1", "b.txt": "2"}
    assert data["ingredients"][0] == {
        "item": "milk",
        "kind": "same",
        "cells": {
            "a.txt": {"text": "1/2 cup milk", "amount": {"low": "1/2", "high": "1/2"}, "unit": "cup"},
            "b.txt": {"text": "1 cup milk", "amount": {"low": "1/2", "high": "1/2"}, "unit": "cup"},
        },
    }
    assert data["steps"] == [
        {
            "kind": "same",
            "cells": {"a.txt": [1], "b.txt": [1]},
            "added": [],
            "removed": [],
            "texts": {"a.txt": "Mix.", "b.txt": "Mix."},
        }
    ]


def test_a_card_named_twice_is_refused(make_card: Callable[..., Card]) -> None:
    """Cells are keyed by card, so a card can stand in a comparison once."""
    card = make_card("a.txt", ["1 egg"])
    with pytest.raises(ValueError, match="each once"):
        compare([card, card])
