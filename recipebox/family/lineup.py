"""The versions of a dish in one line-up: which stands nearest the middle, and every line's row on the base's batch."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from recipebox.cards.data import card_data
from recipebox.cards.model import Card, Ingredient
from recipebox.compare import Kind, Row, align_ingredients, batch_factor
from recipebox.compare.amounts import measured_kind
from recipebox.family.meaning import as_meant
from recipebox.family.rows import alike, rows_across


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
        return measured_kind(a, b, factor) is Kind.SAME


def line_up(cards: Sequence[Card], texts: Mapping[str, bytes], start_from: str | None = None) -> LineUp:
    """Set the versions side by side. `start_from` is what the base is called, else it is the one nearest the middle.

    Its cards are those given, as a cook means them (`as_meant`). Independent of the order of `cards`. `texts` are the
    cards' bytes by path, which break ties.
    """
    ordered = sorted(cards, key=lambda card: card.called)
    rank = nearest_first(ordered, texts)
    ordered = as_meant(ordered)
    base_called = start_from if start_from is not None else rank[0]
    base = next(card for card in ordered if card.called == base_called)
    line = [base, *(card for card in ordered if card is not base)]
    batch = {card.called: batch_factor(base, card) if card is not base else Fraction(1) for card in line}
    return LineUp(base, {card.called: card for card in line}, batch, rows_across(line), rank)


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


def canonical(card: Card) -> bytes:
    """A card's data as bytes, for where its own bytes are not at hand."""
    return json.dumps(card_data(card), sort_keys=True).encode()
