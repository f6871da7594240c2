"""The family's own say about its dishes, written into dishes.txt."""

from typing import TYPE_CHECKING

from recipebox.box import Box, MissingError, lock, read_file, replace
from recipebox.cards.sayings import HEADING, forget, say
from recipebox.family.model import FamilyError
from recipebox.family.which import find_card

if TYPE_CHECKING:
    from recipebox.index import Index

_FILE = "dishes.txt"


def say_of_dishes(box: Box, index: "Index", card: str, kind: str, other: str) -> list[str]:
    """Say that two cards are the `same` dish or `different`, `forget` what was said, or give the card's dish a `name`.

    Gives back what a person should know (nothing to forget). Raises FamilyError where a card is not found or the words
    cannot be kept.
    """
    with lock(box):
        index.refresh()
        try:
            was: bytes | None = read_file(box, _FILE)
        except MissingError:
            was = None
        data = was if was is not None else f"{HEADING}\n".encode()
        here = find_card(index, card).called
        try:
            if kind == "name":
                new = say(data, "name", other, here)
            elif kind == "forget":
                new = forget(data, here, find_card(index, other).called)
            else:
                new = say(data, kind, here, find_card(index, other).called)
        except ValueError as error:
            raise FamilyError(str(error)) from error
        if new == data:
            return ["nothing was said of these two; nothing changed"] if kind == "forget" else []
        replace(box, _FILE, new, was)
        index.refresh()
    return []
