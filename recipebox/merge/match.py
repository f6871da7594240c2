"""Which element of one side is which of the base: by meaning, then by thing, then by place and likeness."""

import re
from collections import Counter
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace

from recipebox.cards.model import Role
from recipebox.cards.things import part_in_dish
from recipebox.merge.sheet import Element, Sheet, known_by, meaning, plain

Key = tuple[Hashable, ...]
"""What an element is known by in one merge: ("base", n) or ("new", kind, identity, count)."""

_REWORDED = 0.5
"""Share of telling words that makes a step the same one reworded, wherever it stands: common practice, no source."""
_IN_PLACE = 0.34
"""The same for any line that also stands between the same neighbours."""
_WORD = re.compile(r"\w+")
_FILLERS = frozenset(("a", "an", "and", "at", "for", "in", "into", "it", "of", "on", "or", "the", "then", "to", "very"))
_NEVER_REWORDED = (
    Role.NOTE, Role.SOME_ADD, Role.VARIATION, Role.SWAP, Role.SECTION, Role.HEADER, Role.VERSION, Role.LAYOUT,
)  # fmt: skip
_NAMED = (Role.HEADER, Role.TITLE, Role.LAYOUT)
"""Lines that are known by a name; of all others equal words are the same line, whatever they were taken for."""


def keys_of(base: Sheet, side: Sheet) -> dict[Key, Element]:
    """The side's elements by key, in the side's order, where this side alone meets the base."""
    return keys_of_all(base, [side])[0]


def keys_of_all(base: Sheet, sides: Sequence[Sheet]) -> list[dict[Key, Element]]:
    """Each side's elements by key, in its own order. Depends on the base and the set of sides alone.

    A line that a side reworded is told from one it put in by looking at all sides: what stands in some side beside the
    base's own line is no rewording of it, and of two that could be, the one that more sides have is.
    """
    found = [_matched(base, side) for side in sides]
    for pairs, side in zip(found, sides, strict=True):
        _pair_same_words(base.elements, side.elements, pairs)
    for was, words in _reworded(base.elements, [side.elements for side in sides], found):
        for pairs, side in zip(found, sides, strict=True):
            at = next((n for n, e in enumerate(side.elements) if n not in pairs and _words(e) == words), None)
            if at is not None and was not in pairs.values():
                pairs[at] = was
    roles = _roles_of_new(sides, found)
    return [_keyed(base, side, pairs, roles) for side, pairs in zip(sides, found, strict=True)]


def base_keys(base: Sheet | None) -> dict[Key, Element]:
    """The base's own elements by key."""
    return {("base", at): element for at, element in enumerate(base.elements)} if base else {}


def identity(element: Element) -> Hashable:
    """What makes two new elements of two sides one: a thing in its group, a header's name, else the words."""
    if element.role is Role.INGREDIENT and element.ingredient is not None:
        return plain(element.group or "").casefold(), known_by(element.ingredient)
    if element.role in (Role.HEADER, Role.SECTION):
        return element.name
    if element.role is Role.LAYOUT:
        return element.name, plain(element.text)
    if element.role is Role.TITLE:
        return ""
    if element.role is Role.VERSION:
        return plain(element.text.partition(":")[2].partition("|")[0]) or plain(element.text)
    return plain(element.text).casefold() if element.role is Role.GROUP else plain(element.text)


def _keyed(base: Sheet, side: Sheet, found: dict[int, int], roles: dict[str, Element]) -> dict[Key, Element]:
    keyed: dict[Key, Element] = {}
    counts: Counter[Key] = Counter()
    for at, element in enumerate(side.elements):
        if at in found:
            was = base.elements[found[at]]
            keyed["base", found[at]] = _taken_for(element, was) if element.role is not was.role else element
            continue
        like = roles.get(plain(element.text), element)
        element = _taken_for(element, like) if like.role is not element.role else element
        new: Key = ("new", element.role, identity(element))
        keyed[*new, counts[new]] = element
        counts[new] += 1
    return keyed


