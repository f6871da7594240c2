"""The dishes of a box: which cards belong together."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.model import Card
from recipebox.cards.sayings import Sayings
from recipebox.dishes.candidates import candidates
from recipebox.dishes.clusters import Margin, clusters
from recipebox.dishes.features import Features
from recipebox.dishes.likeness import likeness
from recipebox.dishes.names import dish_names
from recipebox.dishes.reasons import batch_of
from recipebox.dishes.say import blocks, kept_apart


@dataclass(frozen=True, slots=True)
class Member:
    """A card of a dish: its batch against the first card listed, and why it belongs."""

    called: str
    batch: Fraction
    why: str


@dataclass(frozen=True, slots=True)
class Dish:
    """Versions of one dish, in order of path."""

    name: str
    cards: tuple[Member, ...]


@dataclass(frozen=True, slots=True)
class Dishes:
    """The dishes of two cards and more, by name; what cards stand alone, by path."""

    dishes: tuple[Dish, ...]
    singles: tuple[str, ...]


def group(known: Mapping[str, Features], sayings: Sayings, families: Iterable[Card] = ()) -> Dishes:
    """Group cards into dishes. `known` holds versions only, by what they are called; `families` the family recipes.

    A dish is made of cards that are alike on the average, each with each: none is taken in for being like one other.
    The family's own say goes before likeness. Depends on the cards alone, not on their order, nor on paths but in
    names and listing; groups of cards that share no candidate pair do not touch one another.
    """
    families = sorted(families, key=lambda card: card.path)
    margins: dict[tuple[str, str], float] = {}

    def margin(a: str, b: str) -> float:
        pair = (a, b) if a < b else (b, a)
        if pair not in margins:
            margins[pair] = likeness(known[pair[0]], known[pair[1]]).margin
        return margins[pair]

    edges = [(a, b) for a, b in candidates(known) if likeness(known[a], known[b]).same]
    found = _groups(known, edges, margin, sayings, families)
    names = dish_names(found, known, sayings, families)
    dishes = [
        Dish(name, _members(cards, known, margin, sayings, families))
        for name, cards in sorted(zip(names, found, strict=True), key=lambda one: (one[0].casefold(), one[0]))
        if len(cards) > 1
    ]
    return Dishes(tuple(dishes), tuple(sorted(cards[0] for cards in found if len(cards) == 1)))


def _groups(
    known: Mapping[str, Features],
    edges: Iterable[tuple[str, str]],
    margin: Margin,
    sayings: Sayings,
    families: Iterable[Card],
) -> list[tuple[str, ...]]:
    """The groups, given all pairs above their cut: each in order of path, all in order of their first."""
    block = blocks(known, sayings, families, margin)
    apart = kept_apart(sayings, block)
    linked: dict[str, list[str]] = defaultdict(list)
    for a, b in edges:
        linked[a].append(b)
        linked[b].append(a)
    found: list[frozenset[str]] = []
    for component in _components(known, linked, block):
        found += _in_component(component, known, margin, linked, block, apart)
    return sorted(tuple(sorted(cards)) for cards in found)


def _in_component(
    component: set[str],
    known: Mapping[str, Features],
    margin: Margin,
    linked: Mapping[str, list[str]],
    block: Mapping[str, frozenset[str]],
    apart: set[frozenset[frozenset[str]]],
) -> list[frozenset[str]]:
    """Dishes by likeness, then those joined that the family's say holds together: it drives nobody out of a dish.

    Only where joining them would bring together what must stay apart is likeness asked anew, with the say as given.
    """

    # Cards that say the same are told apart by path, which decides nothing but how the family's say falls on them.
    def content(card: str) -> tuple[object, ...]:
        return (*_content(known[card]), card)

    barred = {
        frozenset((frozenset((a,)), frozenset((b,)))) for one, other in map(tuple, apart) for a in one for b in other
    }
    pairs = [(card, other) for card in component for other in linked.get(card, ())]
    alike = clusters({frozenset((card,)) for card in component}, margin, pairs, barred, content)
    found: list[frozenset[str]] = []
    for whole in _joined(alike, block):
        blocks_there = {block[card] for card in whole}
        if any(pair <= blocks_there for pair in apart):
            found += clusters(blocks_there, margin, pairs, apart, content)
        else:
            found.append(whole)
    return found


def _joined(groups: Iterable[frozenset[str]], block: Mapping[str, frozenset[str]]) -> list[frozenset[str]]:
    """The groups, those that share a block made one."""
    joined: list[frozenset[str]] = []
    for group in groups:
        held = frozenset().union(group, *(block[card] for card in group))
        apart = [other for other in joined if not other & held]
        joined = [*apart, held.union(*(other for other in joined if other & held))]
    return joined


def _components(
    known: Iterable[str], linked: Mapping[str, Iterable[str]], block: Mapping[str, frozenset[str]]
) -> list[set[str]]:
    components = []
    seen: set[str] = set()
    for start in known:
        if start in seen:
            continue
        seen.add(start)
        component, todo = {start}, [start]
        while todo:
            card = todo.pop()
            for other in block[card].union(linked.get(card, ())):
                if other not in seen:
                    seen.add(other)
                    component.add(other)
                    todo.append(other)
        components.append(component)
    return components


def _content(known: Features) -> tuple[object, ...]:
    """What a card says, its path aside: so that a tie falls alike wherever the cards lie."""
    return (sorted(known.things.items()), sorted(known.words.items()), known.title, sorted(known.sizes.items()))


def _members(
    cards: tuple[str, ...], known: Mapping[str, Features], margin: Margin, sayings: Sayings, families: Iterable[Card]
) -> tuple[Member, ...]:
    said = {card for pair in sayings.same if set(pair) <= set(cards) for card in pair}
    listed = {version.path for family in families for version in family.versions}
    members = []
    for card in cards:
        nearest = max((other for other in cards if other != card), key=lambda other: margin(card, other))
        why = f"beside {nearest}: {likeness(known[card], known[nearest]).why}"
        if card in said:
            why = f"the family says so; {why}"
        elif card in listed:
            why = f"named in the family recipe; {why}"
        members.append(Member(card, batch_of(known[cards[0]], known[card]), why))
    return tuple(members)
