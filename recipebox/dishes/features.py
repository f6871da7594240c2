"""What of a card tells which dish it is: pure data, kept in the index."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from sys import intern
from typing import Any

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import part_in_dish
from recipebox.compare.portions import made_of
from recipebox.compare.words import content_words, stems
from recipebox.dishes.telling import telling_thing, telling_word
from recipebox.dishes.titles import forms, title_words
from recipebox.measures import fahrenheit, footing

MOST_WORDS = 40  # of a method, the most telling
_OVEN = frozenset(stems("oven bake"))
_OVEN_HEAT = re.compile(r"\b\d{3} ?(?:°|º|degrees)? ?(?:C|F|fan)\b|\bgas (?:mark )?\d", re.IGNORECASE)
_MAIN = 0.2  # of all that is weighed or measured, but for what it is cooked in
_COOKED_IN = frozenset(("water", "stock"))
_LONGEST_TITLE = 14  # words; what is longer is a sentence

Size = tuple[str, float]  # "g", "ml" or "n", and how much


@dataclass(frozen=True, slots=True)
class Features:
    """Weights are thousandths, so that they are alike on every computer.

    `things`: common names of the ingredients and how telling each is; `parts`: the part a thing plays; `sizes`: how
    much of it, in grams, milliliters or pieces. `title_words`, `words`: stems of the title and the method, weighted.
    `forms`: what form of dish the title names. `mains`: things that are a fifth of it and more. `oven` in Fahrenheit;
    `baked`: whether it goes into the oven, None where nothing is said.
    """

    called: str
    title: str
    things: Mapping[str, int]
    parts: Mapping[str, str]
    sizes: Mapping[str, tuple[Size, ...]]
    title_words: Mapping[str, int]
    words: Mapping[str, int]
    forms: tuple[str, ...] = ()
    mains: tuple[str, ...] = ()
    oven: int | None = None
    baked: bool | None = None
    pan: str | None = None
    serves: float | None = None


def features(card: Card) -> Features:
    """The features of a card; they depend on the card and the shipped tables alone."""
    foods = [
        (intern(made_of(line, item)), item, line) for line in card.ingredients for item in line.items or (line.item,)
    ]
    foods = [food for food in foods if food[0]]
    sizes = _sizes((name, line) for name, _, line in foods if len(line.items) < 2)
    steps = [step.text for step in card.steps]
    title = "" if _is_step(card.title, steps) else card.title
    if not title and card.title:
        steps = [card.title, *steps]
    return Features(
        called=card.called,
        title=card.title,
        things={name: telling_thing(name) for name, _, _ in foods},
        parts={name: intern(part) for name, item, _ in foods if (part := part_in_dish(item)) is not None},
        sizes=sizes,
        title_words={intern(word): weight for word, weight in title_words(title, card).items()},
        forms=tuple(sorted(forms(title))),
        words=_words(steps),
        mains=_mains({name: size for name, size in sizes.items() if part_in_dish(name) not in _COOKED_IN}),
        oven=_oven(card),
        baked=_baked(card, steps),
        pan=_pan(card),
        serves=float(card.serves.middle) if card.serves else None,
    )


def features_data(known: Features) -> dict[str, Any]:
    """Features as JSON-ready data; `features_from_data` gives them back equal."""
    return asdict(known)


def features_from_data(data: Mapping[str, Any]) -> Features:
    """The features that `features_data` wrote. Raises KeyError, TypeError or ValueError where the shape is another."""
    return Features(
        called=data["called"],
        title=data["title"],
        things={intern(name): weight for name, weight in data["things"].items()},
        parts={intern(name): intern(part) for name, part in data["parts"].items()},
        sizes={intern(name): tuple((intern(u), n) for u, n in sizes) for name, sizes in data["sizes"].items()},
        title_words={intern(word): weight for word, weight in data["title_words"].items()},
        words={intern(word): weight for word, weight in data["words"].items()},
        forms=tuple(data["forms"]),
        mains=tuple(data["mains"]),
        oven=data["oven"],
        baked=data["baked"],
        pan=data["pan"],
        serves=data["serves"],
    )


def _is_step(title: str, steps: Iterable[str]) -> bool:
    """A card without a title is called by its first line, which may be a step."""
    first = next(iter(steps), "")
    return title.rstrip().endswith(".") or len(title.split()) > _LONGEST_TITLE or first.startswith(title)


def _sizes(lines: Iterable[tuple[str, Ingredient]]) -> dict[str, tuple[Size, ...]]:
    found: dict[str, dict[str, float]] = {}
    for name, line in lines:
        if line.amount is None:
            continue
        stands = footing(line)
        known = {"g": stands.grams, "ml": stands.ml, "n": stands.count}
        sizes = {unit: float(size) for unit, size in known.items() if size}
        if name in found:
            sizes = {unit: found[name][unit] + size for unit, size in sizes.items() if unit in found[name]}
        found[name] = sizes
    return {name: tuple(sizes.items()) for name, sizes in found.items() if sizes}


def _mains(sizes: Mapping[str, tuple[Size, ...]]) -> tuple[str, ...]:
    """The things that make up most of the dish, a milliliter counted as a gram."""
    heavy = {name: next((size for unit, size in known if unit in ("g", "ml")), 0.0) for name, known in sizes.items()}
    whole = sum(heavy.values())
    return tuple(sorted(name for name, size in heavy.items() if size and size >= _MAIN * whole))


def _words(steps: Iterable[str]) -> dict[str, int]:
    told = Counter(word for step in steps for word in content_words(step))
    weights = {word: telling_word(word) * (1 if times == 1 else 2 if times < 4 else 3) for word, times in told.items()}
    most = sorted(weights, key=lambda word: (-weights[word], word))[:MOST_WORDS]
    return {intern(word): weights[word] for word in most}


def _oven(card: Card) -> int | None:
    heats = [fahrenheit(heat) for bake in card.oven for heat in bake.settings]
    return next((round(heat) for heat in heats if heat is not None), None)


def _baked(card: Card, steps: Sequence[str]) -> bool | None:
    """Whether it goes into the oven; None where the card says nothing of how it is made."""
    if card.oven:
        return True
    return any(_OVEN.intersection(content_words(step)) or _OVEN_HEAT.search(step) for step in steps) if steps else None


def _pan(card: Card) -> str | None:
    if card.pan is None or not card.pan.sides:
        return card.pan.shape if card.pan else None
    unit = {"inch": "", "centimeter": " cm"}.get(card.pan.unit or "inch", "")
    round_pan = " round" if card.pan.shape == "round" else ""
    return " x ".join(str(side) for side in sorted(card.pan.sides)) + unit + round_pan
