"""Which element of one side is which of the base: by meaning, then by thing, then by place and likeness."""

import re
from collections import Counter
from collections.abc import Callable, Hashable, Sequence

from recipebox.cards.model import Role
from recipebox.cards.things import part_in_dish
from recipebox.merge.sheet import Element, Sheet, known_by, meaning, plain

Key = tuple[Hashable, ...]
"""What an element is known by in one merge: ("base", n) or ("new", role, identity, count)."""

_REWORDED = 0.5
"""Share of telling words that makes a step the same one reworded, wherever it stands: common practice, no source."""
_IN_PLACE = 0.34
"""The same for any line that also stands between the same neighbours."""
_WORD = re.compile(r"\w+")
_FILLERS = frozenset(("a", "an", "and", "at", "for", "in", "into", "it", "of", "on", "or", "the", "then", "to", "very"))


def keys_of(base: Sheet | None, side: Sheet) -> dict[Key, Element]:
    """The side's elements by key, in the side's order. Depends on the base and this side alone."""
    found = _matched(base, side) if base else {}
    keyed: dict[Key, Element] = {}
    counts: Counter[Key] = Counter()
    for at, element in enumerate(side.elements):
        if at in found:
            keyed["base", found[at]] = element
            continue
        new: Key = ("new", element.role, identity(element))
        keyed[*new, counts[new]] = element
        counts[new] += 1
    return keyed


def base_keys(base: Sheet | None) -> dict[Key, Element]:
    """The base's own elements by key."""
    return {("base", at): element for at, element in enumerate(base.elements)} if base else {}


def identity(element: Element) -> Hashable:
    """What makes two new elements of two sides one: a thing in its group, a header's name, else the words."""
    if element.role is Role.INGREDIENT and element.ingredient is not None:
        return plain(element.group or "").casefold(), known_by(element.ingredient)
    if element.role in (Role.HEADER, Role.SECTION):
        return element.name
    if element.role is Role.TITLE:
        return ""
    if element.role is Role.VERSION:
        return plain(element.text.partition(":")[2].partition("|")[0]) or plain(element.text)
    return plain(element.text).casefold() if element.role is Role.GROUP else plain(element.text)


def _matched(base: Sheet, side: Sheet) -> dict[int, int]:
    """Places in the side -> places in the base, one to one."""
    found: dict[int, int] = {}
    old, new = base.elements, side.elements
    same: list[Callable[[Element], Hashable]] = [
        lambda e: (e.role, e.group and plain(e.group).casefold(), meaning(e)),
        lambda e: (e.role, identity(e)),
    ]
    for key in same:
        _pair_equal(old, new, found, key)
    things = [e for e in old if e.role is Role.INGREDIENT and e.ingredient]
    if things:
        _pair_equal(old, new, found, _thing_anywhere)
    _pair_alike(old, new, found)
    return found


def _pair_equal(
    old: Sequence[Element], new: Sequence[Element], found: dict[int, int], key: Callable[[Element], Hashable]
) -> None:
    taken = set(found.values())
    waiting: dict[Hashable, list[int]] = {}
    for at, element in enumerate(old):
        if at not in taken and (known := key(element)) is not None:
            waiting.setdefault(known, []).append(at)
    for at, element in enumerate(new):
        if at not in found and (places := waiting.get(key(element))):
            found[at] = places.pop(0)


def _thing_anywhere(element: Element) -> Hashable:
    if element.role is Role.INGREDIENT and element.ingredient is not None:
        return known_by(element.ingredient)
    return None


def _pair_alike(old: Sequence[Element], new: Sequence[Element], found: dict[int, int]) -> None:
    """What is left pairs by likeness, best first; between the same neighbours less likeness is enough."""
    taken = set(found.values())
    pairs = []
    for at, element in enumerate(new):
        if at in found:
            continue
        gap = _gap(at, new, found)
        for was, other in enumerate(old):
            if was in taken or other.role is not element.role:
                continue
            likeness = _likeness(other, element)
            in_place = gap[0] < was < gap[1]
            if likeness >= (_IN_PLACE if in_place else _REWORDED) and (in_place or element.role is Role.STEP):
                pairs.append((-likeness, was, at))
    for _, was, at in sorted(pairs):
        if at not in found and was not in found.values():
            found[at] = was


def _gap(at: int, new: Sequence[Element], found: dict[int, int]) -> tuple[int, int]:
    """The places in the base between which an unpaired element stands: after its last, before its next paired one."""
    before = next((found[i] for i in range(at - 1, -1, -1) if i in found), -1)
    after = next((found[i] for i in range(at + 1, len(new)) if i in found), 1 << 30)
    return before, after


def _likeness(a: Element, b: Element) -> float:
    if a.role in (Role.NOTE, Role.SOME_ADD, Role.VARIATION, Role.SWAP, Role.SECTION, Role.HEADER, Role.VERSION):
        return 0.0
    if a.role is Role.INGREDIENT and a.ingredient and b.ingredient:
        part = part_in_dish(a.ingredient.item)
        stands_in = part is not None and part == part_in_dish(b.ingredient.item)
        return max(shared(a.ingredient.item, b.ingredient.item), 0.5 if stands_in else 0.0)
    return shared(a.text, b.text)


def shared(a: str, b: str) -> float:
    """Share of telling words that two wordings have in common, 0 to 1."""
    one, other = (Counter(w for w in _WORD.findall(plain(t).casefold()) if w not in _FILLERS) for t in (a, b))
    size = one.total() + other.total()
    return 2 * (one & other).total() / size if size else 0.0
