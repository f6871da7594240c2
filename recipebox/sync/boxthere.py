"""A box at a meeting place, as it is named to a person."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BoxThere:
    """A box at a place: its id and how many cards it has (None where that is not told without taking it)."""

    box_id: str
    cards: int | None

    @property
    def said(self) -> str:
        """The number of cards in words."""
        return "cards not counted" if self.cards is None else cards(self.cards)


def cards(count: int) -> str:
    """ "1 card", "3 cards"."""
    return f"{count} card" if count == 1 else f"{count} cards"
