"""Put what was sent into the box: a card each under `cards/`, the original under `as-sent/`."""

import hashlib
import re
import unicodedata
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path, PurePath
from typing import Any

from recipebox.box import Box, blob_id, lock, read_file, replace, scan
from recipebox.cards.model import Card, Role
from recipebox.cards.reader import read_cards
from recipebox.cards.text import Line, Text, encode
from recipebox.cards.writer import Insert, apply_changes
from recipebox.gather.sent import LARGEST, GatherError, Sent, read_sent
from recipebox.history import open_history

Added = dict[str, Any]


def add_files(
    box: Box, files: Sequence[tuple[str, bytes]], *, sender: str | None, today: date, write: bool = True
) -> dict[str, Any]:
    """Bring files in, all or none of each; give back the shape of `add --json`.

    `files` are (name as typed, bytes); the name "-" is for what was pasted. With `write` False nothing is written.
    Files that cannot be read are named under "trouble". What is in the box already is not brought in twice: a card
    counts as already there when the file as sent, or the card that would be made of it, has the bytes of one in it.

    Raises BoxError when the box cannot be written.
    """
    added: list[Added] = []
    trouble: list[dict[str, Any]] = []
    with lock(box):
        here = _What(box)
        if write:
            open_history(box).snapshot("as it was before something was added")
        for name, data in files:
            try:
                sent = read_sent(data, name)
            except GatherError as error:
                trouble.append({"path": name, "line": 0, "what": str(error).removeprefix(f"{name}: ")})
                continue
            added += _bring(box, here, sent, sender, today, write)
        new = [one for one in added if not one["already"]]
        if write and new:
            titles = ", ".join(one["title"] for one in new)
            open_history(box).snapshot(f"added {titles}", {"command": "add", "added": [one["path"] for one in new]})
    return {"added": added, "trouble": trouble}


class _What:
    """What is in the box while files are added: names taken, and where each text stands."""

    def __init__(self, box: Box) -> None:
        found = scan(box).files
        self.taken = {path.lower() for path in found}
        self.where = {one.blob_id: path for path, one in sorted(found.items(), reverse=True)}
        self.box = box

    def path_of(self, data: bytes) -> str | None:
        return self.where.get(blob_id(data))

    def put(self, path: str, data: bytes) -> None:
        self.taken.add(path.lower())
        self.where[blob_id(data)] = path

    def free(self, folder: str, stem: str, ending: str) -> str:
        path, number = f"{folder}/{stem}{ending}", 1
        while path.lower() in self.taken or (self.box.root / path).exists():
            number += 1
            path = f"{folder}/{stem}-{number}{ending}"
        return path


def _bring(box: Box, here: _What, sent: Sent, sender: str | None, today: date, write: bool) -> list[Added]:
    whole = here.path_of(sent.data)
    if whole is not None:
        cards = read_cards(sent.data, whole)
        return [_added(card.called, card, card.sender, None, already=True) for card in cards]
    as_sent = None
    kept = _as_sent_name(sent)
    before = _kept_before(box, kept, sent.data)
    result = []
    for card in sent.cards:
        came = sender or card.sender
        data = _card_bytes(sent, card, sender, today)
        existing = here.path_of(data) or (_same_card(box, here, card, before) if before else None)
        if existing is not None:
            result.append(_added(existing, card, came, None, already=True))
            continue
        ending = ".md" if sent.name.lower().endswith(".md") else ".txt"
        path = here.free("cards", file_stem(card.title), ending)
        if as_sent is None:
            as_sent = kept if before else here.free("as-sent", *_split_name(kept))
            if write and not before:
                replace(box, as_sent, sent.data, None)
        if write:
            replace(box, path, data, None)
        here.put(path, data)
        result.append(_added(path, card, came, as_sent, already=False))
    return result


def _added(path: str, card: Card, sender: str | None, as_sent: str | None, *, already: bool) -> Added:
    return {"path": path, "title": card.title, "from": sender, "as_sent": as_sent, "already": already}


def file_stem(title: str) -> str:
    """A file name every system can hold, made of a title: "Aunt Élise's Pie" -> "aunt-elises-pie"."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower().replace("'", "")
    words = re.findall(r"[a-z0-9]+", plain)
    return "-".join(words)[:60].strip("-") or "card"


def _card_bytes(sent: Sent, card: Card, sender: str | None, today: date) -> bytes:
    """The card's own lines with `from:` and `came:` under the title, where the card does not say so itself."""
    said = {header.name for header in card.headers}
    lines = []
    if sender and "from" not in said:
        lines.append(f"from: {sender}")
    if "came" not in said:
        origin = "pasted" if sent.name == "-" else PurePath(sent.name).name
        lines.append(f"came: {today.isoformat()}, {origin} ({sent.form})")
    part = _part_of(sent, card)
    title = next((line.number for line in card.lines if line.role is Role.TITLE), card.lines[0].number)
    first = card.lines[0].number
    after = title - first + 1
    below = part.lines[after].words.strip() if after < len(part.lines) else ""
    if re.fullmatch(r"=+|-+", below):
        after += 1  # a title underlined in Markdown's second manner
    if not part.lines[after - 1].end:
        lines = ["", *lines]
    elif sent.name.lower().endswith(".md"):
        # A blank line keeps the header lines out of the title's paragraph.
        lines = ["", *lines]
    return encode(apply_changes(part, [Insert(after, tuple(lines))])) if lines else encode(part)


def _part_of(sent: Sent, card: Card) -> Text:
    if len(sent.cards) == 1:
        return sent.text
    numbers = [line.number for line in card.lines]
    lines = sent.text.lines[min(numbers) - 1 : max(numbers)]
    while lines and not lines[-1].words.strip():
        lines = lines[:-1]
    ended = (*lines[:-1], Line(lines[-1].words, lines[-1].end or "\n"))
    return Text(ended, sent.text.encoding, sent.text.mark, sent.text.unsure)


def _as_sent_name(sent: Sent) -> str:
    name = "pasted.txt" if sent.name == "-" else PurePath(sent.name).name
    stem = PurePath(name)
    return f"as-sent/{file_stem(stem.stem)}-{hashlib.sha256(sent.data).hexdigest()[:8]}{stem.suffix.lower()}"


def _split_name(path: str) -> tuple[str, str]:
    pure = PurePath(path)
    return pure.stem, pure.suffix


def _kept_before(box: Box, path: str, data: bytes) -> bool:
    place: Path = box.root / path
    return (
        place.is_file() and not place.is_symlink() and place.stat().st_size <= LARGEST and read_file(box, path) == data
    )


def _same_card(box: Box, here: _What, card: Card, before: bool) -> str | None:
    """The card made of this one when the same file was added before, whatever was written into it since."""
    stem = file_stem(card.title)
    names: Iterable[str] = sorted(path for path in here.taken if re.fullmatch(rf"cards/{stem}(-\d+)?\.(txt|md)", path))
    for path in names:
        place = next((p for p in here.where.values() if p.lower() == path), None)
        if place is None:
            continue
        for other in read_cards(read_file(box, place), place):
            if other.title == card.title and [i.text for i in other.ingredients] == [i.text for i in card.ingredients]:
                return other.called
    return None
