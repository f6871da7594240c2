"""Dishes kept current: when cards change, only what hangs together with them is grouped again, from scratch.

Which pairs are alike enough depends on the two cards alone, so those pairs are kept, and groups are made from all
pairs of cards that hang together. The outcome equals grouping the whole box.
"""

import json
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import pairwise

from recipebox.cards.model import Card
from recipebox.cards.sayings import Saying, Sayings, quarrels, read_sayings
from recipebox.cards.text import NotTextError
from recipebox.dishes import (
    SHARED,
    Dish,
    Features,
    candidates,
    features_from_data,
    group,
    likeness,
)
from recipebox.dishes.names import dish_names
from recipebox.index.pairs import Pairs
from recipebox.index.storing import Storage, Touched

_MANY = 4  # from this share of the box on (1 in 4), all pairs are gone through at once


def regroup(kept: Storage, touched: Touched, sayings: bytes) -> None:
    """Bring alike pairs and dishes up to the cards and dishes.txt. Within the caller's transaction."""
    said = read_said(sayings)
    families = kept.families()
    start = _told_otherwise(kept, said, families)
    if not (touched.new or touched.gone or start):
        return
    pairs = Pairs(kept.connection)
    todo = {card for called in start if (card := pairs.card_id(called)) is not None}
    for card in touched.gone:
        todo.update(pairs.alike(card), pairs.of_same_dish(card))
    for card in touched.gone:
        pairs.forget_alike(card)
        pairs.put_dishes([card], [])
    todo.update(touched.new)
    todo.difference_update(touched.gone)
    pairs.add_alike(_alike_pairs(pairs, touched.new))
    links = _links(said, families)
    for component in _components(pairs, todo, links):
        pairs.put_dishes(component, _dishes_of(pairs, component, said, families))
    kept.set_sayings(sayings)
    kept.set_named(_named(families))


def read_said(data: bytes) -> Sayings:
    """dishes.txt; nothing said where it is no text."""
    try:
        return read_sayings(data)
    except NotTextError:
        return Sayings()


def _told_otherwise(kept: Storage, said: Sayings, families: Iterable[Card]) -> set[str]:
    """Cards about which dishes.txt or a family recipe says something else than before."""
    before = read_said(kept.sayings())
    cards: set[str] = set()
    for one in _said(before) ^ _said(said):
        cards.update((one[2],) if one[0] == "name" else one[1:])
    for quarrel in {*quarrels(before)} ^ {*quarrels(said)}:
        cards.update(quarrel.paths)
    for old in set(kept.named()) ^ set(_named(families)):
        cards.update(path for path, _ in json.loads(old)[2])
    return cards


def _said(sayings: Sayings) -> set[tuple[str, str, str]]:
    return {(saying.kind, saying.a, saying.b) for saying in sayings.said}


def _named(families: Iterable[Card]) -> list[str]:
    return [json.dumps([f.path, f.title, [[v.path, v.gone] for v in f.versions]]) for f in families]


def _alike_pairs(kept: Pairs, new: list[int]) -> Iterator[tuple[int, int]]:
    """Pairs above their cut of which one card is new."""
    if len(new) * _MANY >= kept.count():
        known = {str(card): _features(data) for card, data in kept.all_features()}
        fresh = {str(card) for card in new}
        for a, b in candidates(known):
            if (a in fresh or b in fresh) and likeness(known[a], known[b]).same:
                yield int(a), int(b)
        return
    for card in new:
        mine = _features(kept.features(card))
        for other in kept.sharing_keys(card, SHARED):
            if likeness(mine, _features(kept.features(other))).same:
                yield card, other


def _links(said: Sayings, families: Iterable[Card]) -> Mapping[str, set[str]]:
    """What the family itself may join, by called."""
    links: dict[str, set[str]] = defaultdict(set)
    for saying in said.said:
        if saying.kind == "same":
            links[saying.a].add(saying.b)
            links[saying.b].add(saying.a)
    for family in families:
        paths = [version.path for version in family.versions]
        for one, other in pairwise(paths):
            links[one].add(other)
            links[other].add(one)
    return links


def _components(kept: Pairs, todo: set[int], links: Mapping[str, set[str]]) -> Iterator[list[int]]:
    seen: set[int] = set()
    for start in sorted(todo):
        if start in seen:
            continue
        seen.add(start)
        waiting, component = [start], [start]
        while waiting:
            card = waiting.pop()
            near = {*kept.alike(card), *kept.of_same_dish(card)}
            if links:
                ids = map(kept.card_id, links.get(kept.called(card), ()))
                near.update(other for other in ids if other is not None)
            for other in near - seen:
                seen.add(other)
                waiting.append(other)
                component.append(other)
        yield component


def _dishes_of(kept: Pairs, component: list[int], said: Sayings, families: Iterable[Card]) -> list[Dish]:
    if len(component) < 2:
        return []
    known = {one.called: one for one in (_features(kept.features(card)) for card in component)}
    said = Sayings(tuple(saying for saying in said.said if _concerns(saying, known)))
    families = [family for family in families if any(version.path in known for version in family.versions)]
    dishes = group(known, said, families).dishes
    if len(dishes) < 2:
        return list(dishes)
    # Told apart within the component only, so each is named as if it were alone; all are told apart when read.
    alone = [dish_names([tuple(m.called for m in dish.cards)], known, said, families)[0] for dish in dishes]
    return [replace(dish, name=name) for dish, name in zip(dishes, alone, strict=True)]


def _concerns(saying: Saying, known: Mapping[str, Features]) -> bool:
    return saying.b in known or (saying.kind != "name" and saying.a in known)


def _features(data: str) -> Features:
    return features_from_data(json.loads(data))
