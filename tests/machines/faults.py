"""Ways to go wrong at a chosen moment: every change of a disk is counted, by Python or by libgit2 for us."""

import os
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from typing import Any

from recipebox.box import Box, create, system
from recipebox.history.objects import Objects, written
from recipebox.history.store import Store
from recipebox.sync import meet, take_box

LONG = os.environ.get("RECIPEBOX_LONG") == "1"
CARD = (
    "Leek Pie\n\nIngredients\n  2 cups leeks\n  1 cup milk\n  3 eggs\n\n"
    "Method\n  1. Bake the leeks with milk and eggs.\n"
)
_CALLS = (
    "open",
    "write",
    "replace",
    "rename",
    "link",
    "unlink",
    "mkdir",
    "rmdir",
    "fsync",
    "sync",
    "ftruncate",
    "utime",
)
_LIBRARY = ("put_object", "put_commit", "set_ref")
_WRITES = os.O_WRONLY | os.O_RDWR


@contextmanager
def at_each_change(happen: Callable[[], None]) -> Iterator[None]:
    """Call `happen` before each change of a disk. Reading is passed over."""
    busy = threading.local()

    def watched(real: Callable[..., Any], name: str) -> Callable[..., Any]:
        def call(*words: Any, **more: Any) -> Any:
            reads = name == "open" and not (len(words) > 1 and words[1] & _WRITES)
            if not reads and not getattr(busy, "on", False):
                busy.on = True
                try:
                    with written(words[0].folder) if name in _LIBRARY else nullcontext():
                        happen()
                finally:
                    busy.on = False
            return real(*words, **more)

        return call

    places: list[tuple[Any, str]] = [(os, name) for name in _CALLS if hasattr(os, name)]
    places += [(system, "_rename_specially"), (Objects, "put_object"), (Store, "put_commit"), (Store, "set_ref")]
    assert {name for _, name in places[-3:]} == set(_LIBRARY)
    before = [(place, name, getattr(place, name)) for place, name in places]
    try:
        for place, name, real in before:
            setattr(place, name, watched(real, name))
        yield
    finally:
        for place, name, real in before:
            setattr(place, name, real)


def changes_made(work: Callable[[], object]) -> int:
    """How many changes of a disk some work makes."""
    count = 0

    def one() -> None:
        nonlocal count
        count += 1

    with at_each_change(one):
        work()
    return count


def killed_at(work: Callable[[], object], count: int) -> bool:
    """Do work in a child process that SIGKILL ends just before its `count`-th change; True if it got to the end."""
    child = os.fork()
    if not child:
        left = count

        def one() -> None:
            nonlocal left
            left -= 1
            if left <= 0:
                os.kill(os.getpid(), signal.SIGKILL)

        try:
            with at_each_change(one), suppress(Exception):
                work()
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status) == 0


def files(box: Box) -> dict[str, bytes]:
    found = [file for file in box.root.rglob("*") if file.is_file() and ".recipebox" not in file.parts]
    return {file.relative_to(box.root).as_posix(): file.read_bytes() for file in sorted(found)}


def prepared(folder: Path, many: int = 0) -> tuple[Box, Box, Path]:
    """Two laptops that know one another by a stick, each with edits that the other has not seen."""
    place = folder / "stick"
    place.mkdir(parents=True)
    return *apart(folder, str(place), many), place


def apart(folder: Path, place: str, many: int = 0) -> tuple[Box, Box]:
    """Two laptops that met at a place, each with edits that the other has not seen; `many` new cards on the first."""
    first = create(folder / "first", "first")
    for name in ("a", "b", "c"):
        (first.root / f"{name}.txt").write_text(CARD.replace("Leek", name))
    meet(first, place)
    second = take_box(folder / "second", place, laptop="second")
    meet(second, place)
    (first.root / "a.txt").write_text(CARD.replace("Leek", "a").replace("1 cup", "2 cups"))
    (first.root / "pies").mkdir()
    (first.root / "c.txt").rename(first.root / "pies/c.txt")
    (first.root / "new.txt").write_text(CARD.replace("Leek", "new"))
    for number in range(many):
        (first.root / f"many{number}.txt").write_text(CARD.replace("Leek", f"many{number}"))
    meet(first, place)
    (second.root / "a.txt").write_text(CARD.replace("Leek", "a").replace("3 eggs", "4 eggs"))
    (second.root / "b.txt").write_text(CARD.replace("Leek", "b").replace("3 eggs", "5 eggs"))
    return first, second


def healed(first: Box, second: Box, place: Path | str, many: int = 0) -> None:
    """After some more syncs both ends are alike, with every edit in place and none invented, and nothing lies about."""
    from recipebox.history import open_history

    for _ in range(3):
        for box in (second, first):
            outcome = meet(box, str(place))
    found = files(first)
    assert found == files(second)
    assert set(found) == {"a.txt", "b.txt", "pies/c.txt", "new.txt", *(f"many{number}.txt" for number in range(many))}
    assert b"2 cups milk" in found["a.txt"]
    assert b"4 eggs" in found["a.txt"]
    assert b"5 eggs" in found["b.txt"]
    assert outcome.open == 0
    history = open_history(second)
    for commit_id in history.graph.ancestors([history.own] if history.own else []):
        commit = history.commit(commit_id)
        if commit.message.laptop_id == second.laptop_id and commit.parents:
            changed = history.store.changes(history.commit(commit.parents[0]).tree, commit.tree)
            assert changed.keys() <= {"a.txt", "b.txt"}, "what came from the first laptop was taken for an edit here"
    for folder in (first.root, second.root, *([place] if isinstance(place, Path) else [])):
        assert not list(folder.rglob("*.tmp"))
        assert not list(folder.rglob("tmp_*"))
