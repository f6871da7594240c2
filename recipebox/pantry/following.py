"""Ingredients that name another card ("1 batch white sauce, see card"), followed into that card."""

import re
from collections.abc import Callable, Iterable
from fractions import Fraction

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import thing
from recipebox.measures import scale_card

_DEEPEST = 3
_SEE_CARD = re.compile(
    r"\bsee (?:the |my |our |its |own )?(?:card|recipe)\b|\b(?:batch|recipe) (?:of )?", re.IGNORECASE
)


class Titles:
    """Cards by what their titles name, worked out when the first line asks for another card: few boxes have one.

    `titled` gives what each card is called, its kind and its title; `card` the card that is called so.
    """

    def __init__(self, titled: Callable[[], Iterable[tuple[str, str, str]]], card: Callable[[str], Card]) -> None:
        self._titled, self._card = titled, card
        self._found: dict[str, str] | None = None

    def get(self, name: str) -> Card | None:
        """The card of this title; of several a family recipe, else the first by path."""
        if self._found is None:
            self._found = {}
            for called, _, title in sorted(self._titled(), key=lambda one: (one[1] != "family", one[0])):
                if title:
                    self._found.setdefault(thing(title), called)
        called_so = self._found.get(name)
        return None if called_so is None else self._card(called_so)


def by_title(cards: Iterable[Card]) -> Titles:
    """Cards by what their titles name."""
    known = {card.called: card for card in cards}
    return Titles(lambda: [(card.called, card.kind, card.title) for card in known.values()], known.__getitem__)


def followed(card: Card, titles: Titles, on_hand: Iterable[str] = (), depth: int = 0) -> list[Ingredient]:
    """The card's lines, with the lines of a card that a line names in the place of that line, on its batch.

    A line is followed that says so ("1 batch of", "see card"), unless the thing itself is on hand (`on_hand`: common
    names). A card that leads back to itself is followed no further than three cards deep.
    """
    there = frozenset(on_hand)
    lines: list[Ingredient] = []
    for line in card.ingredients:
        other = _named(line, titles) if depth < _DEEPEST else None
        if other is None or other.called == card.called or thing(other.title) in there:
            lines.append(line)
            continue
        times = line.amount.low if line.amount and line.unit in (None, "batch", "recipe") else Fraction(1)
        lines += followed(scale_card(other, times) if times > 0 else other, titles, there, depth + 1)
    return lines


def _named(line: Ingredient, titles: Titles) -> Card | None:
    if not (line.unit in ("batch", "recipe") or _SEE_CARD.search(line.text)):
        return None
    return titles.get(thing(line.item)) or titles.get(thing(re.sub(_SEE_CARD, "", line.item).strip(" ,")))
