"""What is undecided and settled in a box, and settling it."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from recipebox.box import Box, MissingError, lock, read_file, remove, replace
from recipebox.cards.model import Card, Entry
from recipebox.cards.reader import read_cards
from recipebox.cards.sayings import quarrels, read_sayings, say
from recipebox.cards.text import NotTextError
from recipebox.family.model import FamilyError
from recipebox.family.sentences import said
from recipebox.family.which import find_card
from recipebox.family.writers import writers

if TYPE_CHECKING:
    from recipebox.history import History
    from recipebox.index import Index

_SAYINGS = "dishes.txt"


@dataclass(frozen=True)
class _Open:
    path: str
    entry: Entry
    settled: bool


def open_entries(
    box: Box, index: "Index", history: "History", card: str | None = None, about: str | None = None
) -> dict[str, Any]:
    """All undecided and settled entries, in the shape of `settle --json`; of one card, or about one thing, if named.

    Who wrote which wording comes from history. What dishes.txt says both ways counts as undecided. Raises FamilyError
    where the card is not found.
    """
    if card is not None and card != _SAYINGS:
        cards: Iterable[Card] = [find_card(index, card)]
    else:
        cards = sorted(index.cards(), key=lambda one: one.called) if card is None else ()
    found = [_Open(one.called, entry, False) for one in cards for entry in one.undecided]
    found += [_Open(one.called, entry, True) for one in cards for entry in one.settled]
    wanted = said(about) if about else None
    shown: dict[str, list[dict[str, Any]]] = {"undecided": [], "settled": []}
    for one in found:
        if wanted is None or said(one.entry.about) == wanted:
            shown["settled" if one.settled else "undecided"].append(_entry_data(history, one))
    if card in (None, _SAYINGS):
        shown["undecided"] += [
            entry for entry in _quarrels(box, history) if wanted is None or said(entry["about"]) == wanted
        ]
    return shown


def settle_entry(
    box: Box,
    index: "Index",
    history: "History",
    card: str,
    about: str,
    *,
    take: str | int | None = None,
    again: bool = False,
) -> dict[str, Any]:
    """Choose a wording (`take`: its number from 1, or its words), or take a choice back (`again`); gives what is open.

    Raises FamilyError where there is no such entry or wording.
    """
    from recipebox.merge import SettleError, settle, unsettle

    if take is None and not again:
        raise FamilyError('say which wording: --take 1, --take "WORDING", or --again to take a choice back')
    with lock(box):
        index.refresh()
        if card == _SAYINGS:
            _settle_saying(box, history, about, take)
        else:
            found = find_card(index, card)
            path = found.path
            was = read_file(box, path)
            history.snapshot("Edited by hand")
            try:
                if again:
                    new = unsettle(was, path, about)
                else:
                    place = int(str(take)) - 1 if str(take).isdigit() else str(take)
                    new = settle(was, path, about, place)
            except SettleError as error:
                raise FamilyError(str(error)) from error
            _put(box, path, was, new, about)
            what = f"{'Opened again' if again else 'Settled'} {about} in {found.title or path}"
            history.snapshot(what, {"command": "settle", "settled": {"path": path, "about": about, "again": again}})
        index.refresh()
    return open_entries(box, index, history)


def _put(box: Box, path: str, was: bytes, new: bytes, about: str) -> None:
    """Write what was settled; "this card" and "file name" settle what becomes of the file itself."""
    from recipebox.merge import asks_of_the_box

    chosen = next(
        (
            wording.text
            for card in read_cards(new, path)
            for entry in card.settled
            if said(entry.about) == said(about)
            for wording in entry.wordings
            if wording.chosen
        ),
        "",
    )
    asked = asks_of_the_box(about, chosen)
    if asked is not None and asked[0] == "remove":
        remove(box, path, was)
        return
    to = asked[1] if asked is not None and asked[1] else path
    if to != path:
        replace(box, to, new, None)
        remove(box, path, was)
    elif new != was:
        replace(box, path, new, was)


def _entry_data(history: "History", one: _Open) -> dict[str, Any]:
    texts = [wording.text for wording in one.entry.wordings]
    return {
        "path": one.path,
        "about": one.entry.about,
        "wordings": [
            {"text": w.text, "chosen": w.chosen, "laptops": who}
            for w, who in zip(one.entry.wordings, writers(history, one.path, one.entry.about, texts), strict=True)
        ],
    }


def _quarrels(box: Box, history: "History") -> list[dict[str, Any]]:
    try:
        sayings = read_sayings(read_file(box, _SAYINGS))
    except (MissingError, NotTextError):
        return []
    return [
        {
            "path": _SAYINGS,
            "about": " | ".join(quarrel.paths),
            "wordings": [
                {"text": words, "chosen": False, "laptops": who}
                for words, who in zip(
                    quarrel.wordings, writers(history, _SAYINGS, "", list(quarrel.wordings)), strict=True
                )
            ],
        }
        for quarrel in quarrels(sayings)
    ]


def _settle_saying(box: Box, history: "History", about: str, take: str | int | None) -> None:
    was = read_file(box, _SAYINGS)
    quarrel = next((one for one in quarrels(read_sayings(was)) if said(" ".join(one.paths)) == said(about)), None)
    if quarrel is None:
        raise FamilyError(f"{about}: dishes.txt has no such quarrel")
    if str(take).isdigit() and 1 <= int(str(take)) <= len(quarrel.wordings):
        words = quarrel.wordings[int(str(take)) - 1]
    elif take in quarrel.wordings:
        words = str(take)
    else:
        raise FamilyError(f"{take}: take a number from 1 to {len(quarrel.wordings)}, or the words as they stand")
    kind, _, rest = words.partition(": ")
    one, _, other = rest.rpartition(" | ")
    history.snapshot("Edited by hand")
    replace(box, _SAYINGS, say(was, kind, one, other), was)
    history.snapshot(f"Settled: {words}", {"command": "settle", "settled": {"path": _SAYINGS, "about": about}})
