"""Git packs, read by ourselves: every object is inflated, rebuilt from its deltas and hashed before anything is kept.

Format: git's documentation, gitformat-pack. Sizes are bounded before memory is taken.
"""

import hashlib
import zlib
from collections import OrderedDict
from collections.abc import Callable, Iterator
from typing import NamedTuple

from recipebox.history import Packed, object_name, pack_index

COMMIT, TREE, BLOB, TAG = 1, 2, 3, 4
_OFFSET_DELTA, _REF_DELTA = 6, 7
_KINDS = (COMMIT, TREE, BLOB, TAG)
LARGEST = 32 << 20
_MOST_OBJECTS = 1_000_000
_REMEMBERED = 64 << 20
_LONGEST_CHAIN = 10_000

Object = tuple[int, bytes]


class DamagedError(ValueError):
    """Bytes from a meeting place are not what they should be."""


class _Entry(NamedTuple):
    kind: int
    size: int
    body: int
    end: int
    base: int | str | None


class Pack:
    """The objects of a pack, by id. `outside` gives objects that the pack builds on but does not hold."""

    def __init__(self, data: bytes | memoryview, outside: Callable[[str], Object | None]) -> None:
        self.data = data
        self.offsets: dict[str, int] = {}
        self.kinds: dict[str, int] = {}
        self.builds_on_others = False
        self._outside = outside
        self._entries: dict[int, _Entry] = {}
        self._near: OrderedDict[int, Object] = OrderedDict()
        self._near_size = 0
        self._identify()

    def object(self, object_id: str) -> Object:
        """An object's kind and bytes."""
        return self._at(self.offsets[object_id])

    def size(self, object_id: str) -> int:
        """How many bytes an object has."""
        entry = self._entries[self.offsets[object_id]]
        return entry.size if entry.base is None else len(self.object(object_id)[1])

    def of_kind(self, kind: int) -> Iterator[str]:
        """Ids of one kind of object, in the pack's order."""
        return (object_id for object_id, its in self.kinds.items() if its == kind)

    def near(self, kind: int) -> Iterator[tuple[str, bytes]]:
        """Objects of a kind that were inflated a moment ago and are still at hand."""
        for object_id, at in self.offsets.items():
            found = self._near.get(at)
            if found is not None and found[0] == kind:
                yield object_id, found[1]

    def index(self) -> bytes:
        """The pack's index, version 2, as git's own tools read it."""
        entries = [
            Packed(object_id, zlib.crc32(self.data[at : self._entries[at].end]), at)
            for object_id, at in self.offsets.items()
        ]
        return pack_index(entries, bytes(self.data[-20:]))

    def _identify(self) -> None:
        """Give every entry its id. A delta may name a base that stands later, so what is not ready waits."""
        waiting = []
        for at, entry, whole in _entries(self.data):
            if isinstance(entry.base, int) and entry.base not in self._entries:
                raise DamagedError("a change builds on something that is not there")
            self._entries[at] = entry
            if entry.base is None:
                self._name(at, (entry.kind, whole))
                self._remember(at, (entry.kind, whole))
            else:
                waiting.append(at)
        while waiting:
            later = []
            for at in waiting:
                if self._ready(at):
                    self._name(at, self._at(at))
                else:
                    later.append(at)
            if len(later) == len(waiting):
                raise DamagedError("a change builds on something that is not there")
            waiting = later

    def _name(self, at: int, found: Object) -> None:
        object_id = object_name(*found)
        self.offsets.setdefault(object_id, at)
        self.kinds.setdefault(object_id, found[0])

    def _ready(self, at: int) -> bool:
        for _ in range(_LONGEST_CHAIN):
            base = self._entries[at].base
            if base is None or at in self._near:
                return True
            if isinstance(base, str):
                if base not in self.offsets:
                    return self._outside(base) is not None
                base = self.offsets[base]
            at = base
        raise DamagedError("changes build on one another without end")

    def _at(self, at: int) -> Object:
        chain = []
        found: Object | None = None
        while found is None:
            near = self._near.get(at)
            entry = self._entries[at]
            if near is not None:
                found = near
            elif entry.base is None:
                found = entry.kind, _inflate(self.data, entry)
                self._remember(at, found)
            else:
                chain.append(at)
                if len(chain) > _LONGEST_CHAIN:
                    raise DamagedError("changes build on one another without end")
                if isinstance(entry.base, int):
                    at = entry.base
                elif entry.base in self.offsets:
                    at = self.offsets[entry.base]
                else:
                    self.builds_on_others = True
                    found = self._outside(entry.base)
                    if found is None:
                        raise DamagedError("a change builds on something that is not there")
        for step in reversed(chain):
            found = found[0], _patched(found[1], _inflate(self.data, self._entries[step]))
            self._remember(step, found)
        return found

    def _remember(self, at: int, found: Object) -> None:
        self._near[at] = found
        self._near_size += len(found[1])
        while self._near_size > _REMEMBERED and len(self._near) > 1:
            _, (_, dropped) = self._near.popitem(last=False)
            self._near_size -= len(dropped)


