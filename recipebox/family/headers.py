"""The header lines of a family recipe."""

from collections.abc import Iterable
from dataclasses import replace

from recipebox.cards.model import Card, Header, Minutes
from recipebox.cards.shape import lay_out

KEPT = ("serves", "makes", "pan", "oven", "time", "tags", "measures")


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
        if not colon or name not in KEPT:
            break
        found.append(Header(name, value, 0))
    return tuple(found)


def with_headers(card: Card, headers: Iterable[Header]) -> Card:
    """The card with only these of its facts; a value is read from the card that says it."""
    from recipebox.cards.reader import read_cards

    lines = [card.title or "-", *(f"{header.name}: {header.value}" for header in headers)]
    text = "\n".join([*lines, "", "Ingredients", "  1 egg", "", "Method", "  1. Cook it.", "  2. Eat it.", ""])
    facts = read_cards(text.encode(), card.path or "card.txt")[0]
    return replace(
        card,
        serves=facts.serves,
        makes=facts.makes,
        pan=facts.pan,
        oven=facts.oven,
        minutes=facts.minutes or Minutes(),
        tags=facts.tags,
        measures=facts.measures,
    )
