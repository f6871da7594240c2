"""A family of laptops in temporary folders."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from recipebox.box import Box, create
from recipebox.history import History, open_history
from recipebox.sync import Outcome, meet, take_box

PIE = """Lantern Street Leek Pie
from: Marit
serves: 6

Ingredients
  2 cups leeks, sliced
  1 cup milk
  3 eggs

Method
  1. Soften the leeks in a wide pan.
  2. Beat the eggs with the milk.
  3. Pour over the leeks and bake until set.
"""


class Laptop:
    """One laptop's box, with what a person does to it."""

    def __init__(self, box: Box) -> None:
        self.box = box
        self.root = box.root

    @property
    def history(self) -> History:
        return open_history(self.box)

    def write(self, path: str, text: str) -> None:
        file = self.root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text.encode())

    def read(self, path: str) -> str:
        return (self.root / path).read_bytes().decode()

    def change(self, path: str, old: str, new: str) -> None:
        assert old in self.read(path)
        self.write(path, self.read(path).replace(old, new))

    def files(self) -> dict[str, bytes]:
        found = (file for file in self.root.rglob("*") if file.is_file())
        names = {file.relative_to(self.root).as_posix(): file for file in found}
        return {name: file.read_bytes() for name, file in sorted(names.items()) if not name.startswith(".")}

    def sync(self, place: Path | None = None, **asked: object) -> Outcome:
        from recipebox.box import find

        self.box = find(self.root)
        return meet(self.box, None if place is None else str(place), **asked)  # type: ignore[arg-type]


class Family:
    """Laptops that meet at `place`; the first one has the pie."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.place = folder / "stick"
        self.place.mkdir()
        self.laptops: list[Laptop] = []

    def start(self, name: str = "kitchen", cards: dict[str, str] | None = None) -> Laptop:
        laptop = Laptop(create(self.folder / name, name))
        for path, text in ({"pies/leek.txt": PIE} if cards is None else cards).items():
            laptop.write(path, text)
        self.laptops.append(laptop)
        return laptop

    def join(self, name: str, place: Path | None = None) -> Laptop:
        laptop = Laptop(take_box(self.folder / name, str(place or self.place), laptop=name))
        laptop.sync(place or self.place)
        self.laptops.append(laptop)
        return laptop

    def three(self) -> tuple[Laptop, Laptop, Laptop]:
        first = self.start()
        first.sync(self.place)
        return first, self.join("study"), self.join("attic")

    def all_meet(self, rounds: int = 3) -> None:
        for _ in range(rounds):
            for laptop in self.laptops:
                laptop.sync(self.place)


@pytest.fixture
def family(tmp_path: Path) -> Family:
    """Laptops in temporary folders that meet at a stick."""
    return Family(tmp_path)


@pytest.fixture
def pie() -> str:
    """A card in the shape the tool itself writes."""
    return PIE


@pytest.fixture
def same() -> Callable[..., None]:
    """Asserts that laptops hold the same bytes."""

    def check(*laptops: Laptop) -> None:
        first = laptops[0].files()
        assert all(laptop.files() == first for laptop in laptops[1:])

    return check


@pytest.fixture(autouse=True)
def disks_settle_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """These tests cut no power, so nothing need wait for a disk."""
    import pygit2

    monkeypatch.setattr(os, "fsync", lambda file: None)
    monkeypatch.setattr("recipebox.history.objects.settle_all", lambda folder: True)
    monkeypatch.setattr(type(pygit2.settings), "enable_fsync_gitdir", lambda self, value: None)