def _entries(data: bytes | memoryview) -> Iterator[tuple[int, _Entry, bytes]]:
    """Each entry with its place and what it inflates to, checked to be as long as it says."""
    if len(data) < 32 or data[:8] != b"PACK\0\0\0\2":
        raise DamagedError("holds no pack of changes")
    if hashlib.sha1(memoryview(data)[:-20], usedforsecurity=False).digest() != data[-20:]:
        raise DamagedError("its pack of changes is damaged")
    count = int.from_bytes(data[8:12], "big")
    # Nothing takes less than 10 bytes, so a count that the bytes cannot hold is seen before anything is read.
    if count > min(_MOST_OBJECTS, len(data) // 10):
        raise DamagedError("holds more than any box has")
    at = 12
    for _ in range(count):
        kind, size, body, base = _entry(data, at)
        whole, end = _inflated(data, body, size)
        yield at, _Entry(kind, size, body, end, base), whole
        at = end
    if at != len(data) - 20:
        raise DamagedError("its pack of changes is damaged")


def _entry(data: bytes | memoryview, start: int) -> tuple[int, int, int, int | str | None]:
    """The head of an entry: kind, size when inflated, where its body begins, what it is a change of."""
    try:
        at = start
        byte = data[at]
        kind, size, shift = byte >> 4 & 7, byte & 15, 4
        while byte & 128:
            at += 1
            byte = data[at]
            size |= (byte & 127) << shift
            shift += 7
        at += 1
        base: int | str | None = None
        if kind == _OFFSET_DELTA:
            byte = data[at]
            back = byte & 127
            while byte & 128:
                at += 1
                byte = data[at]
                back = (back + 1) << 7 | byte & 127
            at += 1
            base = start - back
        elif kind == _REF_DELTA:
            base = data[at : at + 20].hex()
            at += 20
        elif kind not in _KINDS:
            raise DamagedError("holds an unknown kind of object")
    except IndexError:
        raise DamagedError("breaks off") from None
    if size > LARGEST:
        raise DamagedError("holds something larger than may be carried")
    return kind, size, at, base


def _inflated(data: bytes | memoryview, at: int, size: int) -> tuple[bytes, int]:
    """A deflated body, and where it ends; it must inflate to exactly `size` bytes."""
    inflater = zlib.decompressobj()
    parts = []
    left = size + 1
    # Little at a time: what is left over after the end is copied each time.
    step = min(size + 64, 1 << 16)
    try:
        while not inflater.eof:
            piece = data[at : at + step]
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


def _inflate(data: bytes | memoryview, entry: _Entry) -> bytes:
    return zlib.decompress(data[entry.body : entry.end], bufsize=max(entry.size, 1))


def _patched(base: bytes, delta: bytes) -> bytes:
    try:
        base_size, at = _number(delta, 0)
        size, at = _number(delta, at)
        if base_size != len(base) or size > LARGEST:
            raise DamagedError("a change does not fit what it builds on")
        parts, made = [], 0
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
                part = base[offset : offset + (length or 0x10000)]
                if len(part) != (length or 0x10000):
                    raise DamagedError("a change reaches beyond what it builds on")
            elif code:
                part = delta[at : at + code]
                at += code
            else:
                raise DamagedError("a change is damaged")
            made += len(part)
            if made > size:
                raise DamagedError("a change makes more than it says")
            parts.append(part)
    except IndexError:
        raise DamagedError("a change breaks off") from None
    if made != size:
        raise DamagedError("a change makes less than it says")
    return b"".join(parts)


def _number(data: bytes, at: int) -> tuple[int, int]:
    value = shift = 0
    while True:
        byte = data[at]
        at += 1
        value |= (byte & 127) << shift
        shift += 7
        if not byte & 128:
            return value, at
