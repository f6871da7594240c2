"""Keeping the index current while files change."""

import os
import queue
import shutil
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from typing import Any

import pytest

from recipebox.box import Box, BoxError
from recipebox.index import Index, open_index, watch

FIG = "Fig Tart\n\nIngredients\n5 figs\n1 cup flour\n\nMethod\n1. Mix.\n2. Bake.\n"


class Watcher:
    """A watch that runs beside the test, with the events it told."""

    def __init__(self, box: Box) -> None:
        self.stop = threading.Event()
        self.told: queue.Queue[dict[str, Any]] = queue.Queue()
        self.error: BoxError | None = None
        self.thread = threading.Thread(target=self._run, args=(box,))
        self.thread.start()
        assert self.next() == {"what": "ready"}

    def _run(self, box: Box) -> None:
        try:
            watch(box, self.told.put, self.stop)
        except BoxError as error:
            self.error = error

    def next(self, seconds: float = 5) -> dict[str, Any]:
        return self.told.get(timeout=seconds)

    def all(self, seconds: float = 0.6) -> list[tuple[str, str, str | None]]:
        """Events until none came for a while."""
        found = []
        while True:
            try:
                event = self.next(5 if not found else seconds)
            except queue.Empty:
                return found
            found.append((event["what"], event["path"], event["was"]))


@pytest.fixture
def watcher(index: Index) -> Iterator[Watcher]:
    running = Watcher(index.box)
    yield running
    running.stop.set()
    running.thread.join(5)
    assert not running.thread.is_alive()


def test_a_save_can_be_found_within_a_second(watcher: Watcher, index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """An added card is told once it can be found, within a second of its save."""
    start = time.monotonic()
    put("fig.txt", FIG)
    assert watcher.next() == {"what": "added", "path": "fig.txt", "was": None}
    assert time.monotonic() - start < 1
    assert [hit.path for hit in index.find("figs").hits] == ["fig.txt"]


def test_a_rename_is_one_move(watcher: Watcher, index: Index) -> None:
    """A renamed file and a renamed folder are told as moves alone."""
    root = index.box.root
    (root / "fudge.txt").rename(root / "sweet.txt")
    assert watcher.all() == [("moved", "sweet.txt", "fudge.txt")]
    (root / "soups").rename(root / "bowls")
    assert watcher.all() == [("moved", "bowls/potato.md", "soups/potato.md")]


@pytest.mark.parametrize("how", ["in place", "by rename", "with a copy kept", "slowly"])
def test_a_save_is_one_change(watcher: Watcher, index: Index, how: str) -> None:
    """However an editor saves, one change is told, and never a half-written file."""
    file = index.box.root / "fudge.txt"
    new = file.read_text().replace("sugar", "honey")
    if how == "in place":
        file.write_text(new)
    elif how == "by rename":
        (file.parent / "4913").write_text("")
        (file.parent / "4913").unlink()
        (file.parent / "fudge.txt.new").write_text(new)
        (file.parent / "fudge.txt.new").replace(file)
    elif how == "with a copy kept":
        file.rename(file.parent / "fudge.txt~")
        file.write_text(new)
    else:
        with file.open("w") as open_file:
            for at in range(0, len(new), 20):
                open_file.write(new[at : at + 20])
                open_file.flush()
                time.sleep(0.04)
    assert watcher.all() == [("changed", "fudge.txt", None)]
    assert [hit.path for hit in index.find("honey").hits] == ["fudge.txt"]


def test_a_removed_card_is_gone(watcher: Watcher, index: Index) -> None:
    """A removed file and a removed folder are told card by card, and are found no more."""
    (index.box.root / "fudge.txt").unlink()
    assert watcher.all() == [("gone", "fudge.txt", None)]
    shutil.rmtree(index.box.root / "bakes")
    assert watcher.all() == [("gone", "bakes/leek.txt", None)]
    assert index.find("fudge").hits == ()


def test_a_file_still_being_written_holds_up_no_other(watcher: Watcher, index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """While one file is written on and on, another's save is told within about a second."""
    end = time.monotonic() + 2
    slow = put("slow.txt", FIG)

    def keep_writing() -> None:
        with slow.open("a") as file:
            while time.monotonic() < end:
                file.write("more\n")
                file.flush()
                time.sleep(0.03)

    writer = threading.Thread(target=keep_writing)
    writer.start()
    put("fig.txt", FIG.replace("Fig", "Plum"))
    first = watcher.next(1.5)
    writer.join()
    assert first["path"] == "fig.txt"
    assert watcher.all() == [("added", "slow.txt", None)]


def test_what_is_no_card_is_not_told(watcher: Watcher, put) -> None:  # type: ignore[no-untyped-def]
    """Pictures, leftovers, hidden files and texts that are no cards make no events."""
    put("photo.jpg", b"\xff\xd8")
    put(".hidden.txt", FIG)
    put("fig.txt~", FIG)
    put("empty.txt", "")
    time.sleep(0.5)
    put("fig.txt", FIG)
    assert watcher.all() == [("added", "fig.txt", None)]


def test_commands_leave_the_looking_to_a_living_watcher(index: Index, put, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    """While a watcher is alive a command's first look is skipped, and its later ones are not; afterwards none is."""
    looks: list[int] = []
    running = Watcher(index.box)
    try:
        from recipebox.index import refreshing

        really = refreshing.scan
        mine = threading.get_ident()
        monkeypatch.setattr(
            refreshing, "scan", lambda box: (looks.append(1) if threading.get_ident() == mine else None) or really(box)
        )
        with open_index(index.box) as other:
            assert other.refresh().cards == 3
            assert looks == []
            other.refresh()
            assert looks == [1]
    finally:
        running.stop.set()
        running.thread.join(5)
    with open_index(index.box) as other:
        other.refresh()
        assert looks == [1, 1]


def test_there_is_one_watcher(watcher: Watcher, index: Index) -> None:
    """A second watch of the same box says so and ends."""
    with pytest.raises(BoxError, match="watched already"):
        watch(index.box, lambda event: None, threading.Event())


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_a_signal_ends_it_with_0(index: Index, number: signal.Signals) -> None:
    """SIGTERM and Ctrl-C end a watch cleanly, and what changed meanwhile is taken in by the next look."""
    script = (
        "import sys\nfrom pathlib import Path\nfrom recipebox.box import find\nfrom recipebox.index import watch\n"
        "watch(find(Path(sys.argv[1])), lambda event: print(event['what'], flush=True))\n"
    )
    process = subprocess.Popen([sys.executable, "-c", script, str(index.box.root)], stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    assert process.stdout.readline() == "ready\n"
    (index.box.root / "fudge.txt").unlink()
    assert process.stdout.readline() == "gone\n"
    process.send_signal(number)
    assert process.wait(5) == 0
    process.stdout.close()
    os.utime(index.box.root / "bakes" / "leek.txt")
    (index.box.root / "soups" / "potato.md").unlink()
    assert index.refresh().cards == 1
