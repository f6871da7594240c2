"""What was assumed in measuring a card, said out loud: whose cups, which ounces, what makes no sense."""

import re
from collections.abc import Iterator
from fractions import Fraction

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import thing
from recipebox.cautions.sizing import PRACTICE, SizeCaution
from recipebox.measures import is_fluid, lines_that_differ, unit, whose_measures
from recipebox.measures.written import decimal, plural

_MOST = {"volume": Fraction(1_000_000), "weight": Fraction(1_000_000), "count": Fraction(10_000)}  # ml, g, each
# Sold by weight, though they pour: an ounce of them may be meant either way.
# A number that was not read: ten figures, less than nothing, over nothing.
_NUMBER_FIRST = re.compile(r"\s*(?:[*•]\s+)?([-−–]?\d[\d.,/⁄^]*)")
_EITHER = frozenset({"sour cream", "yogurt", "honey", "salsa", "mayonnaise", "condensed milk", "tomato sauce", "syrup"})


def measuring_cautions(card: Card) -> list[SizeCaution]:
    """Whose cups were taken, unless the header says; which ounces; and lines whose unit or amount makes no sense."""
    return [*_whose_cups(card), *_which_ounces(card), *_senseless(card)]


def _whose_cups(card: Card) -> Iterator[SizeCaution]:
    whose = whose_measures(card)
    lines = list(lines_that_differ(card))
    if not whose.guessed or not lines:
        return
    named = dict.fromkeys(name for line in lines for name in (line.unit, *(part.unit for part in line.plus)))
    sizes = []
    for name in named:
        found = unit(whose.measures.row(name)) if name else None
        if name is not None and found is not None and found.dimension == "volume":
            ml = Fraction(round(found.size * 10), 10)
            sizes.append(f"a {name} {decimal(ml)} ml")
    yield SizeCaution(
        lines[0].line,
        f"Cups and spoons are taken as {whose.measures.name} ones ({', '.join(sizes)}), a guess: {whose.why}. To say "
        "otherwise write measures: US, UK, AU or metric under the title.",
    )


def _which_ounces(card: Card) -> Iterator[SizeCaution]:
    for line in card.ingredients:
        if unit(line.unit or "") != unit("ounce") or line.amount is None:
            continue
        if is_fluid(line.item):
            yield SizeCaution(
                line.line, f"{line.item}: ounces are taken as fluid ounces, a guess by the item ({PRACTICE})."
            )
        elif thing(line.item) in _EITHER:
            yield SizeCaution(line.line, f"{line.item}: ounces are taken as weight, a guess by the item ({PRACTICE}).")


def _senseless(card: Card) -> Iterator[SizeCaution]:
    for line in card.ingredients:
        told = _why_senseless(line)
        if told is not None:
            yield SizeCaution(line.line, f"{line.item or line.text}: {told}.")


def _why_senseless(line: Ingredient) -> str | None:
    if line.amount is None:
        number = _NUMBER_FIRST.match(line.text)
        return f'"{number[1]}" is not understood as an amount: the line stands as written' if number else None
    if not line.item[:1].isalnum() and line.item[:1] in "^*/=":
        return "its amount is not understood: look at this line"
    if line.amount.low <= 0 or line.amount.high <= 0:
        return "an amount that is not above 0 stands as written"
    found = unit(line.unit) if line.unit else None
    if line.unit is not None and found is None:
        return f'no table knows the unit "{line.unit}": it is only counted, and turned into nothing else'
    size = found.size if found is not None else Fraction(1)
    if line.amount.high * size > _MOST.get(found.dimension if found is not None else "count", _MOST["count"]):
        amount = f"{line.amount.high} {plural(line.unit, line.amount.high) if line.unit else 'of them'}"
        return f"{amount} is more than a kitchen holds: look at this line"
    return None
