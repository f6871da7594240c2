"""A box of a made-up laptop, with a data folder of its own."""

from collections.abc import Callable
from pathlib import Path

import pytest

from recipebox.box import Box, create


@pytest.fixture(autouse=True)
def move_to_computer(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> Callable[[str], None]:
    """From here on the tests run on another computer, by name."""
    homes: dict[str, Path] = {}

    def move(name: str) -> None:
        home = homes.setdefault(name, tmp_path_factory.mktemp(name))
        for module in ("here", "place"):
            monkeypatch.setattr(f"recipebox.box.{module}.user_data", lambda: home)

    move("ours")
    return move


@pytest.fixture
def box(tmp_path: Path) -> Box:
    return create(tmp_path / "box", "kitchen")
