"""Reading, replacing and removing single files."""

import os
import stat
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from recipebox.box import (
    Box,
    BoxError,
    ChangedUnderneathError,
    MissingError,
    NotWrittenError,
    UnreadableError,
    UnsafePathError,
    read_file,
    remove,
    replace,
    replace_many,
    system,
)


def names(box: Box) -> list[str]:
    return sorted(str(file.relative_to(box.root)) for file in box.root.rglob("*") if ".recipebox/" not in str(file))


def test_replace_and_read_back(box: Box) -> None:
    """What is written is read back, folders are made on the way, and nothing else is left lying about."""
    replace(box, "family/pie.txt", b"one", None)
    replace(box, "family/pie.txt", b"two", b"one")
    assert read_file(box, "family/pie.txt") == b"two"
    assert names(box) == [".recipebox", "family", "family/pie.txt"]


def test_permissions_are_kept(box: Box) -> None:
    """A replaced file keeps its permissions; a new one gets the person's usual ones."""
    file = box.root / "pie.txt"
    file.write_bytes(b"one")
    file.chmod(0o640)
    replace(box, "pie.txt", b"two", b"one")
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    mask = os.umask(0o027)
    try:
        replace(box, "new.txt", b"x", None)
    finally:
        os.umask(mask)
    assert stat.S_IMODE((box.root / "new.txt").stat().st_mode) == 0o640


@pytest.mark.parametrize("expected", [None, b"other", b"on", b"one!", b""])
def test_what_changed_underneath_is_left_alone(box: Box, expected: bytes | None) -> None:
    """Whatever is on the disk but was not what we read stays, byte for byte, and the error names the file."""
    (box.root / "pie.txt").write_bytes(b"one")
    with pytest.raises(ChangedUnderneathError, match=r"pie.txt: was changed meanwhile"):
        replace(box, "pie.txt", b"two", expected)
    if expected is not None:
        with pytest.raises(ChangedUnderneathError):
            remove(box, "pie.txt", expected)
    assert (box.root / "pie.txt").read_bytes() == b"one"
    assert names(box) == [".recipebox", "pie.txt"]


def test_what_went_away_is_not_made_again(box: Box) -> None:
    """A file that was read and has gone since stays gone."""
    with pytest.raises(ChangedUnderneathError):
        replace(box, "pie.txt", b"two", b"one")
    with pytest.raises(ChangedUnderneathError):
        remove(box, "pie.txt", b"one")
    assert names(box) == [".recipebox"]


@pytest.mark.parametrize("expected", [None, b"one"])
def test_a_save_while_we_write_is_kept(box: Box, monkeypatch: pytest.MonkeyPatch, expected: bytes | None) -> None:
    """A person's save after our first look and before the rename is noticed and stays."""
    file = box.root / "pie.txt"
    if expected is not None:
        file.write_bytes(expected)
    really = os.fsync

    def saved_meanwhile(handle: int) -> None:
        really(handle)
        file.write_bytes(b"theirs")

    monkeypatch.setattr("os.fsync", saved_meanwhile)
    with pytest.raises(ChangedUnderneathError):
        replace(box, "pie.txt", b"ours", expected)
    assert file.read_bytes() == b"theirs"
    assert names(box) == [".recipebox", "pie.txt"]


@pytest.mark.parametrize("path", ["", "/etc/x", "../x", "a/../../x", "a//b", "./a", ".recipebox/here.txt", "a\0b", "."])
def test_no_path_leaves_the_box(box: Box, path: str) -> None:
    """A path that is not plainly within the box is refused for reading, writing and removing."""
    for act in (
        lambda: read_file(box, path),
        lambda: replace(box, path, b"x", None),
        lambda: remove(box, path, b"x"),
    ):
        with pytest.raises(UnsafePathError):
            act()


def test_nothing_goes_through_a_link(box: Box, tmp_path: Path) -> None:
    """Neither a linked file nor a linked folder is read, written or removed through."""
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "pie.txt").write_bytes(b"one")
    (box.root / "folder").symlink_to(outside, target_is_directory=True)
    (box.root / "pie.txt").symlink_to(outside / "pie.txt")
    (box.root / "dangling.txt").symlink_to(outside / "new.txt")
    for path in ("folder/pie.txt", "pie.txt"):
        for act in (
            lambda path=path: read_file(box, path),
            lambda path=path: replace(box, path, b"two", b"one"),
            lambda path=path: remove(box, path, b"one"),
        ):
            with pytest.raises(UnsafePathError, match="link"):
                act()
    for path in ("folder/new.txt", "dangling.txt"):
        with pytest.raises(UnsafePathError, match="link"):
            replace(box, path, b"two", None)
    assert (outside / "pie.txt").read_bytes() == b"one"
    assert [file.name for file in outside.iterdir()] == ["pie.txt"]


def test_reading_is_bounded(box: Box) -> None:
    """A file over the limit, a folder and a missing file are three different clear lines."""
    (box.root / "big.txt").write_bytes(b"x" * 11)
    assert read_file(box, "big.txt", 11) == b"x" * 11
    with pytest.raises(UnreadableError, match="larger than"):
        read_file(box, "big.txt", 10)
    (box.root / "folder").mkdir()
    with pytest.raises(UnreadableError):
        read_file(box, "folder")
    with pytest.raises(MissingError, match=r"none.txt: is not there"):
        read_file(box, "none.txt")


