"""Whose layout the merged card has, and where new lines go in it."""

import re
from collections.abc import Mapping, Sequence

from recipebox.merge.algebra import joined_orders
from recipebox.merge.match import Key
from recipebox.merge.sheet import Element, Sheet, meaning

_DIGITS = re.compile(r"\d+")
Shape = tuple[tuple[str, str, int], ...]


def chosen_layout(
    base: Sequence[Mapping[Key, Element]] | None, sides: Sequence[Sequence[Mapping[Key, Element]]]
) -> int | None:
    """Which side's layout to write into, None for the base's; each file is given as its recipes' elements by key.

    The base's unless a side laid the card out anew (order, wrapping, marks); of several such, the layout that sorts
    first, amounts and words aside. Sides come sorted by their bytes, so a tie falls alike everywhere.
    """
    if base is None:
        anew = [(_shapes(side), at) for at, side in enumerate(sides)]
        return min(anew)[1]
    changed = [(_shapes(side), at) for at, side in enumerate(sides) if _anew(base, side)]
    return min(changed)[1] if changed else None


def places(
    target: Sequence[Key], sides: Sequence[Mapping[Key, Element]], ranks: Mapping[Key, tuple[int, bytes]]
) -> dict[Key | None, list[Key]]:
    """The new elements that follow each of the target's (None: the top), in order.

    A new element follows the nearest element before it, in its own side's order, that the target has too. Runs of
    several sides after one place keep each side's order; between them the smaller goes first.
    """
    position: dict[Key | None, int] = {None: -1, **{key: at for at, key in enumerate(target)}}
    anchors: dict[Key, Key | None] = {}
    for side in sides:
        anchor: Key | None = None
        for key in side:
            if key in position:
                anchor = key
            elif key not in anchors or position[anchor] < position[anchors[key]]:
                anchors[key] = anchor
    runs: dict[Key | None, list[list[Key]]] = {}
    for side in sides:
        here: dict[Key | None, list[Key]] = {}
        for key in side:
            if key not in position:
                here.setdefault(anchors[key], []).append(key)
        for anchor, run in here.items():
            runs.setdefault(anchor, []).append(run)
    return {anchor: joined_orders(several, ranks) for anchor, several in runs.items()}


def source_lines(element: Element, sheet: Sheet, words: str, like: str | None) -> list[str]:
    """An element's lines as another text takes them in: as they stand, a single one under that text's marks."""
    lines = sheet.source(element)
    if len(lines) == 1:
        return [in_line(lines[0], element, words, like)]
    return lines if words == element.text else [element.prefix + words]


def in_line(line: str, element: Element, words: str, prefix: str | None = None) -> str:
    """A source line with its element's words exchanged, its marks kept or exchanged too."""
    at = len(element.prefix)
    behind = line[at + len(element.text) :] if line[at:].startswith(element.text) else ""
    return (element.prefix if prefix is None else prefix) + words + behind


def _anew(base: Sequence[Mapping[Key, Element]], side: Sequence[Mapping[Key, Element]]) -> bool:
    for old, new in zip(base, side, strict=True):
        both = [key for key in new if key in old and meaning(old[key]) == meaning(new[key])]
        if [_shape(new[key]) for key in both] != [_shape(old[key]) for key in both]:
            return True
        common = set(both)
        if both != [key for key in old if key in common]:
            return True
    return False


def _shapes(side: Sequence[Mapping[Key, Element]]) -> tuple[Shape, ...]:
    return tuple(tuple(_shape(element) for element in part.values()) for part in side)


def _shape(element: Element) -> tuple[str, str, int]:
    return element.role.value, _DIGITS.sub("9", element.prefix), element.last - element.first
