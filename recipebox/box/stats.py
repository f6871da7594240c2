"""The stat table: what each file looked like when it was last read, so that only what changed is read again.

A cache of this laptop: lost or damaged, every file is read once more.
"""

import json
import os
import zlib
from array import array
from collections.abc import Mapping
from typing import NamedTuple

from recipebox.box.errors import BoxError
from recipebox.box.place import Box
from recipebox.box.state import keep, kept

_NAME = "stats"
_KIND = b"recipebox stats 2\n"
_NUMBERS = 4
_ID = 20
_STEPS, _FEW = 8, 200


class Found(NamedTuple):
    """A file of the box. `path` is from the root with "/"; `blob_id` is git's name for its bytes, 40 hex digits.

    `changed_ns` is the time of the last change of the file's entry (its making on Windows); a file whose stamps are
    too young to trust has `mtime_ns` -1 in the table and is read again next time.
    """

    path: str
    size: int
    mtime_ns: int
    changed_ns: int
    inode: int
    blob_id: str


class Table(NamedTuple):
    """`state` is a random word that is renewed whenever a path or its bytes are not what they were.

    `trail` has the last such changes, oldest first: the word before each, and the paths that changed.
    """

    files: Mapping[str, Found]
    state: str
    trail: tuple[tuple[str, frozenset[str]], ...] = ()


def load(box: Box) -> Table:
    """The table as last kept; an empty one if it is absent or damaged."""
    path = str(box.hidden / _NAME)
    stamp = _stamp(path)
    known = _near.get(path)
    if known is not None and stamp is not None and known[0] == stamp:
        return known[1]
    data = kept(box, _NAME)
    try:
        table = Table({}, "") if data is None else _read(data)
    except (ValueError, IndexError, TypeError):
        return Table({}, "")
    _remember(path, stamp, table)
    return table


def store(box: Box, table: Table) -> None:
    """Keep the table. On a disk that takes nothing it stays as it was, which costs only time."""
    path = str(box.hidden / _NAME)
    try:
        keep(box, _NAME, _write(table), settle=False)
    except BoxError:
        return
    _remember(path, _stamp(path), table)


def later(table: Table, changed: frozenset[str]) -> tuple[tuple[str, frozenset[str]], ...]:
    """The trail after a change of these paths; very large changes, and what was long ago, are not followed."""
    if not table.state or len(changed) > _FEW:
        return ()
    return (*table.trail, (table.state, changed))[-_STEPS:]


# The table as this process last read or wrote it, with the stamp of its file then: a command looks several times.
_near: dict[str, tuple[tuple[int, int, int, int], Table]] = {}


def _remember(path: str, stamp: tuple[int, int, int, int] | None, table: Table) -> None:
    if len(_near) > 1:
        _near.clear()
    if stamp is not None:
        _near[path] = stamp, table


def _stamp(path: str) -> tuple[int, int, int, int] | None:
    """What differs whenever the file is written anew: it always takes the place of the one before."""
    try:
        found = os.stat(path)  # noqa: PTH116 - once for each look, which is measured
    except OSError:
        return None
    return found.st_ino, found.st_mtime_ns, found.st_ctime_ns, found.st_size


def _write(table: Table) -> bytes:
    files = list(table.files.values())
    names = "\0".join([found.path for found in files]).encode("utf-8")
    numbers = array("q", [found.size for found in files])
    numbers.extend(array("q", [found.mtime_ns for found in files]))
    numbers.extend(array("q", [found.changed_ns for found in files]))
    # Some disks number their files with all 64 bits.
    numbers.extend(array("q", [n if (n := found.inode) < 1 << 63 else n - (1 << 64) for found in files]))
    ids = bytes.fromhex("".join([found.blob_id for found in files]))
    trail = json.dumps([[state, sorted(changed)] for state, changed in table.trail])
    body = b"".join([f"{len(files)} {table.state} {trail}\n".encode(), numbers.tobytes(), ids, names])
    return _KIND + b"%08x\n" % zlib.crc32(body) + body


def _read(data: bytes) -> Table:
    start = len(_KIND) + 9
    body = memoryview(data)[start:]
    if not data.startswith(_KIND) or int(data[len(_KIND) : start - 1], 16) != zlib.crc32(body):
        raise ValueError("damaged")
    head_end = data.index(b"\n", start) + 1
    many, state, said = data[start : head_end - 1].decode().split(" ", 2)
    count = int(many)
    numbers = array("q")
    numbers.frombytes(data[head_end : head_end + 8 * _NUMBERS * count])
    ids_at = head_end + 8 * _NUMBERS * count
    ids = data[ids_at : ids_at + _ID * count].hex()
    names = data[ids_at + _ID * count :].decode("utf-8").split("\0") if count else []
    columns = [numbers[count * at : count * (at + 1)] for at in range(_NUMBERS)]
    blob_ids = [ids[at : at + 2 * _ID] for at in range(0, len(ids), 2 * _ID)]
    rows = map(Found._make, zip(names, *columns, blob_ids, strict=True))
    trail = tuple((str(before), frozenset(map(str, changed))) for before, changed in json.loads(said))
    return Table(dict(zip(names, rows, strict=True)), state, trail)
