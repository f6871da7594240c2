"""The versions of a dish in one line-up: which stands nearest the middle, and every line's row on the base's batch."""

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from recipebox.cards.data import card_data
from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import part_in_dish, same_thing, thing
from recipebox.compare import Cell, Kind, Row, align_ingredients, batch_factor
from recipebox.compare.amounts import amount_kind

# Words that say how a thing is sold or cut, not that it is another thing: common practice, no source.
_LOOSE = frozenset(
    re.split(
        r"\s+",
        "all-purpose all purpose plain white black fresh dried dry large medium small whole semi-skimmed skimmed semi "
        "unsalted salted skinless boneless ripe floury russet chopped diced canned tinned ground fine coarse mature "
        "sharp fillet chunk piece frozen raw extra virgin rolled",
    )
)


@dataclass(frozen=True)
class LineUp:
    """The versions with the base first, and their rows. `rank` has what each is called, nearest the middle first.

    `batch` says how many times the base each version is.
    """

    base: Card
    cards: Mapping[str, Card]
    batch: Mapping[str, Fraction]
    rows: tuple[Row, ...]
    rank: tuple[str, ...]

    def rows_of(self, called: str, line: Ingredient) -> list[int]:
        """The rows that a line of a version stands in; several for "salt and pepper"."""
        return [
            at
            for at, row in enumerate(self.rows)
            if called in row.cells and any(one is line for one in row.cells[called].lines)
        ]

    def same_amount(self, row: Row, one: str, other: str) -> bool:
        """Whether two versions have the same thing in a row, in the same amount once both are on one batch."""
        a, b = row.cells[one], row.cells[other]
        if not alike(a.thing, b.thing):
            return False
        factor = self.batch[other] / self.batch[one]
        return amount_kind(a.ingredient, b.ingredient, factor) is Kind.SAME


def line_up(cards: Sequence[Card], texts: Mapping[str, bytes], start_from: str | None = None) -> LineUp:
    """Set the versions side by side. `start_from` is what the base is called, else it is the one nearest the middle.

    Independent of the order of `cards`. `texts` are the cards' bytes by path, which break ties.
    """
    ordered = sorted(cards, key=lambda card: card.called)
    rank = nearest_first(ordered, texts)
    base_called = start_from if start_from is not None else rank[0]
    base = next(card for card in ordered if card.called == base_called)
    line = [base, *(card for card in ordered if card is not base)]
    rows = _said_loosely(align_ingredients(line))
    batch = {card.called: batch_factor(base, card) if card is not base else Fraction(1) for card in line}
    return LineUp(base, {card.called: card for card in line}, batch, rows + _left_over(line, rows), rank)


def nearest_first(cards: Iterable[Card], texts: Mapping[str, bytes]) -> tuple[str, ...]:
    """What the cards are called, nearest the middle first: fewest rows that differ from all others, summed.

    Ties by the card's bytes, then by path.
    """
    ordered = sorted(cards, key=lambda card: card.called)
    apart = dict.fromkeys((card.called for card in ordered), 0)
    for one, other in combinations(ordered, 2):
        differing = sum(row.kind is not Kind.SAME for row in align_ingredients([one, other]))
        apart[one.called] += differing
        apart[other.called] += differing

    def key(card: Card) -> tuple[int, bytes, str]:
        return apart[card.called], texts.get(card.path) or canonical(card), card.called

    return tuple(card.called for card in sorted(ordered, key=key))


def alike(one: str, other: str) -> bool:
    """Whether two things are one, or one is only said more closely ("flour", "all-purpose flour")."""
    if one == other or same_thing(one, other):
        return True
    words, others = set(one.split()), set(other.split())
    extra = words ^ others
    if "from" in extra and (words < others or others < words):
        return True  # "breadcrumbs from a stale loaf"
    return bool(
        (words < others or others < words)
        and extra <= _LOOSE
        and (part_in_dish(one) == part_in_dish(other) or None in (part_in_dish(one), part_in_dish(other)))
    )


def canonical(card: Card) -> bytes:
    """A card's data as bytes, for where its own bytes are not at hand."""
    return json.dumps(card_data(card), sort_keys=True).encode()


def _said_loosely(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows put together that no version has both of, where one says the other's thing with more words about it.

    "breadcrumbs from a stale loaf" and "breadcrumbs"; "salt and white pepper" and "salt, pepper".
    """
    joined = list(rows)
    for one in sorted(rows, key=lambda row: len(row.cells)):
        if one not in joined:
            continue
        fits = [
            other
            for other in joined
            if other is not one and not other.cells.keys() & one.cells.keys() and _loosely(one, other)
        ]
        if fits:
            other = max(fits, key=lambda row: len(row.cells))
            at = joined.index(other)
            joined[at] = Row(other.item, Kind.ONLY, {**other.cells, **one.cells})
            joined.remove(one)
    return tuple(joined)


def _loosely(one: Row, other: Row) -> bool:
    """Whether each thing of a row is said by some cell of the other, with words that name no further part of a dish."""
    known = {cell.thing for cell in other.cells.values()}
    for cell in one.cells.values():
        words = set(cell.thing.split())
        several = len(cell.ingredient.items) > 1
        if not any(
            (set(thing_.split()) - {"cheese"} or {thing_}) < words and part_in_dish(cell.thing) is None
            if not several
            else _lists_alike(cell, [o for o in other.cells.values() if o.thing == thing_])
            for thing_ in known
        ):
            return False
    return True


def _lists_alike(cell: Cell, others: Iterable[Cell]) -> bool:
    own = [thing(item) for item in cell.ingredient.items]
    return any(
        len(other.ingredient.items) == len(own)
        and all(any(alike(name, thing(item)) for item in other.ingredient.items) for name in own)
        for other in others
    )


def _left_over(cards: Sequence[Card], rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows for lines that no row holds, so that no line of any version is lost."""
    found = []
    for card in cards:
        held = {id(line) for row in rows if card.called in row.cells for line in row.cells[card.called].lines}
        for line in card.ingredients:
            if id(line) not in held:
                common = thing(line.item) or line.text.casefold()
                cell = Cell(line, (line,), common, line.text, line.amount, line.unit)
                found.append(Row(common, Kind.ONLY, {card.called: cell}))
    return tuple(found)
