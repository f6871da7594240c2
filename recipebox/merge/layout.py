"""Whose layout the merged card has, and how a line is written in it."""

import re
from collections.abc import Mapping, Sequence

from recipebox.cards.text import Text
from recipebox.merge.match import Key
from recipebox.merge.sheet import Element, Sheet, meaning

_DIGITS = re.compile(r"\d+")
Shape = tuple[tuple[str, str, int, str], ...]


def chosen_layout(
    base: Sequence[Mapping[Key, Element]] | None,
    sides: Sequence[Sequence[Mapping[Key, Element]]],
    texts: Sequence[Text],
    before: Text | None,
) -> int | None:
    """Which side's layout to write into, None for the base's; each file is given as its recipes' elements by key.

    The base's unless a side laid the card out anew (order, wrapping, marks, line ends); of several such, the one that
    sorts first, amounts and words aside: only lines that all of them have are looked at, so a merge of some of them
    stands where they stood. Sides come sorted by their bytes, so a tie falls alike everywhere.
    """
    old = _kind(before) if before is not None else None
    candidates = [at for at, side in enumerate(sides) if base is None or _kind(texts[at]) != old or _anew(base, side)]
    if not candidates:
        return None
    compared = [*([base] if base is not None else []), *(sides[at] for at in candidates)]
    common = [set.intersection(*(set(file[n]) for file in compared)) for n in range(len(sides[0]))]

    def rank(at: int) -> tuple[tuple[str, str, bytes], list[Shape], int]:
        shapes = [_shapes(side, keys) for side, keys in zip(sides[at], common, strict=True)]
        return _kind(texts[at]), shapes, at

    return min(candidates, key=rank)


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


def _kind(text: Text) -> tuple[str, str, bytes]:
    return text.end, text.encoding, text.mark


def _anew(base: Sequence[Mapping[Key, Element]], side: Sequence[Mapping[Key, Element]]) -> bool:
    for old, new in zip(base, side, strict=True):
        both = [key for key in new if key in old]
        if both != [key for key in old if key in new]:
            return True
        for key in both:
            same = meaning(old[key]) == meaning(new[key])
            if _shape(new[key], same) != _shape(old[key], same):
                return True
    return False


def _shapes(side: Mapping[Key, Element], keys: set[Key]) -> Shape:
    """The marks of these elements in the side's order; the order itself counts by the base's places."""
    return tuple((*_shape(element), repr(key)) for key, element in side.items() if key in keys)


def _shape(element: Element, wrapping: bool = True) -> tuple[str, str, int]:
    lines = element.last - element.first if wrapping else 0
    return element.role.value, _DIGITS.sub("9", element.prefix), lines
