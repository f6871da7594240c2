"""Boxes of made-up versions of real ingredient lists, with the truth: what other kitchens do to a dish.

Where more dishes are wanted than there are real lists, lists are put together from single lines of real lists: of any,
or, for look-alikes, of one list and the lists nearest to it, so that there are a dozen chocolate cakes which are not
one dish. Among 500 such lists there are about twice as many near pairs as among the 506 real ones.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from changing import OF_A_DISH, changed
from writing import FACTORS, FORMS, Recipe, lists, recipe, scaled, title_of, written

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import thing
from recipebox.dishes.telling import telling_thing

_ASIDES = ("Easy {}", "{} for the week", "Mother's {}", "{} (good for a crowd)", "The best {}")


@dataclass(frozen=True)
class Kitchen:
    """A set of cards with the truth: cards of one number are one dish; a near miss has a number of its own."""

    cards: tuple[Card, ...]
    dish: dict[str, int]


def kitchen(
    dishes: int,
    singles: int,
    seed: int,
    titles: bool = True,
    steps: bool = True,
    near_misses: bool = False,
    least: int = 6,
    look_alikes: bool = False,
) -> Kitchen:
    """`dishes` dishes of 2 to 8 versions with 0 to 3 real changes each, and `singles` that are like no other.

    Lists have `least` lines and more: of five things, three real changes leave little of the dish.
    With `near_misses`, every other dish also has one card beside it that shares half of its list and is another dish.
    With `look_alikes`, all lists are like others.
    """
    chance = random.Random(seed)
    sources = _look_alikes(least, chance) if look_alikes else _sources(least, chance)
    cards: list[Card] = []
    dish: dict[str, int] = {}

    def put(what: Recipe, number: int) -> None:
        path = f"{chance.randrange(16**8):08x}.txt"
        cards.append(written(what, path, chance, titles, steps))
        dish[path] = number

    for number in range(dishes + singles):
        base = recipe(next(sources), chance)
        if number >= dishes:
            put(base, number)
            continue
        for _ in range(chance.randint(2, 8)):
            put(version(base, chance), number)
        if near_misses and number % 2:
            put(near_miss(base, chance), dishes + singles + number)
    chance.shuffle(cards)
    return Kitchen(tuple(cards), dish)


def version(base: Recipe, chance: random.Random) -> Recipe:
    """The recipe as another kitchen makes it: up to three real changes, another batch, perhaps another title."""
    other, _ = changed(base, chance.randint(0, 3), chance, OF_A_DISH)
    way = chance.random()
    if way < 0.3:
        other = replace(other, title=title_of(other.lines, base.form, chance))
    elif way < 0.5:
        other = replace(other, title=chance.choice(_ASIDES).format(base.title.lower()).capitalize())
    elif way < 0.6:
        other = replace(other, title=title_of(other.lines, chance.choice(FORMS), chance))
    return scaled(other, chance.choice(FACTORS))


def near_miss(base: Recipe, chance: random.Random) -> Recipe:
    """Another dish that shares half of the list."""
    kept = chance.sample(list(base.lines), len(base.lines) // 2)
    there = {thing(line.item) for line in kept}
    other = [line for line in chance.choice(lists()) if thing(line.item) not in there]
    return recipe(kept + other[: len(base.lines) - len(kept)], chance)


def _sources(least: int, chance: random.Random) -> Iterator[tuple[Ingredient, ...]]:
    """The real lists in a random order, then lists put together from their lines."""
    real = [lines for lines in lists() if len(lines) >= least]
    yield from chance.sample(real, len(real))
    while True:
        found: dict[str, Ingredient] = {}
        for _ in range(chance.randint(max(least, 6), 12)):
            line = chance.choice(chance.choice(lists()))
            found.setdefault(thing(line.item), line)
        yield tuple(found.values())


def _look_alikes(least: int, chance: random.Random) -> Iterator[tuple[Ingredient, ...]]:
    """Lists put together from the lines of one real list and of those nearest to it, what more of them have sooner."""
    while True:
        first = chance.randrange(len(lists()))
        pool: dict[str, list[Ingredient]] = {}
        for number in (first, first, *_nearest()[first]):
            for line in lists()[number]:
                pool.setdefault(thing(line.item), []).append(line)
        names = sorted(pool)
        many = min(chance.randint(least, 12), len(names))
        found: dict[str, Ingredient] = {}
        while len(found) < many:
            name = chance.choices(names, [len(pool[name]) for name in names])[0]
            found.setdefault(name, chance.choice(pool[name]))
        yield tuple(found.values())


@cache
def _nearest(many: int = 7) -> list[list[int]]:
    """For each real list, the places of those that share most with it, by how telling what they share is."""
    told = [{(name := thing(line.item)): telling_thing(name) for line in lines} for lines in lists()]

    def apart(one: int, other: int) -> float:
        a, b = told[one], told[other]
        return -sum(a[name] for name in a.keys() & b.keys()) / (sum(a.values()) + sum(b.values()))

    return [
        sorted((other for other in range(len(told)) if other != one), key=lambda other: (apart(one, other), other))[
            :many
        ]
        for one in range(len(told))
    ]
