"""A box of a few made-up cards and its index."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from recipebox.box import Box, create
from recipebox.index import Index, open_index

LEEK_BAKE = """Leek and Fish Bake
from: Odile
serves: 6
tags: casserole, freezes well

Ingredients
1 lb white fish
3 leeks, sliced
2 cups cream

Method
1. Fry the leeks in butter until soft.
2. Lay the fish over them, pour on the cream and bake for 30 minutes.

Notes
The crème must be thick.
"""
LEEK_SOUP = """Potato Soup
from: Aunt Pim

Ingredients
4 leeks
2 lb potatoes
1 cup milk

Method
1. Boil everything until soft.
2. Mash it with parsley.
"""
FUDGE = """Walnut Fudge

Ingredients
2 cups sugar
1/2 cup walnuts

Method
1. Boil the sugar.
2. Stir in the walnuts and pour onto a slab.
"""
CARDS = {"bakes/leek.txt": LEEK_BAKE, "soups/potato.md": LEEK_SOUP, "fudge.txt": FUDGE}

Put = Callable[[str, str | bytes], Path]


@pytest.fixture
def box(tmp_path: Path) -> Box:
    return create(tmp_path / "box", "kitchen")


@pytest.fixture
def put(box: Box) -> Put:
    """Write a file of the box as a person's editor does."""

    def write(path: str, text: str | bytes) -> Path:
        file = box.root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text if isinstance(text, bytes) else text.encode())
        return file

    return write


@pytest.fixture
def index(box: Box, put: Put) -> Iterator[Index]:
    """The index of a box with the three cards, up to date."""
    for path, text in CARDS.items():
        put(path, text)
    with open_index(box) as opened:
        opened.refresh()
        yield opened
