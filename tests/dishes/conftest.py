"""Cards by hand, for the tests of this room."""

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

import pytest

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Card, Passage, VersionLine
from recipebox.cards.sayings import Saying, Sayings
from recipebox.dishes import Features, features

STEW = ("2 lb beef shin", "1 lb parsnips", "2 onions", "1 bottle stout", "1 tbsp thyme", "2 tbsp flour", "salt")
CAKE = ("2 cups almonds, ground", "4 eggs", "1 cup sugar", "2 oranges", "1 tsp cardamom", "1/2 cup butter")
SOUP = ("3 lb celeriac", "1 lb pears", "1 litre vegetable stock", "1/2 cup hazelnuts", "1 tbsp tarragon", "salt")


@pytest.fixture(scope="session")
def make_card() -> Callable[..., Card]:
    """A card from lines of ingredients and steps."""

    def make(
        path: str, lines: Sequence[str] = (), title: str = "", steps: Sequence[str] = (), serves: int | None = None
    ) -> Card:
        return Card(
            path=path,
            title=title,
            serves=None if serves is None else Amount(Fraction(serves), Fraction(serves)),
            ingredients=tuple(read_ingredient(words, number) for number, words in enumerate(lines, 1)),
            steps=tuple(Passage(step, number) for number, step in enumerate(steps, 1)),
        )

    return make


@pytest.fixture(scope="session")
def kitchen(make_card: Callable[..., Card]) -> Mapping[str, Features]:
    """Three versions of a stew, two of a cake, one soup; each version with its own small changes."""
    cards = [
        make_card("a/stew.txt", STEW, "Beef and Parsnip Stew"),
        make_card("b/stew.txt", [*STEW[1:], "900 g beef shin"], "Parsnip and beef stew"),
        make_card("c/stew.txt", ["4 lb beef shin", "2 lb parsnips", "2 bottles stout", *STEW[4:]], "Stout stew"),
        make_card("a/cake.txt", CAKE, "Orange Almond Cake"),
        make_card("b/cake.txt", CAKE[:5], "Almond cake with oranges"),
        make_card("a/soup.txt", SOUP, "Celeriac Soup"),
    ]
    return {card.called: features(card) for card in cards}


@pytest.fixture(scope="session")
def say() -> Callable[..., Sayings]:
    """What dishes.txt would say: ("same", a, b), ("different", a, b), ("name", name, path)."""

    def sayings(*lines: tuple[str, str, str]) -> Sayings:
        return Sayings(tuple(Saying(kind, *(sorted((a, b)) if kind != "name" else (a, b))) for kind, a, b in lines))

    return sayings


@pytest.fixture(scope="session")
def family() -> Callable[..., Card]:
    """A family recipe with a title and the paths of its versions."""

    def recipe(path: str, title: str, *versions: str) -> Card:
        return Card(path=path, title=title, kind="family", versions=tuple(VersionLine("", v) for v in versions))

    return recipe
