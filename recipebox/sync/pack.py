"""Git packs, read by ourselves: every object is inflated, rebuilt from its deltas and hashed before anything is kept.

What a pack makes us do is bounded: memory by its number of objects and `LARGEST`, work by `_MOST_MADE`.
"""

import zlib
from array import array
from collections import OrderedDict
from collections.abc import Callable, Iterator

from recipebox.history import Packed, object_name, pack_index
from recipebox.sync.entries import Bytes, DamagedError, changed_size, entries, inflate, patched

_REMEMBERED, _BESIDES = 64 << 20, 300  # what an object takes beside its bytes
_LONGEST_CHAIN = 4_095  # the longest that git itself makes
_MOST_MADE, _MOST_CHANGES = 32 << 30, 1 << 30  # bytes of objects, and of instructions that make them of others
_WHOLE, _OUTSIDE = -1, -2

Object = tuple[int, bytes]


class Pack:
    """The objects of a pack, by id. `outside` gives objects that the pack builds on but does not hold."""

    def __init__(self, data: Bytes, outside: Callable[[str], Object | None]) -> None:
        self.data = data
        self.builds_on_others = False
        self._outside = outside
        self._numbers: dict[str, int] = {}
        # Arrays, not objects: a pack may say that it has a million entries.
        self._starts, self._bodies, self._ends = array("Q"), array("Q"), array("Q")
        self._kinds, self._sizes = bytearray(), array("L")
        self._bases, self._depths = array("q"), array("H")
        self._base_ids: dict[int, str] = {}
        self._near: OrderedDict[int, Object] = OrderedDict()
        self._near_size = 0
        self._made = self._changes = 0
        self._identify()

    def __contains__(self, object_id: str) -> bool:
        return object_id in self._numbers

    def __len__(self) -> int:
        return len(self._numbers)

    @property
    def doubled(self) -> bool:
        """Whether an object lies in it twice; git's own tools cannot read such a pack."""
        return len(self._starts) != len(self._numbers)

    def __iter__(self) -> Iterator[str]:
        return iter(self._numbers)

    def kind(self, object_id: str) -> int | None:
        """An object's kind; None if the pack does not hold it."""
        number = self._numbers.get(object_id)
        return None if number is None else self._kinds[number]

    def object(self, object_id: str) -> Object:
        """An object's kind and bytes."""
        return self._get(self._numbers[object_id])

    def size(self, object_id: str) -> int:
        """How many bytes an object has."""
        return self._sizes[self._numbers[object_id]]

    def of_kind(self, kind: int) -> Iterator[str]:
        """Ids of one kind of object, in the pack's order."""
        return (object_id for object_id, number in self._numbers.items() if self._kinds[number] == kind)

    def near(self, kind: int) -> Iterator[tuple[str, bytes]]:
        """Objects of a kind that were inflated a moment ago and are still at hand."""
        for object_id, number in self._numbers.items():
            found = self._near.get(number)
            if found is not None and found[0] == kind:
                yield object_id, found[1]

    def index(self) -> bytes:
        """The pack's index, version 2, as git's own tools read it."""
        found = [
            Packed(object_id, zlib.crc32(self.data[self._starts[number] : self._ends[number]]), self._starts[number])
            for object_id, number in self._numbers.items()
        ]
        return pack_index(found, bytes(self.data[-20:]))

    def _identify(self) -> None:
        """Give every entry its id: whole objects first, then what builds on them, from each base outwards."""
        at: dict[int, int] = {}
        waiting: dict[int | str, list[int]] = {}
        for number, (entry, body) in enumerate(entries(self.data)):
            at[entry.start] = number
            base = _WHOLE if entry.base is None else _OUTSIDE
            if entry.base is not None:
                self._count_change(len(body))
                if isinstance(entry.base, int):
                    base = at.get(entry.base, _OUTSIDE)
                    if base == _OUTSIDE:
                        raise DamagedError("a change builds on something that is not there")
                    waiting.setdefault(base, []).append(number)
                else:
                    self._base_ids[number] = entry.base
                    waiting.setdefault(entry.base, []).append(number)
            self._starts.append(entry.start)
            self._bodies.append(entry.body)
            self._ends.append(entry.end)
            self._kinds.append(entry.kind)
            self._sizes.append(entry.size if entry.base is None else changed_size(body))
            self._bases.append(base)
            self._depths.append(0)
            if entry.base is None:
                self._name(number, (entry.kind, body))
        del at
        for base_of in [one for one in waiting if self._has(one)]:
            self._name_all(waiting, base_of)
        for base_of in [one for one in waiting if isinstance(one, str)]:
            if base_of in waiting and self._outside(base_of) is not None:
                self.builds_on_others = True
                self._name_all(waiting, base_of)
        if waiting:
            raise DamagedError("a change builds on something that is not there")

    def _has(self, base: int | str) -> bool:
        """Whether an object that others build on is named already."""
        return base in self._numbers if isinstance(base, str) else self._bases[base] == _WHOLE

    def _name_all(self, waiting: dict[int | str, list[int]], base_of: int | str) -> None:
        """Name what waits for an object, and what waits for that, and so on."""
        todo = waiting.pop(base_of, [])
        while todo:
            at = todo.pop()
            base = self._bases[at]
            if base == _OUTSIDE:
                base = self._numbers.get(self._base_ids[at], _OUTSIDE)
            self._depths[at] = 1 + (self._depths[base] if base >= 0 else 0)
            if self._depths[at] > _LONGEST_CHAIN:
                raise DamagedError("changes build on one another without end")
            found = self._get(at)
            self._kinds[at] = found[0]
            todo += waiting.pop(self._name(at, found), ())
            todo += waiting.pop(at, ())

    def _name(self, number: int, found: Object) -> str:
        object_id = object_name(*found)
        self._numbers.setdefault(object_id, number)
        self._remember(number, found)
        return object_id

    def _get(self, number: int) -> Object:
        chain = []
        found: Object | None = None
        while found is None:
            found = self._near.get(number)
            if found is not None:
                break
            base = self._bases[number]
            if base == _WHOLE:
                found = self._kinds[number], self._inflate(number)
                self._remember(number, found)
                break
            chain.append(number)
            if base == _OUTSIDE:
                base_id = self._base_ids[number]
                inside = self._numbers.get(base_id)
                if inside is None:
                    found = self._outside(base_id)
                    if found is None:
                        raise DamagedError("a change builds on something that is not there")
                    break
                base = inside
            if len(chain) > _LONGEST_CHAIN:
                raise DamagedError("changes build on one another without end")
            number = base
        for step in reversed(chain):
            delta = inflate(self.data[self._bodies[step] : self._ends[step]], 0)
            self._count_change(len(delta))
            self._count(self._sizes[step])
            found = found[0], patched(found[1], delta)
            self._remember(step, found)
        return found

    def _inflate(self, number: int) -> bytes:
        self._count(self._sizes[number])
        return inflate(self.data[self._bodies[number] : self._ends[number]], self._sizes[number])

    def _count(self, size: int) -> None:
        self._made += size
        if self._made > _MOST_MADE:
            raise DamagedError("unpacks to more than any box holds")

    def _count_change(self, size: int) -> None:
        self._changes += size
        if self._changes > _MOST_CHANGES:
            raise DamagedError("unpacks to more than any box holds")

    def _remember(self, number: int, found: Object) -> None:
        if number not in self._near:
            self._near_size += len(found[1]) + _BESIDES
        self._near[number] = found
        while self._near_size > _REMEMBERED and len(self._near) > 1:
            _, (_, dropped) = self._near.popitem(last=False)
            self._near_size -= len(dropped) + _BESIDES
