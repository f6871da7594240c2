"""What the index keeps of one file, worked out from its bytes alone."""

import json
from collections.abc import Iterator

from recipebox.box import MAX_CARD, BoxTrouble
from recipebox.cards.data import card_data
from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.cards.sayings import read_sayings
from recipebox.cards.text import NotTextError
from recipebox.cards.things import thing
from recipebox.dishes import features, features_data, keys
from recipebox.index.rows import CARD, NOT_A_CARD, OTHER, SAYINGS, CardRow, Taken


def take_in(path: str, data: bytes) -> Taken:
    """Read a file's bytes as cards; whatever they are, the answer is a Taken."""
    if path == SAYINGS:
        return Taken(OTHER, trouble=tuple(_trouble_with_sayings(data)))
    if not could_be_card(path):
        return Taken(OTHER)
    if len(data) > MAX_CARD:
        return too_large(path)
    try:
        cards = read_cards(data, path)
    except NotACardError as error:
        return Taken(NOT_A_CARD, trouble=(BoxTrouble(path, error.line, str(error)),))
    trouble = [BoxTrouble(card.path, trouble.line, trouble.what) for card in cards for trouble in card.trouble]
    return Taken(CARD, tuple(map(_row, cards)), tuple(trouble))


def too_large(path: str) -> Taken:
    """What is kept of a text that is too large for a card."""
    what = f"not a card: larger than {MAX_CARD // 1_000_000} MB"
    return Taken(NOT_A_CARD, trouble=(BoxTrouble(path, 0, what),))


def _trouble_with_sayings(data: bytes) -> Iterator[BoxTrouble]:
    try:
        read_sayings(data)
    except NotTextError as error:
        yield BoxTrouble(SAYINGS, 0, f"{error}: nothing in it counts")


def _row(card: Card) -> CardRow:
    known = features(card)
    names = {thing(item) for line in card.ingredients for item in line.items or (line.item,)}
    return CardRow(
        called=card.called,
        path=card.path,
        kind=card.kind,
        title=card.title,
        name=card.name,
        sender=card.sender,
        tags=json.dumps(card.tags, ensure_ascii=False),
        data=_json(card_data(card)),
        features=_json(features_data(known)),
        keys=keys(known) if card.kind == "version" else (),
        things=tuple(sorted(names - {""})),
        words=(
            card.title,
            "\n".join(_one_line(line.text) for line in card.ingredients),
            "\n".join(_one_line(step.text) for step in card.steps),
            "\n".join(_one_line(line) for line in _other(card) if line),
        ),
    )


def _other(card: Card) -> Iterator[str]:
    """Every other line somebody may look for."""
    yield from dict.fromkeys((card.sender or card.name, card.name))
    if card.tags:
        yield "tags: " + ", ".join(card.tags)
    if card.pan:
        yield "pan: " + card.pan.text
    if card.makes:
        yield "makes: " + card.makes.what
    yield from ("oven: " + bake.text for bake in card.oven)
    yield from dict.fromkeys(line.group for line in card.ingredients if line.group)
    yield from (note.text for note in card.notes)
    yield from (f"{some.ingredient.text} ({', '.join(some.who)})" for some in card.some_add)
    for variation in card.variations:
        yield variation.name
        yield from (line.text for line in variation.ingredients)
    for swap in card.swaps:
        yield " ".join(filter(None, (swap.item, "->", swap.instead, swap.how, swap.who, swap.source, swap.effect)))
    for entry in (*card.undecided, *card.settled):
        yield entry.about
        yield from (wording.text for wording in entry.wordings)


def _one_line(words: str) -> str:
    return " ".join(words.split())


def _json(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))
