"""A process that dies at any change of a disk: the next run mends it, and nothing is lost or taken for an edit."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path

import pytest

from recipebox.box import Box, NoBoxError, find
from recipebox.sync import meet, take_box
from tests.machines.faults import LONG, apart, changes_made, files, healed, killed_at, prepared
from tests.machines.serving import served

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="kills are tried where a process can fork")


def moments(work: Callable[[], object], few: int) -> Iterable[int]:
    """Each change of a disk that work makes, or, for a short run, a few of them, the last ones among them."""
    every = range(1, changes_made(work) + 1)
    return every if LONG else sorted({*random.Random(len(every)).sample(every, min(few, len(every))), len(every) - 1})


@pytest.mark.parametrize("many", [0, 30])
def test_a_sync_killed_at_any_change_is_mended(tmp_path: Path, many: int) -> None:
    """Whatever a sync dies at, the next sync of both ends alike, with every edit in place and none invented."""
    _, whole, stick = prepared(tmp_path / "whole", many)
    for count in moments(lambda: meet(whole, str(stick)), 10):
        first, second, place = prepared(tmp_path / str(count), many)
        assert not killed_at(partial(meet, second, str(place)), count)
        healed(first, second, place, many)


def test_a_sync_with_a_server_killed_at_any_change_is_mended(tmp_path: Path) -> None:
    """So it is where the laptops meet on a git server."""
    import pygit2

    (tmp_path / "served").mkdir()
    with served(tmp_path / "served") as address:
        if address is None:
            pytest.skip("git has no daemon here")

        def prepared_there(name: str) -> tuple[Box, Box, str]:
            pygit2.init_repository(str(tmp_path / "served" / f"{name}.git"), bare=True)
            place = f"{address}/{name}.git"
            return *apart(tmp_path / name, place, 30), place

        _, whole, server = prepared_there("whole")
        for count in moments(lambda: meet(whole, server), 5):
            first, second, place = prepared_there(str(count))
            assert not killed_at(partial(meet, second, place), count)
            healed(first, second, place, 30)


def test_mending_may_be_killed_too(tmp_path: Path) -> None:
    """A sync that dies, and then dies again at any change while it mends that, is mended by the one after."""
    _, whole, stick = prepared(tmp_path / "whole", 30)
    last = changes_made(lambda: meet(whole, str(stick)))
    for first_kill in (last - 20, last - 40) if LONG else (last - 30,):
        for again in range(1, 200, 1 if LONG else 23):
            folder = tmp_path / f"{first_kill}-{again}"
            first, second, place = prepared(folder, 30)
            work = partial(meet, second, str(place))
            killed_at(work, first_kill)
            over = killed_at(work, again)
            healed(first, second, place, 30)
            if over:
                break


def test_taking_a_box_killed_at_any_change_goes_on(tmp_path: Path) -> None:
    """A new laptop whose first sync died has the whole box after the next one."""
    first, _, place = prepared(tmp_path / "family", 30)

    def take(folder: Path) -> Box:
        try:
            box = find(folder)
        except NoBoxError:
            box = take_box(folder, str(place), laptop="third")
        meet(box, str(place), join=True)
        return box

    for count in moments(lambda: take(tmp_path / "whole"), 8):
        folder = tmp_path / str(count)
        assert not killed_at(partial(take, folder), count)
        assert files(take(folder)) == files(first)


SYNC = "import sys; from pathlib import Path; from recipebox.box import find; from recipebox.sync import meet; "
SYNC += "box = find(Path(sys.argv[1])); print('now', flush=True); meet(box, sys.argv[2])"


def test_a_sync_killed_at_any_time_is_mended(tmp_path: Path) -> None:
    """SIGKILL from outside after any number of microseconds, also within a write of the library's own."""
    chance = random.Random(11)
    for run in range(300 if LONG else 5):
        first, second, place = prepared(tmp_path / str(run), 30)
        process = subprocess.Popen([sys.executable, "-c", SYNC, str(second.root), str(place)], stdout=subprocess.PIPE)
        assert process.stdout is not None
        assert process.stdout.readline() == b"now\n"
        time.sleep(chance.random() * 0.25)
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
        healed(first, second, place, 30)
