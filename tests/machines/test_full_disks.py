"""Disks that fill up, places that vanish, files at a place that are damaged, and an editor that saves all the while."""

import errno
import os
import random
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from recipebox.box import Box, BoxError, create
from recipebox.history import open_history
from recipebox.sync import Outcome, meet, take_box
from tests.machines.faults import CARD, LONG, at_each_change, changes_made, files, healed, prepared


def moments(folder: Path, few: int) -> list[int]:
    """Numbers of all changes of a disk that a sync makes, or, for a short run, of a few."""
    _, second, place = prepared(folder)
    every = range(1, changes_made(lambda: meet(second, str(place))) + 1)
    return list(every) if LONG else sorted(random.Random(3).sample(every, few))


def test_a_disk_full_at_any_write_loses_nothing(tmp_path: Path) -> None:
    """Whichever write finds the disk full: one clear line or a place named as refused, and the next sync heals it."""
    for count in moments(tmp_path / "whole", 12):
        first, second, place = prepared(tmp_path / str(count))
        before = files(second)
        said = synced_until_full(second, place, count)
        assert "\n" not in said
        assert set(files(second)) >= {"a.txt", "b.txt"}
        whole = {path: data for path, data in files(second).items() if not path.endswith(".tmp")}
        assert all(data.startswith(before.get(path, b"")[:1]) and data.endswith(b".\n") for path, data in whole.items())
        healed(first, second, place)


def synced_until_full(box: Box, place: Path, count: int) -> str:
    """Sync on a disk that takes no more from the `count`-th change on; what it says."""
    left = count

    def full() -> None:
        nonlocal left
        left -= 1
        if left <= 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with at_each_change(full):
        try:
            return meet(box, str(place)).places[0].why
        except BoxError as error:
            return str(error)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 3 MB, really full when it is full."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = shutil.which("mount")
    command = [mount or "mount", "-t", "tmpfs", "-o", "size=3m", "recipebox-test", str(folder)]
    if mount is None or subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip("no small disk may be made here")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)  # history still has its files open


def test_a_really_full_disk_loses_nothing(tmp_path: Path, small_disk: Path) -> None:
    """With any amount of room left on the box's own disk a sync ends in a line, and heals once there is room."""
    for run, room in enumerate(range(0, 200, 4 if LONG else 40)):
        first, second, place = prepared(tmp_path / str(run), 30)
        moved = small_disk / "second"
        shutil.copytree(second.root, moved)
        shutil.rmtree(second.root)
        second = Box(moved, second.box_id, second.laptop_id, second.laptop, moved / ".recipebox")
        filler = small_disk / "filler"
        free = shutil.disk_usage(small_disk).free
        filler.write_bytes(b"x" * max(free - room * 1024, 0))
        try:
            meet(second, str(place))
        except BoxError as error:
            assert "\n" not in str(error)
        filler.unlink()
        healed(first, second, place, 30)
        shutil.rmtree(moved)


def test_a_stick_pulled_at_any_moment_loses_nothing(tmp_path: Path) -> None:
    """A place that vanishes midway is told; the box is whole, and the next sync with the stick heals it."""
    for count in moments(tmp_path / "whole", 10):
        first, second, place = prepared(tmp_path / str(count))
        outcome = synced_until_pulled(second, place, count)
        assert outcome.places[0].state in ("met", "refused", "not there", "incomplete")
        if not place.exists():
            assert meet(second).places[0].state == "not there"
            assert not place.exists(), "an unplugged stick is an empty mount point: nothing is made there"
            place.with_name("pulled").rename(place)
        healed(first, second, place)


def synced_until_pulled(box: Box, place: Path, count: int) -> Outcome:
    """Sync with a stick that is pulled before the `count`-th change."""
    left = count

    def pulled() -> None:
        nonlocal left
        left -= 1
        if left == 0:
            place.rename(place.with_name("pulled"))

    with at_each_change(pulled):
        return meet(box, str(place))


