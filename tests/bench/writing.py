"""Made-up cards around real ingredient lists, as data and as text: what a dish is, and how a hand writes it down.

The lists are those of datasets/ingredient-lines (dev), read where they lie; methods, titles and wordings are made up
here, common practice, no source. A hand writes the same dish in its own words, units, spelling and order.
"""

import json
import random
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path

from recipebox.cards.amounts import write_amount
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Card, Ingredient
from recipebox.cards.reader import read_cards
from recipebox.cards.things import thing

DATASETS = Path(__file__).parents[3] / "shared" / "datasets"
FACTORS = [Fraction(1)] * 5 + [Fraction(2), Fraction(1, 2), Fraction(3, 2), Fraction(3)]
UNITS = {
    "cup": (("cup", 1), ("c", 1), ("cups", 1), ("ml", 240)),
    "tablespoon": (("tbsp", 1), ("tablespoon", 1), ("Tbsp", 1), ("tsp", 3), ("ml", 15)),
    "teaspoon": (("tsp", 1), ("teaspoon", 1), ("t", 1)),
    "pound": (("lb", 1), ("pound", 1), ("oz", 16), ("g", Fraction("453.6"))),
    "ounce": (("oz", 1), ("ounce", 1), ("g", Fraction("28.35"))),
    "gram": (("g", 1), ("gram", 1), ("oz", Fraction("0.03527"))),
    "milliliter": (("ml", 1), ("mL", 1)),
}
SPELLINGS = (
    ("green onion", "scallion"), ("yogurt", "yoghurt"), ("zucchini", "courgette"), ("chili", "chilli"),
    ("powdered sugar", "confectioners' sugar"), ("ketchup", "catsup"), ("all-purpose flour", "plain flour"),
    ("vanilla extract", "vanilla"), ("garlic cloves", "cloves garlic"), ("eggplant", "aubergine"),
    ("cilantro", "fresh coriander"), ("shrimp", "prawns"), ("cornstarch", "cornflour"), ("parmesan", "Parmesan"),
)  # fmt: skip
FORMS = ("bake", "soup", "salad", "stew", "cake", "pie", "casserole", "bread", "sauce", "bars", "cookies", "dip")
BAKED = frozenset(("bake", "cake", "pie", "casserole", "bread", "bars", "cookies"))
_ROUNDING = Fraction(15, 1000)
_SPOKEN = {10: "ten minutes", 20: "twenty minutes", 30: "half an hour", 60: "1 hour"}
_COLORS = ("golden", "brown on top", "set in the middle")


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that is done: what, to which things, for how many minutes, at which heat (F)."""

    what: str
    things: tuple[str, ...] = ()
    minutes: int | None = None
    heat: int | None = None


@dataclass(frozen=True, slots=True)
class Recipe:
    """A dish as one kitchen makes it, before anybody has written it down."""

    title: str
    form: str
    lines: tuple[Ingredient, ...]
    steps: tuple[Step, ...]
    serves: Fraction
    heat: int | None
    minutes: int | None


@cache
def lists() -> tuple[tuple[Ingredient, ...], ...]:
    """The real lists of five and more lines that another hand could write again without guessing, as read."""
    found: dict[int, list[str]] = {}
    for row in map(json.loads, (DATASETS / "ingredient-lines" / "dev.jsonl").read_text("utf-8").splitlines()):
        found.setdefault(row["recipe"], []).append(row["text"])
    read = [[read_ingredient(text, line) for line, text in enumerate(texts, 1)] for texts in found.values()]
    return tuple(lines for raw in read if len(lines := _once(line for line in raw if _plain(line))) >= 5)


def recipe(lines: Sequence[Ingredient], chance: random.Random) -> Recipe:
    """A method, a title, an oven and a yield made up around a list."""
    form = chance.choice(FORMS)
    baked = form in BAKED
    heat = chance.choice((325, 350, 375, 400, 425)) if baked else None
    minutes = chance.choice((15, 20, 25, 30, 45, 60)) if baked else None
    names = [line.item for line in lines]
    steps = [Step("oven", heat=heat)] if baked else []
    parts = [tuple(names[at : at + 3]) for at in range(0, len(names), 3)]
    for number, part in enumerate(parts):
        what = chance.choice(("mix", "fry", "fold") if number else ("mix", "beat", "fry"))
        steps.append(Step(what, part, chance.choice((3, 5, 8, 10)) if what == "fry" else None))
    steps.append(Step("bake", (), minutes) if baked else Step("simmer", (), chance.choice((10, 20, 40, 60))))
    steps.append(Step(chance.choice(("cool", "chill")), (), chance.choice((10, 15, 30))))
    serves = Fraction(chance.choice((4, 6, 8, 12)))
    return Recipe(title_of(lines, form, chance), form, tuple(lines), tuple(steps), serves, heat, minutes)


def title_of(lines: Sequence[Ingredient], form: str, chance: random.Random) -> str:
    """A title from what is in it: two of the three longest names' last words, and the form."""
    heads = [name.split()[-1] for name in sorted((line.item for line in lines), key=len)[-3:]]
    said = chance.sample(heads, min(2, len(heads)))
    return " ".join([*said, form]).capitalize()


