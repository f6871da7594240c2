"""A small box with three versions of one dish, opened."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from recipebox.box import Box, create
from recipebox.family import Outcome, merge_dish
from recipebox.history import History, open_history
from recipebox.index import Index, open_index

CARD = """Leek Pot
from: {name}
serves: {serves}

Ingredients
{lines}

Method
{steps}
"""


@dataclass
class Kitchen:
    """A box with its index and history, and short ways to write in it and to merge."""

    box: Box
    index: Index
    history: History

    def write(self, name: str, lines: list[str], steps: list[str], serves: int = 6, path: str | None = None) -> str:
        """Write a version's card; its path."""
        path = path or f"versions/{name.lower()}.txt"
        text = CARD.format(
            name=name,
            serves=serves,
            lines="\n".join(f"  {line}" for line in lines),
            steps="\n".join(f"  {number}. {step}" for number, step in enumerate(steps, start=1)),
        )
        file = self.box.root / path
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, encoding="utf-8")
        return path

    def edit(self, path: str, old: str, new: str) -> None:
        """Change words of a file by hand."""
        file = self.box.root / path
        text = file.read_text(encoding="utf-8")
        assert old in text
        file.write_text(text.replace(old, new), encoding="utf-8")

    def text(self, path: str) -> str:
        """What stands in a file."""
        return (self.box.root / path).read_text(encoding="utf-8")

    def merge(self, words: str = "Leek Pot", **choices: Any) -> Outcome:
        """Merge a dish and write it."""
        choices.setdefault("write", True)
        return merge_dish(self.box, self.index, self.history, words, **choices)


LINES = ["3 leeks, sliced", "50 g butter", "500 ml milk", "700 g cod", "1 tsp salt"]
STEPS = ["Soften the leeks in the butter.", "Pour on the milk and salt.", "Lay in the cod and bake 20 minutes."]


@pytest.fixture
def kitchen(tmp_path: Path) -> Iterator[Kitchen]:
    """Three versions: Brigid's, Nuala's with more milk, Tomasz's with onions and nutmeg."""
    box = create(tmp_path / "box", "kitchen")
    index = open_index(box)
    home = Kitchen(box, index, open_history(box))
    home.write("Brigid", LINES, STEPS)
    home.write("Nuala", [line.replace("500 ml", "600 ml") for line in LINES], STEPS)
    onions = ["2 onions, sliced", *LINES[1:], "1/2 tsp nutmeg"]
    home.write("Tomasz", onions, [step.replace("leeks", "onions").replace("salt", "salt and nutmeg") for step in STEPS])
    yield home
    index.close()


@pytest.fixture
def lines_differ() -> Callable[[str, str], list[tuple[str, str]]]:
    """Which lines of two texts of as many lines are different."""

    def differ(one: str, other: str) -> list[tuple[str, str]]:
        pairs = list(zip(one.split("\n"), other.split("\n"), strict=True))
        return [(a, b) for a, b in pairs if a != b]

    return differ
