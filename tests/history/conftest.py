"""A box with a history in a temporary folder."""

import os
from pathlib import Path

import pytest

from recipebox.box import create
from recipebox.history import History, open_history


@pytest.fixture
def history(tmp_path: Path) -> History:
    """An empty box's history."""
    return open_history(create(tmp_path / "box", "kitchen"))


@pytest.fixture
def card() -> str:
    """A card in the shape the tool itself writes."""
    return (
        "Lantern Street Leek Pie\nserves: 6\n\nIngredients\n  2 cups leeks, sliced\n  1 cup milk\n  3 eggs\n\n"
        "Method\n  1. Soften the leeks.\n  2. Beat the eggs with the milk.\n  3. Bake until set.\n"
    )


@pytest.fixture(autouse=True)
def disks_settle_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """These tests cut no power, so nothing need wait for a disk."""
    import pygit2

    monkeypatch.setattr(os, "fsync", lambda file: None)
    monkeypatch.setattr(type(pygit2.settings), "enable_fsync_gitdir", lambda self, value: None)
