"""A merge that dies at any moment: the box holds the old edition or the new, whole, and the next merge ends alike."""

import os
import random
import shutil
import signal
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from recipebox.box import find
from recipebox.family import merge_dish
from recipebox.history import open_history
from recipebox.index import open_index
from tests.family.conftest import Kitchen

_LONG = os.environ.get("RECIPEBOX_LONG") == "1"
_FAMILY = "family/leek-pot.txt"
_CALLS = ("open", "write", "fsync", "replace", "rename", "link", "unlink", "mkdir", "rmdir", "truncate")

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="kills are tried where a process can fork")


def _merge(root: Path) -> None:
    box = find(root)
    index = open_index(box)
    merge_dish(box, index, open_history(box), "Leek Pot", write=True, why="creamier")
    index.close()


def _dies_at(call: int) -> None:
    """Let this process be killed, as by a power cut, before its n-th change of the disk."""
    left = [call]

    def dying(really: Callable[..., object]) -> Callable[..., object]:
        def counted(*args: object, **named: object) -> object:
            left[0] -= 1
            if left[0] < 0:
                os.kill(os.getpid(), signal.SIGKILL)
            return really(*args, **named)

        return counted

    for name in _CALLS:
        if hasattr(os, name):
            setattr(os, name, dying(getattr(os, name)))


def _in_child(work: Callable[[], object]) -> int:
    child = os.fork()
    if child == 0:
        try:
            work()
        finally:
            os._exit(0)
    return child


def _ended(child: int) -> bool:
    """Whether a child came to its end by itself."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0


def _with_an_edition(kitchen: Kitchen) -> tuple[Path, bytes]:
    path = kitchen.merge().data["path"]
    assert path == _FAMILY
    kitchen.edit("versions/brigid.txt", "500 ml milk", "550 ml milk")
    kitchen.edit("versions/brigid.txt", "700 g cod", "750 g cod")
    kitchen.index.close()
    return kitchen.box.root, (kitchen.box.root / _FAMILY).read_bytes()


def _whole(root: Path, old: bytes) -> None:
    """Old or new, nothing else; then merged once more: new, recorded as a merge, with its reason, once."""
    now = (root / _FAMILY).read_bytes()
    if now != old:
        assert b"550 ml milk" in now
        assert b"750 g cod" in now
        assert now.count(b"\n") == old.count(b"\n")
    _merge(root)
    new = (root / _FAMILY).read_bytes()
    assert now in (old, new)
    history = open_history(find(root))
    editions = history.editions(_FAMILY)
    assert [edition.text for edition in editions] == [old, new]
    assert [edition.why for edition in editions][1:] == ["creamier"]
    assert "merge" in editions[-1].data
    assert not [left for left in root.rglob(".recipebox-*") if ".recipebox" not in left.parts]


@pytest.mark.parametrize("part", range(100) if _LONG else range(2))
def test_a_renewal_killed_at_any_write(kitchen: Kitchen, tmp_path: Path, part: int) -> None:
    """Whichever change of the disk it dies at, the family's card is whole, and what was merged is told as a merge."""
    root, old = _with_an_edition(kitchen)
    steps = range(part, 4000, 100) if _LONG else range(part * 9, 4000, 31)
    for call in steps:
        copy = tmp_path / f"at-{call}"
        shutil.copytree(root, copy)
        went_on = _ended(_in_child(lambda at=call, to=copy: (_dies_at(at), _merge(to))))  # type: ignore[misc]
        _whole(copy, old)
        shutil.rmtree(copy)
        if went_on:
            return
    raise AssertionError("it never came to its end")


@pytest.mark.parametrize("seed", range(60) if _LONG else range(3))
def test_a_renewal_killed_at_any_time(kitchen: Kitchen, seed: int) -> None:
    """Killed by the clock, within a library's own writing too: the same."""
    root, old = _with_an_edition(kitchen)
    child = _in_child(lambda: _merge(root))
    time.sleep(random.Random(seed).uniform(0.0, 0.4))
    os.kill(child, signal.SIGKILL)
    _ended(child)
    _whole(root, old)