@pytest.mark.parametrize(
    ("number", "said"), [(28, "the disk is full"), (30, "the disk is read-only"), (13, "no permission")]
)
@pytest.mark.parametrize("call", ["os.write", "os.fsync", "os.replace", "recipebox.box.system._rename_specially"])
def test_a_disk_that_takes_nothing(
    box: Box, monkeypatch: pytest.MonkeyPatch, call: str, number: int, said: str
) -> None:
    """Full, read-only or shut: one clear line, the old file whole, and no temporary file left."""
    (box.root / "pie.txt").write_bytes(b"one")

    def fail(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    if call == "os.replace":
        monkeypatch.setattr("recipebox.box.system._rename_specially", lambda *_: False)
    monkeypatch.setattr(call, fail)
    with pytest.raises(NotWrittenError) as caught:
        replace(box, "pie.txt", b"two" * 1000, b"one")
    assert said in str(caught.value)
    assert "pie.txt" in str(caught.value)
    assert "\n" not in str(caught.value)
    assert (box.root / "pie.txt").read_bytes() == b"one"
    assert names(box) == [".recipebox", "pie.txt"]


def test_a_disk_that_fills_half_way(box: Box, monkeypatch: pytest.MonkeyPatch) -> None:
    """A write cut short by the system is gone on with; one that then fails leaves nothing behind."""
    really = os.write
    written = 0

    def slow(handle: int, data: bytes) -> int:
        nonlocal written
        written += 1
        if written > 3:
            raise OSError(28, "No space left on device")
        return really(handle, bytes(data[:2]))

    (box.root / "pie.txt").write_bytes(b"one")
    replace(box, "short.txt", b"abcd", None)
    assert read_file(box, "short.txt") == b"abcd"
    written = 0
    monkeypatch.setattr("os.write", slow)
    with pytest.raises(NotWrittenError, match="full"):
        replace(box, "pie.txt", b"0123456789", b"one")
    assert (box.root / "pie.txt").read_bytes() == b"one"
    assert names(box) == [".recipebox", "pie.txt", "short.txt"]


def test_removing_leaves_no_empty_folders(box: Box) -> None:
    """Folders that become empty go with their last file; others stay."""
    replace(box, "a/b/one.txt", b"1", None)
    replace(box, "a/two.txt", b"2", None)
    remove(box, "a/b/one.txt", b"1")
    assert names(box) == [".recipebox", "a", "a/two.txt"]


def test_errors_are_one_line_whatever_the_name(box: Box) -> None:
    """A file's name with line breaks and colours in it cannot make an error of two lines."""
    with pytest.raises(BoxError) as caught:
        read_file(box, "pie\n\x1b[31m\udce9.txt")
    assert str(caught.value).isprintable()
    str(caught.value).encode()


def save_at(monkeypatch: pytest.MonkeyPatch, at: int, save: Callable[[], None]) -> list[int]:
    """Let somebody save a file just before the `at`-th change of the disk; the list counts all of them."""
    counted = [0]

    def watched(real: Callable[..., object]) -> Callable[..., object]:
        def call(*words: object, **more: object) -> object:
            counted[0] += 1
            if counted[0] == at:
                counted[0] += 10_000  # what the save itself does is not counted
                save()
                counted[0] -= 10_000
            return real(*words, **more)

        return call

    for name in ("link", "replace", "unlink", "fsync", "open"):
        monkeypatch.setattr(os, name, watched(getattr(os, name)))
    monkeypatch.setattr(system, "_rename_specially", watched(system._rename_specially))
    return counted


@pytest.mark.skipif(not hasattr(os, "fork"), reason="where files can be exchanged")
@pytest.mark.parametrize("act", ["replace", "replace_many", "remove"])
@pytest.mark.parametrize("by_renaming", [True, False])
@pytest.mark.parametrize("at", range(1, 16))
def test_a_save_at_any_moment_of_a_replacement_is_kept(
    box: Box, monkeypatch: pytest.MonkeyPatch, act: str, by_renaming: bool, at: int
) -> None:
    """Whenever an editor saves while a file is replaced or removed, its text stands there afterwards or is told of."""
    file = box.root / "pie.txt"
    file.write_bytes(b"one")
    texts = {"1": b"one", "2": b"two"}

    def save() -> None:
        if by_renaming:
            (box.root / "new").write_bytes(b"edited")
            (box.root / "new").rename(file)
        else:
            file.write_bytes(b"edited")

    with monkeypatch.context() as watched:
        counted = save_at(watched, at, save)
        with suppress(ChangedUnderneathError):
            if act == "replace":
                replace(box, "pie.txt", b"two", b"one")
            elif act == "remove":
                remove(box, "pie.txt", b"one")
            else:
                replace_many(box, {"pie.txt": ("1", "2")}, texts.__getitem__)
    if counted[0] >= at:
        assert file.read_bytes() == b"edited"
    assert names(box) in ([".recipebox", "pie.txt"], [".recipebox"])