def scaled(what: Recipe, factor: Fraction) -> Recipe:
    """The recipe on another batch; ovens and times stay."""
    return replace(what, lines=tuple(times(line, factor) for line in what.lines), serves=what.serves * factor)


def times(line: Ingredient, factor: Fraction) -> Ingredient:
    """The line at another size, as data."""
    if line.amount is None:
        return line
    return replace(line, amount=Amount(line.amount.low * factor, line.amount.high * factor))


def written(what: Recipe, path: str, chance: random.Random, title: bool = True, steps: bool = True) -> Card:
    """The card as one hand writes it, read from its text."""
    lines = list(what.lines)
    chance.shuffle(lines)
    said = [what.title] if title else []
    if what.serves.denominator == 1:
        said.append(f"{chance.choice(('Serves', 'serves:', 'Serves:'))} {what.serves}")
    told = what.steps
    if what.heat is not None and steps and chance.random() < 0.3:
        said.append(f"oven: {what.heat} F, {what.minutes} minutes")
        told = tuple(step for step in told if step.what != "oven")
    short = chance.random() < 0.5
    said += ["", "Ingredients", *(respelled(line, chance) for line in lines)]
    if steps:
        said += ["", "Method", *method(told, chance, {n: _short(n, what.lines) if short else n for n in _names(what)})]
    cards = read_cards("\n".join(said).encode(), path)
    return cards[0] if title else replace(cards[0], title="")


def respelled(line: Ingredient, chance: random.Random) -> str:
    """The line as another hand writes it: amount, unit, spelling, what is done to it before or behind or not at all."""
    amount, unit = line.amount and line.amount.low, line.unit or ""
    if amount is not None and unit in UNITS:
        other, size = chance.choice(UNITS[unit])
        rounded = _kitchen(amount * size, other)
        # A hand that can't write an amount in another unit without changing it leaves it in its own.
        if abs(rounded / (amount * size) - 1) <= _ROUNDING:
            amount, unit = rounded, other
    item = line.item
    for one, other in SPELLINGS:
        if one in item and chance.random() < 0.5:
            item = item.replace(one, other)
    size_of = ""
    if line.container is not None:
        size_of = f"({write_amount(line.container.amount.low)} {line.container.unit}) "
    first = f"{_figure(amount, unit, chance)} " if amount is not None else ""
    words = f"{first}{unit + ' ' if unit else ''}{size_of}{item}"
    if line.preparation and chance.random() < 0.6:
        words += f", {line.preparation}"
    return words


