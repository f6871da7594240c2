"""A family's laptops with real boxes on a disk, a folder and a git server to meet at."""

import contextlib
import itertools
import shutil
import tempfile
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from random import Random
from types import SimpleNamespace
from unittest.mock import patch

from recipebox.box import Box, BoxError, create, find
from recipebox.box.here import read_here, write_here
from recipebox.family import merge_dish
from recipebox.history import CannotUndoError, NothingToUndoError, open_history
from recipebox.index import open_index
from recipebox.sync import meet, take_box
from tests.machines.laptops import Home, World


class Disk(World):
    """The family. `served` is where a git server serves `serving` from; without one both places are folders."""

    served: str | None = None
    serving: Path | None = None
    _number = itertools.count()

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        (self.folder / "stick").mkdir()
        self.places = [str(self.folder / "stick"), self._second()]
        ticks = itertools.count(1_700_000_000)
        self.clock = patch("recipebox.history.history.time", SimpleNamespace(time=lambda: next(ticks)))
        self.clock.start()
        self.homes = 0

    def first(self, files: Mapping[str, bytes]) -> Home:
        home = DiskHome(self, self._numbered(create(self.folder / "laptop0", "laptop0")))
        for path, data in files.items():
            home.put(path, data)
        return home

    def another(self, place: int) -> Home:
        name = f"laptop{self.homes}"
        box = self._numbered(take_box(self.folder / name, self.places[place], laptop=name))
        home = DiskHome(self, box)
        home.sync(place, True)
        return home

    def close(self) -> None:
        self.clock.stop()
        shutil.rmtree(self.folder, ignore_errors=True)

    def bundles(self) -> list[Path]:
        """What lies at the place that is a folder."""
        return sorted((self.folder / "stick").rglob("*.bundle"))

    def _second(self) -> str:
        if self.served is None or self.serving is None:
            (self.folder / "share").mkdir()
            return str(self.folder / "share")
        import pygit2

        name = f"{next(self._number)}.git"
        pygit2.init_repository(str(self.serving / name), bare=True)
        return f"{self.served}/{name}"

    def _numbered(self, box: Box) -> Box:
        """The same ids in every run: what is random in them must not make runs differ."""
        ids = {"box_id": "b" * 32, "laptop_id": f"{self.homes + 1}" * 16}
        self.homes += 1
        write_here(box.hidden, replace(read_here(box.hidden), **ids))
        return find(box.root)


class DiskHome(Home):
    """One laptop. `torn` has cards as they stood before a copy broke off."""

    def __init__(self, world: Disk, box: Box) -> None:
        self.world, self.box = world, box
        self.torn: dict[str, bytes] = {}

    def files(self) -> dict[str, bytes]:
        found = [file for file in self.box.root.rglob("*") if file.is_file()]
        names = {file.relative_to(self.box.root).as_posix(): file.read_bytes() for file in found}
        return {name: data for name, data in sorted(names.items()) if not name.startswith(".")} | self.torn

    def whole(self) -> dict[str, bytes]:
        return {path: data for path, data in self.files().items() if path not in self.torn}

    def put(self, path: str, data: bytes | None) -> None:
        self.torn.pop(path, None)
        file = self.box.root / path
        if data is not None:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(data)
        else:
            file.unlink(missing_ok=True)

    def tear(self, path: str) -> None:
        """A copy of this card breaks off."""
        whole = self.files()[path]
        self.put(path, whole[:40])
        self.torn[path] = whole

    def sync(self, place: int, yes: bool, few: int | None = None) -> None:
        outcome = meet(self.box, self.world.places[place], yes=yes, as_is=self._as_is())
        assert yes or outcome.stopped is None or outcome.stopped.cards

    def undo_sync(self) -> None:
        history = open_history(self.box)
        history.snapshot("Edited by hand", as_is=self._as_is())
        todo = history.undoable()
        if todo and todo[0].what == "sync":
            with contextlib.suppress(NothingToUndoError, CannotUndoError):
                history.undo()

    def remember(self, command: bool = False) -> str | None:
        history = open_history(self.box)
        history.snapshot("Settled", {"command": "settle"} if command else None, as_is=self._as_is())
        return history.head

    def undo_act(self, before: str | None, after: str) -> bool:
        self.remember()
        history = open_history(self.box)
        todo = history.undoable()
        if not todo or todo[0].id != after:
            return False
        history.undo()
        return True

    def knows(self, word: str) -> bool:
        history = open_history(self.box)
        if history.find(word):
            return True
        return any(word.encode() in data for data in self._recorded_pictures())

    def state(self) -> str | None:
        return open_history(self.box).head

    def agree(self, dish: list[str], chance: Random) -> None:
        history, index = open_history(self.box), open_index(self.box)
        try:
            history.snapshot("Edited by hand", as_is=self._as_is())
            with contextlib.suppress(BoxError):
                merge_dish(self.box, index, history, dish[0], write=True)
        finally:
            index.close()

    def _as_is(self) -> list[str]:
        return [path for path in self.files() if path not in self.torn]

    def _recorded_pictures(self) -> list[bytes]:
        history = open_history(self.box)
        states = history.graph.ancestors(history.heads())
        blobs = {blob for one in states for path, blob in history.files(one).items() if path.endswith(".jpg")}
        return [history.store.blob(blob) for blob in sorted(blobs)]
