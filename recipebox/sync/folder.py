"""A meeting place that is a plain folder: a stick, a network share, a folder that some program keeps alike.

`<place>/recipebox/<box id>/<laptop id>/<seq>-<sha256>.bundle`. Files are never changed once written; each laptop
writes only its own corner. A file counts by the 64 hex digits in its name being the hash of what it holds, whatever
else stands in the name, so "(1)" copies do no harm and half files are seen to be half.
"""

import hashlib
import os
import re
import secrets
import stat
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import IO

from recipebox.box.errors import why
from recipebox.sync.address import PlaceError
from recipebox.sync.entries import Bytes

_FOLDER = "recipebox"
_HASH = re.compile(r"(?<![0-9a-f])[0-9a-f]{64}(?![0-9a-f])")
_ID = re.compile(r"[0-9a-z]{4,64}")
_MOST_CORNERS, _MOST_FILES = 1_000, 10_000
_PIECE = 1 << 20
# Neither through a link nor waiting for somebody to fill a pipe.
_NO_LINK = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)


@dataclass(frozen=True, slots=True)
class Left:
    """A file that a laptop left: whose corner, its number there, the hash it must have, its size and name."""

    laptop_id: str
    number: int
    sha: str
    size: int
    name: str


class FolderPlace:
    """The corner of one box in a folder. Nothing is made before something is left."""

    def __init__(self, place: str, box_id: str) -> None:
        self.place = place
        self._box = Path(place) / _FOLDER / box_id

    def there(self) -> bool:
        """Whether this box has been left here before."""
        return self._box.is_dir()

    def left(self) -> list[Left]:
        """What all laptops left, in order of laptop and number. Raises PlaceError."""
        found = []
        try:
            for corner in sorted(_folders(self._box)):
                found.extend(_files(self._box / corner, corner))
        except OSError as error:
            raise _cannot("could not be read", self.place, error) from error
        return sorted(found, key=lambda left: (left.laptop_id, left.number, left.name))

    def read(self, left: Left, into: Callable[[Bytes], None] = lambda part: None) -> bool:
        """Whether a file is whole: neither half, damaged nor gone. `into` is given its bytes, part by part."""
        path = self._box / left.laptop_id / left.name
        try:
            file = os.open(path, os.O_RDONLY | _NO_LINK)
        except OSError:
            return False
        sha = hashlib.sha256()
        with os.fdopen(file, "rb", buffering=0) as opened:
            if not stat.S_ISREG(os.fstat(file).st_mode):
                return False
            while part := _part(opened):
                sha.update(part)
                into(part)
        return sha.hexdigest() == left.sha

    def leave(self, laptop_id: str, number: int, data: Bytes, sha: str) -> None:
        """Leave a bundle in a laptop's own corner, whole or not at all. Raises PlaceError."""
        corner = self._box / laptop_id
        beside = corner / f".{secrets.token_hex(8)}.tmp"
        try:
            corner.mkdir(parents=True, exist_ok=True)
            for half in corner.glob(".*.tmp"):  # our own, of a process that was killed
                half.unlink(missing_ok=True)
            # Not mkstemp: its files could be read by this user only.
            file = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_LINK, 0o666)
            with os.fdopen(file, "wb") as opened:
                opened.write(data)
                opened.flush()
                os.fsync(opened.fileno())
            beside.replace(corner / bundle_name(number, sha))
            _settle(corner)
        except OSError as error:
            with suppress(OSError):
                beside.unlink()
            raise _cannot("could not be written", self.place, error) from error

    def remove(self, left: Left) -> None:
        """Remove a file of one's own corner; one that is gone or held by another program is let be."""
        with suppress(OSError):
            (self._box / left.laptop_id / left.name).unlink()


def bundle_name(number: int, sha: str) -> str:
    """The name of a bundle in its corner."""
    return f"{number:06d}-{sha}.bundle"


def box_ids(place: str) -> list[str]:
    """The ids of all boxes in a folder. Raises PlaceError if the folder cannot be read."""
    try:
        return sorted(_folders(Path(place) / _FOLDER))
    except OSError as error:
        raise _cannot("could not be read", place, error) from error


def _folders(folder: Path) -> list[str]:
    if not folder.is_dir():
        return []
    with os.scandir(folder) as entries:
        found = (entry.name for entry in entries if _ID.fullmatch(entry.name) and entry.is_dir(follow_symlinks=False))
        return list(islice(found, _MOST_CORNERS))


def _files(corner: Path, laptop_id: str) -> list[Left]:
    found = []
    with os.scandir(corner) as entries:
        for entry in entries:
            match = _HASH.search(entry.name)
            if match and not entry.name.startswith(".") and entry.is_file(follow_symlinks=False):
                number = re.match(r"\d{1,9}", entry.name)
                size = entry.stat(follow_symlinks=False).st_size
                found.append(Left(laptop_id, int(number[0]) if number else 0, match[0], size, entry.name))
            if len(found) > _MOST_FILES:
                break
    return found


def _part(opened: IO[bytes]) -> bytes:
    """The next bytes of a file; none at its end, or where the disk gives no more."""
    with suppress(OSError):
        return opened.read(_PIECE)
    return b""


def _settle(folder: Path) -> None:
    """Make the new name outlast a power cut, where the system and the disk can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _cannot(what: str, place: str, error: OSError) -> PlaceError:
    said, do = why(error)
    return PlaceError(f"{what}: {said}", place, do)
