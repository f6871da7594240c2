"""Several files as one, whatever happens half way."""

import os
import signal
from collections.abc import Callable
from pathlib import Path

import pytest

from recipebox.box import (
    Box,
    BoxError,
    ChangedUnderneathError,
    NotWrittenError,
    Step,
    carry_out,
    create,
    interrupted,
    recover,
    scan,
    sweep,
    system,
)

BEFORE = {"a.txt": b"a one", "c/c.txt": b"c one", "gone.txt": b"gone one"}
AFTER = {"a.txt": b"a two", "c/c.txt": b"c two", "new/n.txt": b"n two"}
STEPS = [Step(path, BEFORE.get(path), AFTER.get(path)) for path in sorted(BEFORE | AFTER)]
CALLS = ("open", "write", "fsync", "replace", "link", "unlink", "mkdir", "rmdir")


def fill(box: Box, files: dict[str, bytes]) -> None:
    for path, data in files.items():
        (box.root / path).parent.mkdir(parents=True, exist_ok=True)
        (box.root / path).write_bytes(data)


def files(box: Box) -> dict[str, bytes]:
    return {path: (box.root / path).read_bytes() for path in scan(box).files}


def killed_at(call: int, act: Callable[[], object]) -> bool:
    """Do something in a process that dies, as from a power cut, before its n-th call to the system; whether it did."""
    child = os.fork()
    if child == 0:
        count = 0

        def counted(really):  # type: ignore[no-untyped-def]
            def counting(*args, **named):  # type: ignore[no-untyped-def]
                nonlocal count
                count += 1
                if count > call:
                    os.kill(os.getpid(), signal.SIGKILL)
                return really(*args, **named)

            return counting

        for name in CALLS:
            setattr(os, name, counted(getattr(os, name)))
        system._rename_specially = counted(system._rename_specially)
        try:
            act()
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def test_all_is_carried_out(box: Box) -> None:
    """Files are replaced, made and removed together and no note is left."""
    fill(box, BEFORE)
    carry_out(box, "sync", STEPS)
    assert files(box) == AFTER
    assert not interrupted(box)
    assert recover(box) is None


def test_one_changed_file_stops_all(box: Box) -> None:
    """If one file is not what was read, none is touched and the error names it."""
    fill(box, BEFORE | {"c/c.txt": b"theirs"})
    with pytest.raises(ChangedUnderneathError, match=r"c/c.txt"):
        carry_out(box, "sync", STEPS)
    assert files(box) == BEFORE | {"c/c.txt": b"theirs"}
    assert not interrupted(box)


@pytest.mark.parametrize("finish", [True, False])
@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork to count system calls in a child")
def test_killed_at_any_point_it_is_finished_or_undone(tmp_path: Path, finish: bool) -> None:
    """Killed before any system call, `recover` (itself killed at every third) gives the state before or the state
    after, whole; if the note was written it is the one asked for, and no temporary file stays.
    """
    call = 0
    seen = set()
    while True:
        box = create(tmp_path / str(call), "kitchen")
        fill(box, BEFORE)
        died = killed_at(call, lambda box=box: carry_out(box, "sync", STEPS, {"to": "abc"}))
        noted = interrupted(box)
        if call % 3 == 0:
            killed_at(call % 40, lambda box=box: recover(box, finish=finish))
        still = interrupted(box)
        told = recover(box, finish=finish)
        if still:
            assert told is not None
            assert (told.what, told.data, told.edited) == ("sync", {"to": "abc"}, ())
            assert set(told.finished) == {step.path for step in STEPS}
        now = files(box)
        assert now == ((AFTER if finish else BEFORE) if noted else now)
        assert now in (BEFORE, AFTER)
        seen.add((noted, now == AFTER))
        assert scan(box).leftovers == ()
        assert not interrupted(box)
        if not died:
            break
        call += 1
    assert call > 40
    assert (True, finish) in seen
    assert {(False, False), (False, True)} <= seen  # before the note, and after all was done


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork to count system calls in a child")
def test_somebodys_edit_is_told_from_a_step_not_taken(tmp_path: Path) -> None:
    """After a kill, a file that is neither as before nor as after is somebody's: it stays and is named."""
    call = 0
    while True:
        box = create(tmp_path / str(call), "kitchen")
        fill(box, BEFORE)
        died = killed_at(call, lambda box=box: carry_out(box, "sync", STEPS))
        if interrupted(box):
            (box.root / "a.txt").write_bytes(b"theirs")
            told = recover(box)
            assert told is not None
            assert told.edited == ("a.txt",)
            assert files(box) == AFTER | {"a.txt": b"theirs"}
        if not died:
            break
        call += 5


def test_a_full_disk_leaves_all_as_before(box: Box, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whichever write the disk fills at, all files are as before, or the note waits and `recover` finishes."""
    fill(box, BEFORE)
    really = os.write
    limit = 0
    for limit in range(30):
        count = 0

        def filling(handle: int, data: bytes, limit: int = limit) -> int:
            nonlocal count
            count += 1
            if count > limit:
                raise OSError(28, "No space left on device")
            return really(handle, data)

        monkeypatch.setattr("os.write", filling)
        try:
            carry_out(box, "sync", STEPS)
        except NotWrittenError as error:
            assert "full" in str(error)
        else:
            break
        finally:
            monkeypatch.setattr("os.write", really)
        if interrupted(box):
            recover(box, finish=False)
        assert files(box) == BEFORE
        assert scan(box).leftovers == ()
    assert limit > 5
    assert files(box) == AFTER


def test_a_change_waiting_is_not_written_over(box: Box) -> None:
    """While one change lies half done no other begins."""
    fill(box, BEFORE)
    (box.hidden / "journal").mkdir()
    (box.hidden / "journal" / "intent.json").write_text("{")
    with pytest.raises(BoxError, match="waits to be finished"):
        carry_out(box, "sync", STEPS)
    with pytest.raises(BoxError, match="damaged"):
        recover(box)
    assert files(box) == BEFORE


def test_sweeping_takes_only_our_own(box: Box) -> None:
    """Leftovers of a killed recipebox are removed, and nothing that has another name."""
    fill(box, {"a/.recipebox-1.tmp": b"", "b.txt": b"b"})
    sweep(box, [*scan(box).leftovers, "b.txt"])
    assert [file.name for file in (box.root / "a").iterdir()] == []
    assert files(box) == {"b.txt": b"b"}
