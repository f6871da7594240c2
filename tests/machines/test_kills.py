"""A process that dies at any write: the next run mends it, and nothing is lost or mistaken for somebody's edit."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from recipebox.box import Box, create
from recipebox.history import open_history
from recipebox.sync import meet, take_box

_LONG = os.environ.get("RECIPEBOX_LONG") == "1"
_CARD = (
    "Leek Pie\n\nIngredients\n  2 cups leeks\n  1 cup milk\n  3 eggs\n\n"
    "Method\n  1. Bake the leeks with milk and eggs.\n"
)
_CALLS = ("replace", "rename", "link", "unlink", "fsync")


def die_at(count: int) -> None:
    """Let this process end, as by kill -9, at its `count`-th change of a disk."""
    left = [count]

    def dying(real: Callable[..., object]) -> Callable[..., object]:
        def call(*args: object, **more: object) -> object:
            left[0] -= 1
            if left[0] <= 0:
                os._exit(9)
            return real(*args, **more)

        return call

    for name in _CALLS:
        setattr(os, name, dying(getattr(os, name)))


def in_child(work: Callable[[], object], count: int) -> bool:
    """Run work in a child that dies at its `count`-th write; True if it got to the end."""
    child = os.fork()
    if not child:
        try:
            die_at(count)
            work()
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status) == 0


def files(box: Box) -> dict[str, bytes]:
    found = [file for file in box.root.rglob("*") if file.is_file() and ".recipebox" not in file.parts]
    return {file.relative_to(box.root).as_posix(): file.read_bytes() for file in sorted(found)}


def prepared(folder: Path) -> tuple[Box, Box, Path]:
    """Two laptops that know one another, each with edits the other has not seen."""
    place = folder / "stick"
    place.mkdir()
    first = create(folder / "first", "first")
    for name in ("a", "b", "c"):
        (first.root / f"{name}.txt").write_text(_CARD.replace("Leek", name))
    meet(first, str(place))
    second = take_box(folder / "second", str(place), laptop="second")
    meet(second, str(place))
    (first.root / "a.txt").write_text(_CARD.replace("Leek", "a").replace("1 cup", "2 cups"))
    (first.root / "pies").mkdir()
    (first.root / "c.txt").rename(first.root / "pies/c.txt")
    (first.root / "new.txt").write_text(_CARD.replace("Leek", "new"))
    meet(first, str(place))
    (second.root / "a.txt").write_text(_CARD.replace("Leek", "a").replace("3 eggs", "4 eggs"))
    (second.root / "b.txt").write_text(_CARD.replace("Leek", "b").replace("3 eggs", "5 eggs"))
    return first, second, place


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills are tried where a process can fork")
@pytest.mark.parametrize("count", range(1, 200) if _LONG else (2, 9, 16, 23, 30, 37, 44, 51))
def test_a_sync_killed_at_any_write_is_mended(tmp_path: Path, count: int) -> None:
    """Whatever write a sync dies at, the next sync of both ends alike, with every edit in place and none invented."""
    first, second, place = prepared(tmp_path)
    in_child(lambda: meet(second, str(place)), count)
    history = open_history(second)
    for _ in range(3):
        for box in (second, first):
            outcome = meet(box, str(place))
    assert files(first) == files(second)
    found = files(first)
    assert set(found) == {"a.txt", "b.txt", "pies/c.txt", "new.txt"}
    assert b"2 cups milk" in found["a.txt"]
    assert b"4 eggs" in found["a.txt"]
    assert b"5 eggs" in found["b.txt"]
    assert outcome.open == 0
    # Nothing that came from the other laptop was recorded as this one's edit.
    for commit_id in history.graph.ancestors([history.own] if history.own else []):
        commit = history.commit(commit_id)
        if commit.message.laptop_id == second.laptop_id and commit.parents:
            changed = history.store.changes(history.commit(commit.parents[0]).tree, commit.tree)
            assert changed.keys() <= {"a.txt", "b.txt"}
    assert not list(second.root.rglob(".recipebox-*.tmp"))
    assert not list(place.rglob("*.tmp"))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills are tried where a process can fork")
@pytest.mark.parametrize("count", range(1, 60) if _LONG else (3, 8, 13))
def test_taking_a_box_killed_at_any_write_goes_on(tmp_path: Path, count: int) -> None:
    """A new laptop whose first sync died has the whole box after the next one."""
    first, _, place = prepared(tmp_path)

    def take() -> None:
        meet(take_box(tmp_path / "third", str(place), laptop="third"), str(place))

    in_child(take, count)
    from recipebox.box import NoBoxError, find

    try:
        third = find(tmp_path / "third")
    except NoBoxError:
        third = take_box(tmp_path / "third", str(place), laptop="third")
    meet(third, str(place), join=True)
    assert files(third) == files(first)
