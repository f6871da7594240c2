"""Boxes of made-up versions of real ingredient lists, with the truth: what other kitchens do to a dish.

Where more dishes are wanted than there are real lists, lists are put together from single lines of real lists.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass, replace

from changing import OF_A_DISH, changed
from writing import FACTORS, FORMS, Recipe, lists, recipe, scaled, title_of, written

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import thing

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
) -> Kitchen:
    """`dishes` dishes of 2 to 8 versions with 0 to 3 real changes each, and `singles` that are like no other.

    Lists have `least` lines and more: of five things, three real changes leave little of the dish.
    With `near_misses`, every other dish also has one card beside it that shares half of its list and is another dish.
    """
    chance = random.Random(seed)
    sources = _sources(least, chance)
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
