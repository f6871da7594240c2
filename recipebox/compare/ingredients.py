"""The ingredients of several cards, a row each, on the first card's batch."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import combinations

from recipebox.cards.model import Amount, Card
from recipebox.compare.amounts import measured_kind
from recipebox.compare.batch import batch_factor, factor_of_rows
from recipebox.compare.model import Cell, Kind, Portion, Row
from recipebox.compare.pairing import Members, offers, one_thing, pair_up


def align_ingredients(cards: Sequence[Card]) -> list[Row]:
    """A row for each ingredient of the cards, one-to-one per card. Amounts are on the first card's batch."""
    return rows_and_batches(cards)[0]


def rows_and_batches(cards: Sequence[Card]) -> tuple[list[Row], list[Fraction]]:
    """The rows, and how many times the first card each card is."""
    paired = pair_up(cards)
    if len(cards) == 2:
        batches = [Fraction(1), factor_of_rows(paired, cards[0], cards[1])]
    else:
        batches = [Fraction(1), *(batch_factor(cards[0], card) for card in cards[1:])]
    return [_row(members, cards, batches) for members in paired], batches


def _row(members: Members, cards: Sequence[Card], batches: Sequence[Fraction]) -> Row:
    first = members[min(members)]
    item = first.thing or first.ingredient.item or first.ingredient.text
    cells = {cards[place].called: _cell(members[place], batches[place]) for place in sorted(members)}
    return Row(item, _kind(members, len(cards), batches), cells)


def _cell(portion: Portion, batch: Fraction) -> Cell:
    line = portion.ingredient
    amount = line.amount and Amount(line.amount.low / batch, line.amount.high / batch)
    text = " + ".join(one.text.strip() for one in portion.lines)
    return Cell(line, portion.lines, portion.thing, text, amount, line.unit, portion.whose)


def _kind(members: Mapping[int, Portion], cards: int, batches: Sequence[Fraction]) -> Kind:
    if len(members) < cards:
        return Kind.ONLY
    kinds = set()
    for (i, a), (j, b) in combinations(sorted(members.items()), 2):
        if not (one_thing(a.thing, b.thing) or offers(a, b.thing) or offers(b, a.thing)):
            return Kind.STANDS_IN
        kinds.add(_amounts(a, b, batches[j] / batches[i]))
    return next((kind for kind in (Kind.UNCLEAR, Kind.AMOUNT) if kind in kinds), Kind.SAME)


def _amounts(a: Portion, b: Portion, factor: Fraction) -> Kind:
    one, other = a.ingredient, b.ingredient
    if a.shared != b.shared and not (one.amount is None and other.amount is None):
        return Kind.UNCLEAR
    return measured_kind(a, b, factor)
