"""Where new lines go in the text that the merge is written into: under the heading their own side has them under."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from recipebox.cards.model import Role
from recipebox.cards.writer import SECTIONS
from recipebox.merge.algebra import joined_orders
from recipebox.merge.match import Key
from recipebox.merge.sheet import Element

Keyed = Mapping[Key, Element]
Rank = tuple[int, bytes]
_HEADINGS = (Role.SECTION, Role.GROUP)
_SECTIONS = ("ingredients", "method", *SECTIONS)


@dataclass
class _Block:
    """What one heading that the target lacks brings along: lines right under it, and groups below a section."""

    lines: dict[Key, None] = field(default_factory=dict)
    blocks: dict[Key, None] = field(default_factory=dict)


def places(target: Keyed, sides: Sequence[Keyed], ranks: Mapping[Key, Rank]) -> dict[Key | None, list[Key]]:
    """The new elements that follow each of the target's (None: the top), in order.

    A new element follows the nearest element before it, in its own side's order, that the target has under the same
    heading; of several sides that have it, the one that puts it furthest down. Headings that the target lacks come
    after all that stands under the heading they follow, each with its own lines, sections in the fixed order of a
    card. Runs of several sides after one place keep each side's order; between them the smaller goes first.
    """
    heads = _heads(target)
    position: dict[Key | None, int] = {None: -1, **{key: at for at, key in enumerate(target)}}
    anchors: dict[Key, Key | None] = {}
    above: dict[Key, Key] = {}
    for side in sides:
        _look(side, target, heads, position, anchors, above)
    _keep_orders(anchors, position, sides)
    blocks: dict[Key, _Block] = {}
    for key, head in above.items():
        block = blocks.setdefault(head, _Block())
        (block.blocks if _is_heading(key, sides) else block.lines)[key] = None
    runs: dict[Key | None, list[Key]] = {}
    for key, anchor in anchors.items():
        runs.setdefault(anchor, []).append(key)
    return {anchor: _in_order(keys, blocks, sides, ranks) for anchor, keys in runs.items()}


def _look(
    side: Keyed,
    target: Keyed,
    heads: Mapping[Key, tuple[Key | None, Key | None]],
    position: Mapping[Key | None, int],
    anchors: dict[Key, Key | None],
    above: dict[Key, Key],
) -> None:
    """Find an anchor in the target, or a new heading, for each of a side's new elements."""
    own = _heads(side)
    last: dict[tuple[Key | None, Key | None], Key | None] = {}
    before: Key | None = None
    order = list(side)
    for at, key in enumerate(order):
        section, group = own[key]
        if key in target:
            before = key
            if heads[key] == own[key]:
                last[own[key]] = key
            continue
        head = _head_of(side[key], section, group)
        if head is not None and head not in target:
            if key not in anchors:
                above.setdefault(key, head)
            continue
        if side[key].role in _HEADINGS:
            anchor = _end_of(before, order[at + 1 :], side[key].role, target, heads)
        else:
            anchor = last.get((section, group), before if head is None else head)
        above.pop(key, None)
        if key not in anchors or position[anchors[key]] < position[anchor]:
            anchors[key] = anchor


def _head_of(element: Element, section: Key | None, group: Key | None) -> Key | None:
    """The heading that an element stands under; a group's is its section, a section has none."""
    if element.role is Role.SECTION:
        return None
    return section if element.role is Role.GROUP else group if group is not None else section


def _heads(keyed: Keyed) -> dict[Key, tuple[Key | None, Key | None]]:
    """Section and group that each element stands under; a heading stands under itself."""
    found: dict[Key, tuple[Key | None, Key | None]] = {}
    section: Key | None = None
    group: Key | None = None
    for key, element in keyed.items():
        if element.role is Role.SECTION:
            section, group = key, None
        elif element.role is Role.GROUP:
            group = key
        found[key] = section, group
    return found


def _end_of(
    before: Key | None,
    following: Sequence[Key],
    role: Role,
    target: Keyed,
    heads: Mapping[Key, tuple[Key | None, Key | None]],
) -> Key | None:
    """What a new heading comes after: all that the target has under the heading it follows.

    Lines that its own side has under it stay there: it then comes right before the first of them.
    """
    if before is None:
        return None
    level = 1 if role is Role.SECTION else 2
    same = heads[before][:level]
    order = list(target)
    start = order.index(before)
    taken = next((key for key in following if key in target), None)
    end = start
    for at in range(start + 1, len(order)):
        if heads[order[at]][:level] != same or order[at] == taken:
            break
        end = at
    return order[end]


def _keep_orders(anchors: dict[Key, Key | None], position: Mapping[Key | None, int], sides: Sequence[Keyed]) -> None:
    """What stands after another new line in its own side moves down along with it."""
    pairs = []
    for side in sides:
        heads = _heads(side)
        lines = [key for key in side if key in anchors and side[key].role not in _HEADINGS]
        pairs += [(key, following) for key, following in pairwise(lines) if heads[key] == heads[following]]
    moved = True
    while moved:
        moved = False
        for key, following in pairs:
            if position[anchors[following]] < position[anchors[key]]:
                anchors[following] = anchors[key]
                moved = True


def _in_order(
    keys: Sequence[Key], blocks: Mapping[Key, _Block], sides: Sequence[Keyed], ranks: Mapping[Key, Rank]
) -> list[Key]:
    lines = {key for key in keys if not _is_heading(key, sides)}
    order = _joined(lines, sides, ranks)
    by_level: dict[Role, set[Key]] = {Role.GROUP: set(), Role.SECTION: set()}
    for key in keys:
        if key not in lines:
            by_level[_element(key, sides).role].add(key)
    for role, heads in by_level.items():
        if role is Role.SECTION:
            ranks = {**ranks, **{key: (_place_of(_element(key, sides)), ranks[key][1]) for key in heads}}
        for head in _joined(heads, sides, ranks):
            block = blocks.get(head, _Block())
            order.append(head)
            order += _in_order([*block.lines, *block.blocks], blocks, sides, ranks)
    return order


def _joined(keys: set[Key], sides: Sequence[Keyed], ranks: Mapping[Key, Rank]) -> list[Key]:
    return joined_orders([[key for key in side if key in keys] for side in sides], ranks)


def _place_of(section: Element) -> int:
    return _SECTIONS.index(section.name) if section.name in _SECTIONS else len(_SECTIONS)


def _is_heading(key: Key, sides: Sequence[Keyed]) -> bool:
    return _element(key, sides).role in _HEADINGS


def _element(key: Key, sides: Sequence[Keyed]) -> Element:
    return next(side[key] for side in sides if key in side)
