"""Cards by hand, for the tests of this room."""

from collections.abc import Callable, Sequence
from fractions import Fraction

import pytest

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Card, Passage


@pytest.fixture(scope="session")
def make_card() -> Callable[..., Card]:
    """A card from lines of ingredients and steps; lines ending in a colon name groups."""

    def make(path: str, lines: Sequence[str], steps: Sequence[str] = (), serves: int | None = None) -> Card:
        ingredients = []
        group = None
        for number, words in enumerate(lines, 1):
            if words.endswith(":"):
                group = words[:-1]
            else:
                ingredients.append(read_ingredient(words, number, group))
        return Card(
            path=path,
            title=path.removesuffix(".txt"),
            serves=None if serves is None else Amount(Fraction(serves), Fraction(serves)),
            ingredients=tuple(ingredients),
            steps=tuple(Passage(step, number) for number, step in enumerate(steps, 1)),
        )

    return make
