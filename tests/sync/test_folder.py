"""A plain folder as a meeting place."""

import hashlib
import os
from pathlib import Path

import pytest

from recipebox.sync import PlaceError
from recipebox.sync.folder import FolderPlace, Left, box_ids, bundle_name

BOX, LAPTOP = "b" * 32, "a" * 16


@pytest.fixture
def place(tmp_path: Path) -> FolderPlace:
    """A place where one laptop left one file."""
    place = FolderPlace(str(tmp_path), BOX)
    assert not place.there()
    leave(place, 7, b"changes")
    return place


def leave(place: FolderPlace, number: int, data: bytes) -> None:
    place.leave(LAPTOP, number, data, hashlib.sha256(data).hexdigest())


def read(place: FolderPlace, left: Left) -> bytes | None:
    parts: list[bytes] = []
    return b"".join(map(bytes, parts)) if place.read(left, parts.append) else None


def corner(tmp_path: Path) -> Path:
    return tmp_path / "recipebox" / BOX / LAPTOP


def test_what_is_left_is_found(place: FolderPlace, tmp_path: Path) -> None:
    """A file lies under its number and hash, whole, readable by whoever the user's own settings let read."""
    [left] = place.left()
    assert (left.laptop_id, left.number, read(place, left)) == (LAPTOP, 7, b"changes")
    assert box_ids(str(tmp_path)) == [BOX]
    [file] = corner(tmp_path).iterdir()
    assert file.name == bundle_name(7, hashlib.sha256(b"changes").hexdigest())
    mask = os.umask(0)
    os.umask(mask)
    assert file.stat().st_mode & 0o777 == 0o666 & ~mask


def test_copies_do_no_harm_and_half_files_are_seen(place: FolderPlace, tmp_path: Path) -> None:
    """Whatever a cloud program does to a name, the hash in it decides whether the file is whole."""
    [file] = corner(tmp_path).iterdir()
    copy = file.with_name(f"{file.stem} (conflicted copy 1).bundle")
    copy.write_bytes(b"changes")
    file.write_bytes(b"chan")
    (corner(tmp_path) / "readme.txt").write_text("hello")
    found = {left.name: read(place, left) for left in place.left()}
    assert found == {file.name: None, copy.name: b"changes"}


def test_links_are_not_followed(place: FolderPlace, tmp_path: Path) -> None:
    """A link in a corner, or in place of one, is not there."""
    secret = tmp_path / "secret"
    secret.write_bytes(b"secret")
    (corner(tmp_path) / bundle_name(8, hashlib.sha256(b"secret").hexdigest())).symlink_to(secret)
    (tmp_path / "recipebox" / BOX / ("c" * 16)).symlink_to(corner(tmp_path))
    assert [left.number for left in place.left()] == [7]


def test_a_full_disk_leaves_nothing_half(place: FolderPlace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the place cannot be written the error says so, and no half file lies there."""
    real = os.fsync

    def full(file: int) -> None:
        real(file)
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(PlaceError, match="disk is full"):
        leave(place, 8, b"more")
    assert len(list(corner(tmp_path).iterdir())) == 1


def test_nothing_is_made_by_looking(tmp_path: Path) -> None:
    """An empty mount point stays empty."""
    assert FolderPlace(str(tmp_path), BOX).left() == []
    assert box_ids(str(tmp_path)) == []
    assert list(tmp_path.iterdir()) == []
