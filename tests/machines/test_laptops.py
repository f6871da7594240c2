"""Two or three laptops that write, move, delete, undo and meet through places that lag and get damaged."""

import contextlib
import itertools
import os
import shutil
import tempfile
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from unittest.mock import patch

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from recipebox.box import Box, create, find
from recipebox.box.here import read_here, write_here
from recipebox.history import CannotUndoError, NothingToUndoError, open_history
from recipebox.sync import meet, take_box

_LONG = os.environ.get("RECIPEBOX_LONG") == "1"
_CARDS = ("pies/leek.txt", "soups/bean.txt", "plum.txt")
_TEXT = """{title}
serves: 6

Ingredients
  2 cups {title} mix
  1 cup milk
  3 eggs

Method
  1. Stir the {title} mix into the milk.
  2. Beat in the eggs and bake.

Notes
  first note of {title}
"""

laptops = st.integers(0, 2)
cards = st.sampled_from(_CARDS)
places = st.integers(0, 1)


class Laptops(RuleBasedStateMachine):
    """What a family does, with a ledger of every note ever written."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.places = [self.folder / name for name in ("stick", "share")]
        self.boxes: list[Box] = []
        self.ticks = itertools.count(1_700_000_000)
        self.clock = patch("recipebox.history.history.time", SimpleNamespace(time=lambda: next(self.ticks)))
        self.clock.start()
        self.count = itertools.count()
        self.written: dict[str, str] = {}
        self.taken_out: set[str] = set()
        self.unsure: set[str] = set()
        self.torn: dict[Path, str] = {}

    def teardown(self) -> None:
        try:
            if self.boxes:
                self.settle_down()
        finally:
            self.clock.stop()
            shutil.rmtree(self.folder, ignore_errors=True)

    @initialize()
    def start(self) -> None:
        for place in self.places:
            place.mkdir()
        box = self._numbered(create(self.folder / "laptop0", "laptop0"), 0)
        for path in _CARDS:
            file = box.root / path
            file.parent.mkdir(exist_ok=True)
            file.write_text(_TEXT.format(title=file.stem), newline="")
        for place in self.places:
            meet(box, str(place))
        self.boxes = [box]
        for name in ("laptop1", "laptop2"):
            other = self._numbered(take_box(self.folder / name, str(self.places[0]), laptop=name), len(self.boxes))
            for place in self.places:
                meet(other, str(place))
            self.boxes.append(other)

    @rule(laptop=laptops, card=cards)
    def add_a_note(self, laptop: int, card: str) -> None:
        file = self.boxes[laptop].root / card
        if not file.exists() or "\nNotes\n" not in file.read_text():
            return
        note = f"note{next(self.count)}x by laptop{laptop}"
        self.written[note] = card
        file.write_text(file.read_text().replace("\nNotes\n", f"\nNotes\n  {note}\n"), newline="")

    @rule(laptop=laptops, card=cards, which=st.integers(0, 5))
    def take_a_note_out(self, laptop: int, card: str, which: int) -> None:
        file = self.boxes[laptop].root / card
        lines = file.read_text().split("\n") if file.exists() else []
        notes = [line for line in lines if line.strip() in self.written]
        if notes:
            note = notes[which % len(notes)]
            self.taken_out.add(note.strip())
            file.write_text("\n".join(line for line in lines if line != note), newline="")

    @rule(laptop=laptops, card=cards, amount=st.sampled_from(["1 1/2", "2", "3"]))
    def change_an_amount(self, laptop: int, card: str, amount: str) -> None:
        file = self.boxes[laptop].root / card
        if file.exists():
            lines = file.read_text().split("\n")
            found = [
                at for at, line in enumerate(lines) if line.startswith("  ") and line.endswith("milk") and "cup" in line
            ]
            if found and not lines[found[0]].strip().startswith("-"):
                lines[found[0]] = f"  {amount} cups milk"
                file.write_text("\n".join(lines), newline="")

    @rule(laptop=laptops, card=cards)
    def delete_a_card(self, laptop: int, card: str) -> None:
        file = self.boxes[laptop].root / card
        if (
            file.exists()
            and file not in self.torn
            and len([path for path in _CARDS if (self.boxes[laptop].root / path).exists()]) > 1
        ):
            self.unsure.update(note for note, its in self.written.items() if its == card)
            file.unlink()

    @rule(laptop=laptops, card=cards)
    def tear_a_card(self, laptop: int, card: str) -> None:
        file = self.boxes[laptop].root / card
        if file.exists() and file not in self.torn:
            self.torn[file] = file.read_text()
            file.write_text(self.torn[file][:40], newline="")

    @rule(laptop=laptops, card=cards)
    def mend_a_card(self, laptop: int, card: str) -> None:
        file = self.boxes[laptop].root / card
        if file in self.torn:
            file.write_text(self.torn.pop(file), newline="")

    @rule(laptop=laptops, place=places, yes=st.booleans())
    def sync(self, laptop: int, place: int, yes: bool) -> None:
        meet(self.boxes[laptop], str(self.places[place]), yes=yes)

    @rule(laptop=laptops)
    def undo_a_sync(self, laptop: int) -> None:
        with contextlib.suppress(NothingToUndoError, CannotUndoError):
            open_history(self.boxes[laptop]).undo()

    @precondition(lambda self: any(self._bundles()))
    @rule(which=st.integers(0, 20), how=st.sampled_from(["half", "flip", "gone", "copy"]))
    def damage_a_bundle(self, which: int, how: str) -> None:
        files = sorted(self._bundles())
        file = files[which % len(files)]
        content = bytearray(file.read_bytes())
        if how == "gone":
            file.unlink()
        elif how == "copy":
            shutil.copy(file, file.with_name(f"{file.stem} (1).bundle"))
        elif how == "half":
            file.write_bytes(content[: len(content) // 2])
        elif content:
            content[len(content) // 2] ^= 1
            file.write_bytes(content)

    @invariant()
    def every_box_can_be_read(self) -> None:
        for box in self.boxes:
            assert find(box.root).box_id == box.box_id

    def settle_down(self) -> None:
        """Once edits stop and all have met, boxes are byte-identical, and every note stands where it must."""
        for file, text in self.torn.items():
            file.write_text(text, newline="")
        for _ in range(9):
            before = [self._files(box) for box in self.boxes]
            for box in self.boxes:
                for place in self.places:
                    outcome = meet(box, str(place), yes=True)
            if [self._files(box) for box in self.boxes] == before and all(f == before[0] for f in before):
                break
        assert outcome.stopped is None
        boxes = [self._files(box) for box in self.boxes]
        assert boxes[0] == boxes[1] == boxes[2]
        assert len({open_history(box).head for box in self.boxes}) == 1
        text = b"\n".join(boxes[0].values()).decode()
        for note in self.written:
            if note not in self.taken_out and note not in self.unsure:
                assert note in text, f"{note} was lost"
            if note in self.taken_out and note not in self.unsure:
                assert note not in text, f"{note} came back"
        sure = open_history(self.boxes[0])
        for note in self.unsure & self._recorded():
            assert sure.find(note), f"{note} is not even in history"

    def _numbered(self, box: Box, number: int) -> Box:
        """The same ids in every run: what is random in them must not make runs differ."""
        ids = {"box_id": "b" * 32, "laptop_id": f"{number}" * 16}
        write_here(box.hidden, replace(read_here(box.hidden), **ids))
        return find(box.root)

    def _recorded(self) -> set[str]:
        return {note for note in self.written if any(open_history(box).find(note) for box in self.boxes)}

    def _bundles(self) -> list[Path]:
        return [file for place in self.places for file in place.rglob("*.bundle")]

    def _files(self, box: Box) -> dict[str, bytes]:
        files = [file for file in box.root.rglob("*") if file.is_file()]
        names = {file.relative_to(box.root).as_posix(): file.read_bytes() for file in files}
        return {name: data for name, data in sorted(names.items()) if not name.startswith(".")}


TestLaptops = Laptops.TestCase
TestLaptops.settings = settings(
    max_examples=200 if _LONG else 4, stateful_step_count=40 if _LONG else 14, deadline=None
)
TestLaptops = pytest.mark.long(TestLaptops) if _LONG else TestLaptops
