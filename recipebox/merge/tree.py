"""The states of a box that merging joins, as maps from path to content."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from recipebox.cards.blobs import blob_id


@dataclass(frozen=True, slots=True)
class Blob:
    """A file's content, known by git's id of it and read only when two contents must be compared."""

    id: str
    read: Callable[[], bytes]

    @classmethod
    def of(cls, data: bytes) -> "Blob":
        """The blob of these bytes."""
        return cls(blob_id(data), lambda: data)


Tree = Mapping[str, Blob]


@dataclass(frozen=True)
class Side:
    """One laptop's state, and the moves (old path -> new) its history records since the base."""

    tree: Tree
    moves: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class MergedBox:
    """The box after the merge. `new_undecided` lists (path, about) of questions that no side had; `left_out` the paths
    whose names may not be carried; `renamed` what stands under another name than its side gave it, old path -> new."""

    tree: dict[str, Blob]
    new_undecided: tuple[tuple[str, str], ...] = ()
    left_out: tuple[str, ...] = ()
    renamed: dict[str, str] = field(default_factory=dict)


@dataclass
class Item:
    """One file through all states: its base path and content, and where and what it is on each side."""

    origin: str | None
    base: Blob | None
    places: list[str | None]
    blobs: list[Blob | None]

    @property
    def key(self) -> str:
        """A path that names it for ordering."""
        return self.origin or min(place for place in self.places if place is not None)


def items_of(base: Tree, sides: list[Side]) -> list[Item]:
    """Every file of base and sides once, followed through moves. Both trees hold carried paths only."""
    items: dict[str, Item] = {
        path: Item(path, blob, [None] * len(sides), [None] * len(sides)) for path, blob in base.items()
    }
    for at, side in enumerate(sides):
        goes = _moves(side, base)
        came_from = {new: old for old, new in goes.items()}
        for path, blob in side.tree.items():
            origin = came_from.get(path, path if path in base and path not in goes else None)
            item = items.get(origin) if origin is not None else None
            if item is None or item.places[at] is not None:
                continue
            item.places[at], item.blobs[at] = path, blob
    added: dict[str, Item] = {}
    for at, side in enumerate(sides):
        taken = {item.places[at] for item in items.values()}
        for path, blob in side.tree.items():
            if path not in taken:
                item = added.setdefault(path, Item(None, None, [None] * len(sides), [None] * len(sides)))
                item.places[at], item.blobs[at] = path, blob
    return [*items.values(), *added.values()]


def _moves(side: Side, base: Tree) -> dict[str, str]:
    """The moves that hold: from a path of the base, followed to the end, to a path the side has; one to one."""
    found: dict[str, str] = {}
    for old in sorted(side.moves):
        if old not in base:
            continue
        new, seen = side.moves[old], {old}
        while new in side.moves and new not in seen and new not in side.tree:
            seen.add(new)
            new = side.moves[new]
        if new in side.tree and new != old and new not in found.values():
            found[old] = new
    return found