def _taken_for(element: Element, like: Element) -> Element:
    """The same words read as in another side: what stands around them makes a note of a step, or the reverse."""
    return replace(element, role=like.role, name=like.name, group=like.group, ingredient=like.ingredient)


def _roles_of_new(sides: Sequence[Sheet], found: Sequence[dict[int, int]]) -> dict[str, Element]:
    """Words that sides put in and that are not taken for the same kind of line everywhere: as what they count."""
    seen: dict[str, dict[Role, Element]] = {}
    for side, pairs in zip(sides, found, strict=True):
        for at, element in enumerate(side.elements):
            if at not in pairs and element.role not in _NAMED:
                seen.setdefault(plain(element.text), {}).setdefault(element.role, element)
    order = list(Role)
    return {
        words: min(kinds.items(), key=lambda kind: order.index(kind[0]))[1]
        for words, kinds in seen.items()
        if len(kinds) > 1
    }


def _matched(base: Sheet, side: Sheet) -> dict[int, int]:
    """Places in the side -> places in the base, one to one, of what means the same or is about the same thing."""
    found: dict[int, int] = {}
    old, new = base.elements, side.elements
    same: list[Callable[[Element], Hashable]] = [
        lambda e: (e.role, e.group and plain(e.group).casefold(), meaning(e)),
        lambda e: (e.role, identity(e)),
        lambda e: plain(e.text) if e.role is Role.LAYOUT else None,
    ]
    for key in same:
        _pair_equal(old, new, found, key)
    things = [e for e in old if e.role is Role.INGREDIENT and e.ingredient]
    if things:
        _pair_equal(old, new, found, _thing_anywhere)
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


def _pair_same_words(old: Sequence[Element], new: Sequence[Element], found: dict[int, int]) -> None:
    _pair_equal(old, new, found, lambda e: plain(e.text) if e.role not in _NAMED else None)


def _thing_anywhere(element: Element) -> Hashable:
    if element.role is Role.INGREDIENT and element.ingredient is not None:
        return known_by(element.ingredient)
    return None


def _words(element: Element) -> tuple[Role, str]:
    return element.role, plain(element.text)


def _reworded(
    old: Sequence[Element], sides: Sequence[Sequence[Element]], found: Sequence[dict[int, int]]
) -> list[tuple[int, tuple[Role, str]]]:
    """Places in the base with the words they may have become, best first: had by most sides, then by likeness."""
    likeness: dict[tuple[int, tuple[Role, str]], float] = {}
    for new, pairs in zip(sides, found, strict=True):
        for was, at, alike in _pairs_alike(old, new, pairs):
            likeness[was, _words(new[at])] = alike
    lacking = [
        (set(pairs.values()), {_words(e) for at, e in enumerate(new) if at not in pairs})
        for new, pairs in zip(sides, found, strict=True)
    ]
    ranked = []
    for (was, words), alike in likeness.items():
        having = [was in there for there, own in lacking if words in own]
        if not any(having):
            ranked.append((-len(having), -alike, was, words))
    return [(was, words) for _, _, was, words in sorted(ranked)]


def _pairs_alike(old: Sequence[Element], new: Sequence[Element], found: dict[int, int]) -> list[tuple[int, int, float]]:
    """What is left pairs by likeness; between the same neighbours less likeness is enough."""
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
                pairs.append((was, at, likeness))
    return pairs


def _gap(at: int, new: Sequence[Element], found: dict[int, int]) -> tuple[int, int]:
    """The places in the base between which an unpaired element stands: after its last, before its next paired one."""
    before = next((found[i] for i in range(at - 1, -1, -1) if i in found), -1)
    after = next((found[i] for i in range(at + 1, len(new)) if i in found), 1 << 30)
    return before, after


def _likeness(a: Element, b: Element) -> float:
    if a.role in _NEVER_REWORDED:
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