def method(steps: Sequence[Step], chance: random.Random, names: dict[str, str]) -> list[str]:
    """The steps in one hand's words, a line each; sometimes two on a line."""
    said = [_told(step, chance, names) for step in steps]
    if len(said) > 3 and chance.random() < 0.3:
        at = chance.randrange(len(said) - 1)
        said[at : at + 2] = [f"{said[at]} {said[at + 1]}"]
    return [f"{number}. {line}" for number, line in enumerate(said, 1)]


def _told(step: Step, chance: random.Random, names: dict[str, str]) -> str:
    told = [names.get(name, name) for name in step.things]
    foods = "the " + (", ".join(told[:-1]) + " and " + told[-1] if len(told) > 1 else told[0]) if told else "it"
    time = chance.choice(
        (f"{step.minutes} minutes", f"{step.minutes} min", _SPOKEN.get(step.minutes or 0, f"{step.minutes} mins"))
    )
    color = chance.choice(_COLORS)
    wordings = {
        "oven": (f"Heat the oven to {step.heat} F.", f"Preheat oven to {step.heat}°F.",
                 f"Set the oven to {_celsius(step.heat)} C.", f"Turn the oven on to {step.heat} degrees."),
        "mix": (f"Mix {foods} in a large bowl.", f"In a bowl, combine {foods}.", f"Stir {foods} together.",
                f"Put {foods} in a bowl and stir until just combined."),
        "beat": (f"Beat {foods} until smooth.", f"Whip {foods} well, until smooth."),
        "fold": (f"Gently fold in {foods}.", f"Fold {foods} into the rest."),
        "fry": (f"Fry {foods} for {time}.", f"Saute {foods} in a wide pan, about {time}.",
                f"Cook {foods} over medium heat until soft, {time}."),
        "bake": (f"Bake for {time}, until {color}.", f"Into the oven for {time}, or until {color}; bake it uncovered."),
        "simmer": (f"Simmer for {time}, stirring now and then.", f"Let it simmer gently {time}."),
        "boil": (f"Boil for {time}, stirring now and then.", f"Let it boil {time}."),
        "cool": (f"Let it cool for {time}.", f"Cool {time} before serving."),
        "chill": (f"Chill for {time}.", f"Refrigerate {time}."),
        "rest": (f"Cover and let it stand for {time}.", f"Leave it to stand, covered, {time}."),
        "freeze": (f"Freeze for {time}.", f"Put it in to freeze for {time}."),
    }  # fmt: skip
    return chance.choice(wordings[step.what])


def _names(what: Recipe) -> list[str]:
    return [line.item for line in what.lines]


def _short(name: str, lines: Sequence[Ingredient]) -> str:
    """The last word of a name, where it is the only one of its list."""
    last = name.split()[-1]
    return last if sum(last in line.item.split() for line in lines) == 1 and last.isalpha() else name


def _plain(line: Ingredient) -> bool:
    simple = not (line.instead or line.plus or line.also or line.unsure or len(line.items) > 1)
    one = line.amount is None or line.amount.low == line.amount.high
    return line.kind == "ingredient" and bool(line.item) and simple and one and len(line.item.split()) < 5


def _once(lines: Iterable[Ingredient]) -> tuple[Ingredient, ...]:
    """The lines, those of a thing already there left out."""
    found: dict[str, Ingredient] = {}
    for line in lines:
        found.setdefault(thing(line.item), line)
    return tuple(found.values())


def _kitchen(amount: Fraction, unit: str) -> Fraction:
    if unit in ("ml", "g"):
        step = 5 if amount > 150 else 1 if amount > 25 else Fraction(1, 2)
        return max(round(amount / step), 1) * Fraction(step)
    return amount.limit_denominator(8) or Fraction(1, 8)


def _figure(amount: Fraction, unit: str, chance: random.Random) -> str:
    exact = amount * 4
    if exact.denominator == 1 and amount.denominator > 1 and chance.random() < 0.3:
        return str(float(amount))
    return write_amount(amount)


def _celsius(heat: int | None) -> int:
    return round((((heat or 32) - 32) * 5 / 9) / 5) * 5
