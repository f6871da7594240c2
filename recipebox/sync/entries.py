"""The entries of a git pack as their bytes say: heads, deflated bodies, and changes (deltas) of other objects.

Format: git's documentation, gitformat-pack. Every size is bounded before memory is taken for it.
"""

import hashlib
import zlib
from collections.abc import Iterator
from typing import NamedTuple

COMMIT, TREE, BLOB, TAG = 1, 2, 3, 4
KINDS = (COMMIT, TREE, BLOB, TAG)
_OFFSET_DELTA, _REF_DELTA = 6, 7
LARGEST = 32 << 20
_MOST_OBJECTS = 1_000_000
_PIECE = 1 << 16

Bytes = bytes | memoryview


class DamagedError(ValueError):
    """Bytes from a meeting place are not what they should be."""


class Entry(NamedTuple):
    """Where an entry and its deflated body lie, how large it says the body is, and for a change of what it is one.

    `base` is the place of an earlier entry or an object's id; None for a whole object.
    """

    start: int
    body: int
    end: int
    kind: int
    size: int
    base: int | str | None


def entries(data: Bytes) -> Iterator[tuple[Entry, bytes]]:
    """Each entry with what its body inflates to, checked to be as long as it says. Raises DamagedError."""
    if len(data) < 32 or data[:8] != b"PACK\0\0\0\2":
        raise DamagedError("holds no pack of changes")
    if hashlib.sha1(memoryview(data)[:-20], usedforsecurity=False).digest() != data[-20:]:
        raise DamagedError("its pack of changes is damaged")
    count = int.from_bytes(data[8:12], "big")
    # Nothing takes less than 10 bytes, so a count that the bytes cannot hold is seen before anything is read.
    if count > min(_MOST_OBJECTS, len(data) // 10):
        raise DamagedError("says it holds more than any box has")
    at = 12
    held = memoryview(data)[:-20]
    for _ in range(count):
        kind, size, body, base = _head(held, at)
        whole, end = _inflated(held, body, size)
        yield Entry(at, body, end, kind, size, base), whole
        at = end
    if at != len(data) - 20:
        raise DamagedError("its pack of changes is damaged")


def inflate(data: Bytes, size: int) -> bytes:
    """A body that was inflated before, once more. Raises DamagedError where the bytes are no longer what they were."""
    try:
        return zlib.decompress(data, bufsize=max(size, 1))
    except zlib.error:
        raise DamagedError("an object is damaged") from None


def changed_size(delta: bytes) -> int:
    """How large the object is that a change makes, as it says. Raises DamagedError beyond what may be carried."""
    _, at = _number(delta, 0)
    size, _ = _number(delta, at)
    if size > LARGEST:
        raise DamagedError("holds something larger than may be carried")
    return size


def patched(base: bytes, delta: bytes) -> bytes:
    """What a change makes of an object. Raises DamagedError."""
    base_size, at = _number(delta, 0)
    size, at = _number(delta, at)
    if base_size != len(base):
        raise DamagedError("a change does not fit what it builds on")
    made = bytearray()
    try:
        while at < len(delta):
            code = delta[at]
            at += 1
            if code & 128:
                offset = length = 0
                for bit in range(4):
                    if code & 1 << bit:
                        offset |= delta[at] << 8 * bit
                        at += 1
                for bit in range(3):
                    if code & 16 << bit:
                        length |= delta[at] << 8 * bit
                        at += 1
                length = length or 0x10000
                if offset + length > len(base):
                    raise DamagedError("a change reaches beyond what it builds on")
                made += base[offset : offset + length]
            elif code:
                if at + code > len(delta):
                    raise DamagedError("a change breaks off")
                made += delta[at : at + code]
                at += code
            else:
                raise DamagedError("a change is damaged")
            if len(made) > size:
                raise DamagedError("a change makes more than it says")
    except IndexError:
        raise DamagedError("a change breaks off") from None
    if len(made) != size:
        raise DamagedError("a change makes less than it says")
    return bytes(made)


def _head(data: Bytes, start: int) -> tuple[int, int, int, int | str | None]:
    """The head of an entry: kind, size when inflated, where its body begins, what it is a change of."""
    try:
        at = start
        byte = data[at]
        kind, size, shift = byte >> 4 & 7, byte & 15, 4
        while byte & 128 and shift < 64:
            at += 1
            byte = data[at]
            size |= (byte & 127) << shift
            shift += 7
        at += 1
        base: int | str | None = None
        if kind == _OFFSET_DELTA:
            byte = data[at]
            back = byte & 127
            while byte & 128 and back < len(data):
                at += 1
                byte = data[at]
                back = (back + 1) << 7 | byte & 127
            at += 1
            base = start - back
        elif kind == _REF_DELTA:
            base = data[at : at + 20].hex()
            at += 20
        elif kind not in KINDS:
            raise DamagedError("holds an unknown kind of object")
    except IndexError:
        raise DamagedError("breaks off") from None
    if size > LARGEST:
        raise DamagedError("holds something larger than may be carried")
    return kind, size, at, base


def _inflated(data: Bytes, at: int, size: int) -> tuple[bytes, int]:
    """A deflated body, and where it ends; it must inflate to exactly `size` bytes."""
    inflater = zlib.decompressobj()
    parts = []
    left = size + 1
    # Little at a time: what is left over after the end is copied each time.
    step = min(size + 64, _PIECE)
    try:
        while not inflater.eof:
            piece: Bytes = data[at : at + step]
            if not piece:
                raise DamagedError("breaks off")
            at += len(piece)
            while piece and not inflater.eof:
                part = inflater.decompress(piece, left)
                left -= len(part)
                if left <= 0:
                    raise DamagedError("an object is larger than it says")
                parts.append(part)
                piece = inflater.unconsumed_tail
    except zlib.error:
        raise DamagedError("an object is damaged") from None
    if left != 1:
        raise DamagedError("an object is smaller than it says")
    return b"".join(parts) if len(parts) != 1 else parts[0], at - len(inflater.unused_data)


def _number(data: bytes, at: int) -> tuple[int, int]:
    value = shift = 0
    try:
        while True:
            byte = data[at]
            at += 1
            value |= (byte & 127) << shift
            shift += 7
            if not byte & 128:
                return value, at
            if shift > 63:
                raise DamagedError("a change is damaged")
    except IndexError:
        raise DamagedError("a change breaks off") from None
