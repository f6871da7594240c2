"""What the index keeps of one file, as data."""

from dataclasses import dataclass

from recipebox.box import BoxTrouble

SAYINGS = "dishes.txt"
CARD, NOT_A_CARD, OTHER = "card", "not a card", "other"


@dataclass(frozen=True, slots=True)
class CardRow:
    """A card as the index keeps it; the last four are what is searched, a line each."""

    called: str
    path: str
    kind: str
    title: str
    name: str
    sender: str | None
    tags: str
    data: str
    features: str
    keys: tuple[str, ...]
    things: tuple[str, ...]
    words: tuple[str, str, str, str]


@dataclass(frozen=True, slots=True)
class Taken:
    """A file as the index keeps it. `what` is card, not a card, or other."""

    what: str
    cards: tuple[CardRow, ...] = ()
    trouble: tuple[BoxTrouble, ...] = ()
