"""What a card asks of each thing, one portion a thing."""

import re
from collections.abc import Container, Sequence
from dataclasses import replace
from fractions import Fraction

from recipebox.cards.model import Amount, Card, Ingredient
from recipebox.cards.things import is_known, part_in_dish, thing
from recipebox.compare.model import Portion
from recipebox.measures import Whose, footing, in_measures, lines_that_differ, whose_measures

# What a purpose is about when the thing is not eaten as a part of the dish: common practice, no source.
_PART_OF_FRUIT = re.compile(r"(?:the )?(?:\w+ )?(juice|zest) (?:of|from) ", re.IGNORECASE)
_MINCED = re.compile(r"(?:finely |coarsely )?(?:minced|ground)\b", re.IGNORECASE)
_FOR_THE_PAN = re.compile(r"\b(?:greas|pans?\b|dish|tins?\b|dust|fry|brush)", re.IGNORECASE)
FOR_THE_PAN = " for the pan"


def portions(cards: Sequence[Card]) -> list[list[Portion]]:
    """The portions of each card, in its order, things that several lines name not yet put together.

    A line with several things ("salt and pepper") is one portion, unless some card has one of them by itself or in
    other company: then it is a portion each, in all cards, so that they meet.
    """
    lines = [
        [tuple(_name(line, item) for item in line.items or (line.item,)) for line in card.ingredients] for card in cards
    ]
    company: dict[str, set[frozenset[str]]] = {}
    for names in (names for card in lines for names in card):
        for name in names:
            company.setdefault(name, set()).add(frozenset(names))
    apart = {name for name, sets in company.items() if len(sets) > 1}
    made = []
    for card in cards:
        whose = whose_measures(card) if any(lines_that_differ(card)) else None
        of_card = [portion for line in card.ingredients for portion in _of_line(line, apart)]
        made.append([replace(portion, whose=whose) for portion in of_card] if whose else of_card)
    return made


def made_of(line: Ingredient, item: str) -> str:
    """The common name of an item of a line: minced beef is ground beef, wherever the line says that it is minced."""
    name = thing(item)
    if line.preparation and _MINCED.match(line.preparation):
        minced = thing(f"minced {item}")
        return minced if minced.startswith("ground ") else name
    return name


def together(parts: Sequence[Portion]) -> Portion:
    """Several portions of one thing as one: amounts added up where they have a common footing, else unsaid."""
    if len(parts) == 1:
        return parts[0]
    lines = tuple(line for part in parts for line in part.lines)
    first = parts[0]
    return replace(first, ingredient=_sum(lines, first.whose), lines=lines, shared=any(part.shared for part in parts))


def by_size(parts: Sequence[Portion]) -> list[int]:
    """The rank of each portion by how much of the thing it is, those without an amount first."""
    stands = [footing(in_measures(part.ingredient, part.whose)) for part in parts]
    sizes = [next((size for size in (s.grams, s.ml, s.count) if size is not None), Fraction(-1)) for s in stands]
    order = sorted(range(len(parts)), key=lambda at: sizes[at])
    return [order.index(at) for at in range(len(parts))]


def _of_line(line: Ingredient, apart: Container[str]) -> list[Portion]:
    names = [_name(line, item) for item in line.items] if len(line.items) > 1 else []
    if any(name in apart for name in names):
        return [
            Portion(name, part_in_dish(item), line, (line,), shared=True)
            for name, item in zip(names, line.items, strict=True)
        ]
    name = " and ".join(sorted(names)) if names else _name(line, line.item or line.text)
    if _FOR_THE_PAN.search(line.purpose or ""):
        return [Portion(name + FOR_THE_PAN, None, line, (line,))]
    return [Portion(name, part_in_dish(line.item), line, (line,))]


def _name(line: Ingredient, item: str) -> str:
    """The common name of an item of a line: what a tin holds is the tinned thing where there is one, and the juice of a
    lemon is lemon juice.
    """
    part = _PART_OF_FRUIT.match(line.text.strip())
    name = thing(f"{item} {part[1]}") if part else made_of(line, item)
    if line.unit == "can" or any(measure.unit == "can" for measure in line.also):
        tinned = thing(f"canned {name}")
        return tinned if is_known(tinned) else name
    return name


def _sum(lines: Sequence[Ingredient], whose: Whose | None) -> Ingredient:
    first = lines[0]
    if all((line.unit, line.container) == (first.unit, first.container) and line.amount for line in lines):
        amounts = [line.amount for line in lines if line.amount]
        plus = tuple(more for line in lines for more in line.plus)
        whole = Amount(sum((a.low for a in amounts), Fraction()), sum((a.high for a in amounts), Fraction()))
        return replace(first, amount=whole, plus=plus, also=())
    stands = [footing(in_measures(line, whose)) for line in lines]
    for unit, sizes in (("gram", [s.grams for s in stands]), ("milliliter", [s.ml for s in stands])):
        known = [size for size in sizes if size is not None]
        if len(known) == len(lines):
            size = sum(known, Fraction())
            return replace(first, amount=Amount(size, size), unit=unit, container=None, plus=(), also=())
    return replace(first, amount=None, unit=None, container=None, plus=(), also=(), how=None)
