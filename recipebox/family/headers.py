"""The header lines of a family recipe."""

from collections.abc import Iterable
from dataclasses import replace

from recipebox.cards.model import Card, Header
from recipebox.cards.shape import lay_out

_FIELDS = {
    "serves": "serves",
    "makes": "makes",
    "pan": "pan",
    "oven": "oven",
    "time": "minutes",
    "tags": "tags",
    "measures": "measures",
}


def headers_of(card: Card) -> tuple[Header, ...]:
    """The header lines a card has once it is laid out, `from` and what no field holds aside."""
    bare = Card(
        path=card.path,
        title=card.title or "-",
        serves=card.serves,
        makes=card.makes,
        pan=card.pan,
        oven=card.oven,
        minutes=card.minutes,
        tags=card.tags,
        measures=card.measures,
        steps=card.steps,
    )
    found = []
    for line in lay_out(bare).decode().split("\n")[1:]:
        name, colon, value = line.partition(": ")
        if not colon or name not in _FIELDS:
            break
        found.append(Header(name, value, 0))
    return tuple(found)


def with_facts_of(card: Card, other: Card, names: Iterable[str]) -> Card:
    """The card with what another says in the header lines of these names."""
    return replace(card, **{_FIELDS[name]: getattr(other, _FIELDS[name]) for name in names})
