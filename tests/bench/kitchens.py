"""Made-up versions of real ingredient lists: what other kitchens do to a card, by a seeded chance.

The lists are those of datasets/ingredient-lines (dev), read where they lie. What is done to them, and how often, is
common practice, no source.
"""

import json
import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path

from recipebox.cards.amounts import write_amount
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Card, Ingredient

DATASETS = Path(__file__).parents[3] / "shared" / "datasets"
FACTORS = [Fraction(1)] * 5 + [Fraction(2), Fraction(1, 2), Fraction(3, 2), Fraction(3)]
UNITS = {
    "cup": (("cup", 1), ("c", 1), ("ml", 240)),
    "tablespoon": (("tbsp", 1), ("tablespoon", 1), ("tsp", 3), ("ml", 15)),
    "teaspoon": (("tsp", 1), ("teaspoon", 1), ("t", 1)),
    "pound": (("lb", 1), ("pound", 1), ("oz", 16), ("g", 450)),
    "ounce": (("oz", 1), ("ounce", 1), ("g", Fraction("28.35"))),
    "gram": (("g", 1), ("gram", 1), ("oz", Fraction("0.0353"))),
}
SPELLINGS = (
    ("green onion", "scallion"), ("yogurt", "yoghurt"), ("zucchini", "courgette"), ("chili", "chilli"),
    ("powdered sugar", "confectioners' sugar"), ("ketchup", "catsup"), ("all-purpose flour", "flour"),
    ("vanilla extract", "vanilla"), ("garlic cloves", "cloves garlic"), ("eggplant", "aubergine"),
)  # fmt: skip
FORMS = ("bake", "soup", "salad", "stew", "cake", "pie", "casserole", "bread", "sauce", "bars", "cookies", "dip")


@dataclass(frozen=True)
class Kitchen:
    """A set of cards with the truth: cards of one number are one dish; a near miss has a number of its own."""

    cards: tuple[Card, ...]
    dish: dict[str, int]


@cache
def lists() -> tuple[tuple[Ingredient, ...], ...]:
    """The real lists of six lines and more, as read."""
    found: dict[int, list[str]] = {}
    for row in map(json.loads, (DATASETS / "ingredient-lines" / "dev.jsonl").read_text("utf-8").splitlines()):
        found.setdefault(row["recipe"], []).append(row["text"])
    read = (tuple(read_ingredient(text, line) for line, text in enumerate(texts, 1)) for texts in found.values())
    return tuple(lines for lines in read if len(lines) >= 6)


def kitchen(dishes: int, singles: int, seed: int, titles: bool = True) -> Kitchen:
    """`dishes` dishes of 2 to 6 versions with 0 to 3 real changes each, near misses of each other one, and singles."""
    chance = random.Random(seed)
    chosen = chance.sample(range(len(lists())), min(dishes + singles, len(lists())))
    cards: list[Card] = []
    dish: dict[str, int] = {}

    def put(lines: Sequence[Ingredient], title: str, number: int) -> None:
        path = f"{chance.randrange(16**8):08x}.txt"
        cards.append(Card(path=path, title=title if titles else "", ingredients=tuple(lines)))
        dish[path] = number

    for number, at in enumerate(chosen):
        base = lists()[at]
        form = chance.choice(FORMS)
        if number >= dishes:
            put(base, title_of(base, form, chance), number)
            continue
        for _ in range(chance.randint(2, 6)):
            put(version(base, chance.randint(0, 3), chance), title_of(base, form, chance), number)
        if number % 2:
            other = near_miss(base, chance)
            put(other, title_of(other, chance.choice((form, chance.choice(FORMS))), chance), dishes + singles + number)
    chance.shuffle(cards)
    return Kitchen(tuple(cards), dish)


def version(lines: Sequence[Ingredient], changes: int, chance: random.Random) -> list[Ingredient]:
    """The list on another batch, in other units, spellings and order, with so many real changes."""
    changed = list(lines)
    for _ in range(changes):
        what = chance.choice(("leave out", "put in", "another", "amount"))
        at = chance.randrange(len(changed))
        if what == "leave out" and len(changed) > 4:
            del changed[at]
        elif what == "put in":
            changed.insert(at, chance.choice(chance.choice(lists())))
        elif what == "another":
            changed[at] = chance.choice(chance.choice(lists()))
        elif changed[at].amount is not None:
            changed[at] = scaled(changed[at], Fraction(chance.choice((1, 3)), 2))
    factor = chance.choice(FACTORS)
    chance.shuffle(changed)
    return [respelled(scaled(line, factor), number, chance) for number, line in enumerate(changed, 1)]


def near_miss(lines: Sequence[Ingredient], chance: random.Random) -> list[Ingredient]:
    """Another dish that shares half of the list."""
    kept = chance.sample(list(lines), len(lines) // 2)
    other = chance.choice(lists())
    return kept + list(chance.sample(list(other), min(len(other), len(lines) - len(kept))))


def title_of(lines: Sequence[Ingredient], form: str, chance: random.Random) -> str:
    """A title from what is in it: two of the three longest names' last words, and the form, one in five of another."""
    names = sorted((line.item for line in lines if line.item), key=len)[-3:]
    heads = [name.split()[-1] for name in names]
    said = chance.sample(heads, min(2, len(heads)))
    return " ".join([*said, form if chance.random() < 0.8 else chance.choice(FORMS)])


def scaled(line: Ingredient, factor: Fraction) -> Ingredient:
    """The line at another size, as data."""
    if line.amount is None:
        return line
    return replace(line, amount=Amount(line.amount.low * factor, line.amount.high * factor))


def respelled(line: Ingredient, number: int, chance: random.Random) -> Ingredient:
    """The line written by another hand, read again."""
    if not line.item:
        return replace(line, line=number)
    amount, unit = line.amount and line.amount.low, line.unit or ""
    if amount is not None and unit in UNITS:
        unit, times = chance.choice(UNITS[unit])
        amount *= Fraction(times)
        if unit in ("ml", "g"):
            amount = Fraction(round(amount / 5) * 5 or 5) if amount > 10 else amount.limit_denominator(2)
    item = line.item
    for one, other in SPELLINGS:
        if one in item and chance.random() < 0.5:
            item = item.replace(one, other)
    size = ""
    if line.container is not None:
        size = f"({write_amount(line.container.amount.low)} {line.container.unit}) "
    first = f"{write_amount(amount.limit_denominator(8) or Fraction(1, 8))} " if amount is not None else ""
    words = f"{first}{unit + ' ' if unit else ''}{size}{item}"
    if line.preparation and chance.random() < 0.6:
        words += f", {line.preparation}"
    return read_ingredient(words, number)
