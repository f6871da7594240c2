"""A card from standard input: as text, or as JSON that `read --json` or `batch --json` printed."""

import json
import re
import sys
from pathlib import Path
from typing import Any

from recipebox.cards.model import Card

LARGEST = 1_000_000  # bytes: what a card may have
_INPUT = "standard input"
_NO_CARD = "standard input is JSON but not a card as data"
_EXACT = re.compile(r"-?\d{1,100}(?:/0*[1-9]\d{0,99})?")
_EXACT_KEYS = frozenset({"low", "high", "depth", "sides", "batch", "factor"})
_TEXT_KEYS = frozenset({"path", "title", "text", "item", "about", "name", "kind", "items", "unsure", "tags", "scale"})
_MAYBE_TEXT_KEYS = frozenset(
    {"unit", "group", "how", "preparation", "purpose", "remark", "from", "measures", "shape", "words", "what", "who"}
)
_WHOLE_KEYS = frozenset({"line", "part", "count"})


class CardInputError(ValueError):
    """What came in is not one card; str() is one clear line."""


def card_from_input() -> Card:
    """The one card on standard input. Raises CardInputError for none, for several, or for too much."""
    data = sys.stdin.buffer.read(LARGEST + 1)
    return _from_json(data) if data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{") else _from_text(data)


def card_in_file(name: str) -> Card:
    """The one card in a file. Raises CardInputError as above, OSError where the file cannot be read."""
    with Path(name).open("rb") as file:
        data = file.read(LARGEST + 1)
    return _from_text(data, name)


def _from_text(data: bytes, name: str = "") -> Card:
    from recipebox.cards.kinds import NotACardError
    from recipebox.cards.reader import read_cards

    _bounded(data, name or _INPUT)
    try:
        return _only(read_cards(data, name or "-"), name or _INPUT)
    except NotACardError as error:
        raise CardInputError(f"{name or _INPUT} is not a card: {error.why}") from error


def _from_json(data: bytes) -> Card:
    from recipebox.cards.data import card_from_data

    _bounded(data, _INPUT)
    try:
        found = [json.loads(line) for line in data.decode("utf-8-sig").splitlines() if line.strip()]
    except ValueError:
        try:
            found = [json.loads(data.decode("utf-8-sig"))]
        except (ValueError, RecursionError) as error:
            raise CardInputError("standard input begins like JSON but cannot be read as JSON, nor as a card") from error
    except RecursionError as error:
        raise CardInputError("standard input is JSON in too many layers to be a card") from error
    cards = [_part_that_is_a_card(one) for one in found]
    try:
        return _only([card_from_data(card) for card in cards], _INPUT)
    except CardInputError:
        raise
    except (LookupError, TypeError, ValueError, ArithmeticError, AttributeError) as error:
        raise CardInputError(f"{_NO_CARD}: {_why(error)}") from error


def _part_that_is_a_card(found: Any) -> dict[str, Any]:
    if not isinstance(found, dict):
        raise CardInputError(f"{_NO_CARD}: a card is an object")
    card = found.get("card", found)
    if not isinstance(card, dict) or "ingredients" not in card:
        said = f": {found['trouble']}" if isinstance(found.get("trouble"), str) else ""
        raise CardInputError(f"{_NO_CARD}{said or ': it has no ingredients'}")
    _check(card)
    return card


def _check(value: Any, key: str = "") -> None:
    """Hold every value to its kind before anything is made of it: fractions of a sane length, text, whole numbers."""
    if isinstance(value, list):
        for one in value:
            _check(one, key)
        return
    if key in _EXACT_KEYS and value is not None and not (isinstance(value, str) and _EXACT.fullmatch(value)):
        raise CardInputError(f'{_NO_CARD}: "{key}" is no fraction such as "3/2"')
    if key in _TEXT_KEYS | _MAYBE_TEXT_KEYS and not isinstance(value, str):
        if key in _TEXT_KEYS or value is not None:
            raise CardInputError(f'{_NO_CARD}: "{key}" is no text')
    elif key in _WHOLE_KEYS and (not isinstance(value, int) or value < 0):
        raise CardInputError(f'{_NO_CARD}: "{key}" is no whole number')
    elif isinstance(value, dict):
        for name, one in value.items():
            _check(one, name)


def _only(cards: list[Card], where: str) -> Card:
    if len(cards) != 1:
        titles = ", ".join(card.title for card in cards[:5]) or "none"
        raise CardInputError(f"{where}: one card is wanted, here are {len(cards)} ({titles}); give one of them")
    return cards[0]


def _bounded(data: bytes, where: str) -> None:
    if len(data) > LARGEST:
        raise CardInputError(f"{where}: over 1 MB, too much for a card; cut out the recipe")


def _why(error: Exception) -> str:
    return (
        f"{error} is missing" if isinstance(error, KeyError) else " ".join(str(error).split()) or type(error).__name__
    )