def test_damaged_files_at_a_place_heal(tmp_path: Path) -> None:
    """Files at a place cut off, gone, doubled or with bits flipped: never half taken, and healed by who left them."""
    chance = random.Random(5)
    place = tmp_path / "stick"
    place.mkdir()
    boxes = [create(tmp_path / "laptop0", "laptop0")]
    (boxes[0].root / "a.txt").write_text(CARD)
    meet(boxes[0], str(place))
    for name in ("laptop1", "laptop2"):
        boxes.append(take_box(tmp_path / name, str(place), laptop=name))
        meet(boxes[-1], str(place))
    notes = []
    for trial in range(1_000 if LONG else 100):
        box = chance.choice(boxes)
        note = f"note {trial} of {box.laptop}"
        notes.append(note)
        with (box.root / f"{box.laptop}.txt").open("a") as file:
            file.write(f"{note}\n")
        meet(box, str(place))
        for _ in range(chance.randint(1, 3)):
            damage(chance, sorted(place.rglob("*.bundle")))
        seen = chance.choice(boxes)
        before = files(seen)
        outcome = meet(seen, str(place))
        assert outcome.places[0].state in ("met", "incomplete")
        after = files(seen)
        assert before.keys() <= after.keys()
        assert all(data.endswith(b"\n") for data in after.values())
    for box in boxes * 3:
        outcome = meet(box, str(place))
    assert outcome.places[0].state == "met"
    assert files(boxes[0]) == files(boxes[1]) == files(boxes[2])
    text = b"\n".join(files(boxes[0]).values()).decode().splitlines()
    assert all(text.count(note) == 1 for note in notes)
    assert not any(open_history(box).set_aside() for box in boxes)


def damage(chance: random.Random, bundles: list[Path]) -> None:
    if not bundles:
        return
    file = chance.choice(bundles)
    data = bytearray(file.read_bytes())
    how = chance.choice(["cut", "gone", "doubled", "flipped", "empty", "all gone"])
    if how == "cut":
        file.write_bytes(data[: chance.randrange(len(data) + 1)])
    elif how == "gone":
        file.unlink()
    elif how == "doubled":
        shutil.copy(file, file.with_name(f"{file.stem} (conflicted copy).bundle"))
    elif how == "empty":
        file.write_bytes(b"")
    elif how == "all gone":
        shutil.rmtree(file.parent)
    elif data:
        for _ in range(chance.randint(1, 4)):
            data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        file.write_bytes(data)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="where files can be exchanged, no moment is too short")
def test_an_editor_that_saves_during_a_sync_loses_nothing(tmp_path: Path) -> None:
    """A card saved by an editor at any moment of a sync, in place or by renaming, still stands there afterwards."""
    first, second, place = prepared(tmp_path)
    for box in (second, first, second):
        meet(box, str(place))
    chance = random.Random(9)
    changes = 40
    written = 0
    for trial in range(1_000 if LONG else 100):
        card = first.root / "a.txt"
        card.write_text(re.sub(r"Bake the.*", f"Bake the leeks with milk and eggs ({trial}).", card.read_text()))
        meet(first, str(place))
        word = f"written{trial}x"
        made, saved = synced_while_saving(second, place, chance.randint(1, changes), word, by_renaming=bool(trial % 2))
        changes = max(made, 12)
        if saved:
            written += 1
            assert word in (second.root / "a.txt").read_text()
            meet(second, str(place))
            assert word in (second.root / "a.txt").read_text()
            assert f"eggs ({trial})" in (second.root / "a.txt").read_text()
    meet(first, str(place))
    assert written > 20
    assert files(first) == files(second)


def synced_while_saving(box: Box, place: Path, at: int, word: str, by_renaming: bool) -> tuple[int, bool]:
    """Sync while an editor saves a word more before the `at`-th change: changes made, and whether it saved."""
    made = 0
    card = box.root / "a.txt"

    def save() -> None:
        nonlocal made
        made += 1
        if made == at:
            text = card.read_text().partition("\nNotes")[0] + f"\nNotes\n  {word}\n"
            if by_renaming:
                (box.root / "saved.tmp").write_text(text)
                (box.root / "saved.tmp").replace(card)
            else:
                card.write_text(text)

    with at_each_change(save):
        meet(box, str(place))
    return made, made >= at
