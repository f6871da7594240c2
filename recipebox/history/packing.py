"""Git packs, written by ourselves: many objects in one file, which settles on the disk at once.

Format: git's documentation, gitformat-pack, version 2 of pack and index.
"""

import hashlib
import os
import secrets
import struct
import zlib
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from pathlib import Path
from types import TracebackType
from typing import NamedTuple, Self

_WORDS = {1: b"commit", 2: b"tree", 3: b"blob", 4: b"tag"}


class Packed(NamedTuple):
    """Where an object lies in a pack, and the CRC-32 of what lies there."""

    object_id: str
    crc: int
    offset: int


class PackWriter:
    """Writes objects into a new pack. At the end of the `with` it is whole on the disk, or nothing is left of it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._beside = folder / f"{secrets.token_hex(8)}.pack.tmp"
        self._file = self._beside.open("xb+")
        self._file.write(b"PACK\0\0\0\2\0\0\0\0")
        self._at = 12
        self._entries: dict[str, Packed] = {}

    def add(self, kind: int, data: bytes) -> str:
        """Put an object of git's kind number in, once; its id."""
        found = object_name(kind, data)
        if found not in self._entries:
            entry = _head(kind, len(data)) + zlib.compress(data, 1)
            self._file.write(entry)
            self._entries[found] = Packed(found, zlib.crc32(entry), self._at)
            self._at += len(entry)
        return found

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        try:
            with self._file:  # on a full disk closing fails too
                if kind is None and self._entries:
                    self._finish()
        finally:
            self._beside.unlink(missing_ok=True)

    def _finish(self) -> None:
        self._file.seek(8)
        self._file.write(struct.pack(">I", len(self._entries)))
        self._file.flush()
        self._file.seek(0)
        whole = hashlib.file_digest(self._file, lambda: hashlib.sha1(usedforsecurity=False)).digest()
        self._file.write(whole)
        self._file.flush()
        os.fsync(self._file.fileno())
        self._file.close()
        keep_pack(self._folder, self._beside, pack_index(list(self._entries.values()), whole), whole)


def pack_of_few(objects: Iterable[tuple[int, bytes]], count: int) -> Iterator[bytes]:
    """A pack of `count` objects, each a kind number and bytes, part by part; none is told as a change of another."""
    whole = hashlib.sha1(usedforsecurity=False)
    head = b"PACK" + struct.pack(">II", 2, count)
    for part in chain([head], (_head(kind, len(data)) + zlib.compress(data) for kind, data in objects)):
        whole.update(part)
        yield part
    yield whole.digest()


def keep_pack(folder: Path, written: Path, index: bytes, whole: bytes) -> None:
    """Let a pack that was written beside take its place, its index after it. `whole` is the pack's own checksum."""
    name = f"pack-{whole.hex()}"
    beside = folder / f"{name}.idx.tmp"
    try:
        with beside.open("wb") as file:
            file.write(index)
            file.flush()
            os.fsync(file.fileno())
        written.replace(folder / f"{name}.pack")
        beside.replace(folder / f"{name}.idx")
    finally:
        for left in (written, beside):
            left.unlink(missing_ok=True)


def pack_index(entries: Sequence[Packed], whole: bytes) -> bytes:
    """The index of a pack, as git's own tools read it."""
    entries = sorted(entries)
    counts = [0] * 256
    for entry in entries:
        counts[int(entry.object_id[:2], 16)] += 1
    fan: list[int] = []
    total = 0
    for count in counts:
        total += count
        fan.append(total)
    offsets: list[int] = []
    far: list[int] = []
    for entry in entries:
        if entry.offset < 1 << 31:
            offsets.append(entry.offset)
        else:
            offsets.append(1 << 31 | len(far))
            far.append(entry.offset)
    body = b"".join(
        [
            b"\xfftOc\0\0\0\2",
            struct.pack(">256I", *fan),
            bytes.fromhex("".join(entry.object_id for entry in entries)),
            struct.pack(f">{len(entries)}I", *(entry.crc for entry in entries)),
            struct.pack(f">{len(entries)}I", *offsets),
            struct.pack(f">{len(far)}Q", *far),
            whole,
        ]
    )
    return body + hashlib.sha1(body, usedforsecurity=False).digest()


def object_name(kind: int, data: bytes) -> str:
    """Git's name for an object: the SHA-1 of its kind, size and bytes."""
    return hashlib.sha1(b"%s %d\0%s" % (_WORDS[kind], len(data), data), usedforsecurity=False).hexdigest()


def _head(kind: int, size: int) -> bytes:
    byte = kind << 4 | size & 15
    size >>= 4
    head = bytearray()
    while size:
        head.append(byte | 128)
        byte = size & 127
        size >>= 7
    head.append(byte)
    return bytes(head)
