"""What dishes are called."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations

from recipebox.cards.model import Card
from recipebox.cards.sayings import Sayings
from recipebox.dishes.features import Features
from recipebox.dishes.likeness import likeness


def dish_names(
    groups: Sequence[tuple[str, ...]], known: Mapping[str, Features], sayings: Sayings, families: Iterable[Card]
) -> list[str]:
    """A name for each group, all different.

    The title of its family recipe; else the one name said in dishes.txt of its cards; else the title of the version
    nearest the middle, ties by path. Later uses of a name get " 2", " 3", in order of the groups' first paths.
    """
    recipes = list(families)
    wanted = [_name(cards, known, sayings, recipes) if len(cards) > 1 else "" for cards in groups]
    used: Counter[str] = Counter()
    names = [""] * len(groups)
    for at in sorted(range(len(groups)), key=lambda at: groups[at]):
        name = wanted[at]
        if name:
            used[name.casefold()] += 1
            uses = used[name.casefold()]
            names[at] = name if uses == 1 else f"{name} {uses}"
    return names


def _name(cards: tuple[str, ...], known: Mapping[str, Features], sayings: Sayings, families: Iterable[Card]) -> str:
    inside = set(cards)
    titles = [
        family.title
        for family in families
        if family.title and sum(version.path in inside for version in family.versions) * 2 > len(family.versions)
    ]
    if titles:
        return titles[0]
    said = {sayings.names[card] for card in cards if card in sayings.names}
    if len(said) == 1:
        return said.pop()
    middle = _middle(sorted(cards), known)
    return known[middle].title.strip() or middle


def _middle(cards: Sequence[str], known: Mapping[str, Features]) -> str:
    """The card most like all others, the first of several."""
    near = dict.fromkeys(cards, 0.0)
    for one, other in combinations(cards, 2) if len(cards) > 2 else ():
        score = likeness(known[one], known[other]).score
        near[one] += score
        near[other] += score
    return max(cards, key=lambda card: round(near[card], 9))
