"""The dishes as kept, told apart by name."""

import json
from collections import Counter
from fractions import Fraction
from typing import TYPE_CHECKING

from recipebox.index.pairs import Pairs

if TYPE_CHECKING:
    from recipebox.dishes import Dishes


def all_dishes(kept: Pairs) -> "Dishes":
    """All dishes and the versions that stand alone, as `group` gives them for the whole box."""
    from recipebox.dishes import Dish, Dishes, Member

    rows = [(name, json.loads(cards)) for name, cards in kept.dishes()]
    rows.sort(key=lambda row: str(row[1][0][0]))
    used: Counter[str] = Counter()
    dishes = []
    for name, cards in rows:
        used[name.casefold()] += 1
        uses = used[name.casefold()]
        members = tuple(Member(called, Fraction(batch), why) for called, batch, why in cards)
        dishes.append(Dish(name if uses == 1 else f"{name} {uses}", members))
    dishes.sort(key=lambda dish: (dish.name.casefold(), dish.name))
    return Dishes(tuple(dishes), tuple(kept.singles()))
