"""Put what was sent into the box: a card each under `cards/`, the original under `as-sent/`.

An original that is to be shared lies in `cards/as-sent/` instead, which travels like any file; a plain text there ends
in .text or .markdown, so that it is not taken for a card beside its own.
"""

from collections.abc import Sequence
from datetime import date
from pathlib import PurePath
from typing import Any

from recipebox.box import Box, lock, replace
from recipebox.cards.text import encode
from recipebox.gather.forms import PASTED
from recipebox.gather.headed import with_headers
from recipebox.gather.here import Here
from recipebox.gather.here import file_stem as file_stem  # family names its recipes by it, too
from recipebox.gather.sent import Found, Sent
from recipebox.history import open_history

Added = dict[str, Any]


def add_sent(
    box: Box, files: Sequence[Sent], *, sender: str | None, today: date, share: bool = False, write: bool = True
) -> list[Added]:
    """Bring files in, each card in a file of its own; give back the entries of `add --json`.

    `sender` stands for whoever the files name; with `share` the originals are kept where they travel. With `write`
    False nothing is written. What is in the box already is not brought in twice: a text that lies there as it was
    sent, a card that says it was made from the same original, or a card that says the same.

    Raises BoxError when the box cannot be written.
    """
    with lock(box):
        if write:
            open_history(box).snapshot("as it was before something was added")
        here = Here(box)
        added = [one for sent in files for one in _bring(here, sent, sender, today, share, write)]
        new = [one for one in added if not one["already"]]
        if write and new:
            titles = ", ".join(one["title"] for one in new)
            open_history(box).snapshot(f"added {titles}", {"command": "add", "added": [one["path"] for one in new]})
    return added


def _bring(here: Here, sent: Sent, sender: str | None, today: date, share: bool, write: bool) -> list[Added]:
    whole = here.cards_of(sent.data)
    if whole:
        return [_added(card.called, card.title, card.sender, None, already=True) for card in whole]
    original = here.original(sent.name, sent.data, share)
    result = []
    kept = False
    for found in sent.found:
        who = (found.card.sender if found.card else None) or sender or found.sender
        existing = here.same_card(found, original.mark, who)
        if existing is not None:
            result.append(_added(existing, found.title, who, None, already=True))
            continue
        alone = [one.data for one in found.pictures] == [sent.data]  # a picture is its own original
        if write and not kept and not original.there and not alone:
            replace(here.box, original.path, sent.data, None)
        kept = True
        path = here.free("cards", file_stem(found.title), ".md" if found.markdown else ".txt")
        pictures = [here.free("cards", PurePath(path).stem, _ending(one.name)) for one in found.pictures]
        place = pictures[0] if alone else original.path
        headers = _headers(found, sent.name, place, sender, today, pictures)
        data = encode(with_headers(found.text, found.markdown, headers))
        if write:
            for beside, picture in zip(pictures, found.pictures, strict=True):
                replace(here.box, beside, picture.data, None)
            replace(here.box, path, data, None)
        here.put(path, data, dict(zip(pictures, (one.data for one in found.pictures), strict=True)))
        result.append(_added(path, found.title, who, place, already=False))
    return result


def _added(path: str, title: str, sender: str | None, as_sent: str | None, *, already: bool) -> Added:
    return {"path": path, "title": title, "from": sender, "as_sent": as_sent, "already": already}


def _headers(
    found: Found, name: str, original: str, sender: str | None, today: date, pictures: Sequence[str]
) -> list[tuple[str, str]]:
    """`from:`, `came:` and `picture:` lines, each unless the card has one of its own."""
    said = {header.name for header in found.card.headers} if found.card else set()
    who = sender or found.sender
    form = "" if name == PASTED else f"{_one_line(PurePath(name).name)} ({found.form}), "
    came = f"{today.isoformat()}, {form or 'pasted, '}kept as {original}"
    lines = [("from", _one_line(who))] if who and "from" not in said else []
    lines += [("came", came)] if "came" not in said else []
    return lines + [("picture", ", ".join(PurePath(place).name for place in pictures))] * bool(pictures)


def _one_line(words: str) -> str:
    return " ".join("".join(c if c.isprintable() else " " for c in words).split())


def _ending(name: str) -> str:
    ending = PurePath(name).suffix.lower()
    return ending if ending[1:].isalnum() and len(ending) <= 5 else ".jpg"
