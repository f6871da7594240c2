"""The kitchen this laptop stands in, and its on-hand.txt."""

import json
import re
from typing import Any

from recipebox.box import Box, MissingError, keep, kept, lock, read_file, replace
from recipebox.cards.data import amount_data
from recipebox.cards.model import Trouble
from recipebox.cards.onhand import OnHand, add_entry, read_on_hand
from recipebox.cards.text import NotTextError
from recipebox.pantry.errors import PantryError
from recipebox.pantry.using import used

FIRST = "on-hand.txt"
_KEPT = "kitchen"


def read_kitchen(box: Box) -> tuple[str, OnHand]:
    """The name of this laptop's kitchen ("" if it has none) and what is on hand there; nothing where no file is."""
    name, path = _kitchen(box)
    try:
        return name, read_on_hand(read_file(box, path))
    except MissingError:
        return name, OnHand()
    except NotTextError as error:
        return name, OnHand(trouble=(Trouble(1, str(error)),))


def on_hand_data(box: Box) -> dict[str, Any]:
    """The shape of `onhand --json`."""
    name, on_hand = read_kitchen(box)
    path = _kitchen(box)[1]
    return {
        "kitchen": name,
        "entries": [
            {
                "line": entry.line,
                "place": entry.place,
                "item": entry.item,
                "amount": amount_data(entry.amount),
                "unit": entry.unit,
                "use_by": None if entry.use_by is None else entry.use_by.isoformat(),
                "text": entry.text,
            }
            for entry in on_hand.entries
        ],
        "trouble": [{"path": path, "line": worry.line, "what": worry.what} for worry in on_hand.trouble],
    }


def add_on_hand(box: Box, place: str, words: str) -> None:
    """Write a line under pantry, fridge or freezer; the same thing there grows. Raises PantryError, BoxError."""
    with lock(box):
        path, was = _open(box)
        try:
            new = add_entry(was or b"", place, words)
        except (ValueError, NotTextError) as error:
            raise PantryError(str(error)) from error
        replace(box, path, new, was)


def use_on_hand(box: Box, words: str) -> str | None:
    """Take off what was used: "2 leeks", or "leeks" for all of the entry used first. Raises PantryError, BoxError.

    Gives what a person should know of it: the table a volume became a weight by, what was rounded.
    """
    with lock(box):
        path, was = _open(box)
        try:
            new, told = used(was or b"", words)
        except NotTextError as error:
            raise PantryError(str(error)) from error
        replace(box, path, new, was)
        return told


def set_kitchen(box: Box, name: str) -> None:
    """Say which kitchen this laptop stands in. The first kitchen of a box keeps on-hand.txt, others have a file each.

    Raises PantryError for a name without letters or numbers.
    """
    stem = re.sub(r"[^\w]+", "-", name.strip().casefold()).strip("-")
    if not stem:
        raise PantryError(f"{name!r}: a kitchen's name needs letters")
    with lock(box):
        _, path = _kitchen(box)
        own = f"on-hand-{stem}.txt"
        if (box.root / own).exists() or not (path == FIRST and _is_ours(box)):
            path = own
        keep(box, _KEPT, json.dumps({"name": name.strip(), "path": path}).encode())


def _kitchen(box: Box) -> tuple[str, str]:
    data = kept(box, _KEPT)
    try:
        said = json.loads(data) if data else {}
        return str(said.get("name", "")), str(said.get("path", FIRST))
    except (ValueError, AttributeError):
        return "", FIRST


def _open(box: Box) -> tuple[str, bytes | None]:
    path = _kitchen(box)[1]
    try:
        return path, read_file(box, path)
    except MissingError:
        return path, None


def _is_ours(box: Box) -> bool:
    """Whether on-hand.txt is this laptop's kitchen's: nobody recorded in this box before us, or it is not there."""
    from recipebox.history import open_history

    if not (box.root / FIRST).exists():
        return True
    history = open_history(box)
    head = history.head
    if head is None:
        return True
    first = history.graph.oldest_first(history.graph.ancestors([head]))[0]
    return history.commit(first).message.laptop_id == box.laptop_id
