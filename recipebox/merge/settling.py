"""A person's choice between wordings, written into the card, and taken back."""

from collections.abc import Callable
from fractions import Fraction

from recipebox.cards.model import Entry, Role, Wording
from recipebox.cards.shape import entry_lines
from recipebox.cards.text import Text, decode, encode
from recipebox.cards.writer import Change, Insert, Remove, Replace, apply_changes, put_section
from recipebox.merge.algebra import LEAVE_OUT, in_byte_order
from recipebox.merge.batch import rescaled
from recipebox.merge.entries import (
    BATCH,
    FILE_NAME,
    THIS_CARD,
    WITHOUT_BODY,
    as_element,
    body_of,
    in_order,
    is_settled,
    role_of,
)
from recipebox.merge.errors import SettleError
from recipebox.merge.layout import in_line
from recipebox.merge.sheet import Element, Sheet, meaning, plain, read_sheets


def settle(data: bytes, path: str, about: str, take: int | str) -> bytes:
    """The card with a wording chosen: marked, its entry moved to Settled, the body standing on it.

    `take` is the wording's place in the entry from 0, or its words (as they mean, not as they are typed). For
    `this card` and `file name` only the mark is set: what becomes of the file then is for `asks_of_the_box`.
    Raises SettleError where there is no such entry or wording.
    """
    return _changed(data, path, about, lambda entry: _chosen(entry, take))


def unsettle(data: bytes, path: str, about: str) -> bytes:
    """The card with a choice taken back: no wording is chosen, the body stands on the first. Raises SettleError."""
    return _changed(data, path, about, lambda _: None)


def asks_of_the_box(about: str, wording: str) -> tuple[str, str | None] | None:
    """What a settled wording asks of the file itself: ("remove", None), ("rename", new path), or None for nothing."""
    if about == THIS_CARD and wording == LEAVE_OUT:
        return "remove", None
    if about == FILE_NAME:
        return "rename", wording
    return None


def with_entry(data: bytes, path: str, entry: Entry) -> bytes:
    """The card with one more entry, in its section and order. Raises NotACardError or NotTextError."""
    sheet = read_sheets(data, path)[0]
    return encode(_put(decode(data), sheet, path, [*(e for e, _ in sheet.entries if e.about != entry.about), entry]))


def _changed(data: bytes, path: str, about: str, choose: Callable[[Entry], int | None]) -> bytes:
    path, _, part = path.partition("#")
    sheets = read_sheets(data, path)
    named = plain(about).casefold()
    wanted = int(part) - 1 if part.isdigit() else None
    for at, sheet in enumerate(sheets):
        for entry, _ in sheet.entries:
            if plain(entry.about).casefold() == named and wanted in (None, at):
                return _written(data, path, at, entry, choose(entry))
    open_ones = sorted({entry.about for sheet in sheets for entry, _ in sheet.entries})
    known = f"; there is: {', '.join(open_ones)}" if open_ones else "; nothing is undecided there"
    raise SettleError(f"{path}: nothing is undecided about {about}{known}")


def _chosen(entry: Entry, take: int | str) -> int:
    if isinstance(take, int):
        if not 0 <= take < len(entry.wordings):
            raise SettleError(f"{entry.about}: there are {len(entry.wordings)} wordings")
        return take
    role = role_of(entry)
    said = [plain(wording.text) for wording in entry.wordings]
    if plain(take) in said:
        return said.index(plain(take))
    meant = [_meant(role, wording.text) for wording in entry.wordings]
    if _meant(role, take) in meant:
        return meant.index(_meant(role, take))
    raise SettleError(f"{entry.about}: no wording is {take!r}")


def _meant(role: Role, text: str) -> object:
    return meaning(as_element(role, text)) if text != LEAVE_OUT else LEAVE_OUT


def _written(data: bytes, path: str, at: int, entry: Entry, chosen: int | None) -> bytes:
    wordings = tuple(Wording(w.text, n == chosen) for n, w in enumerate(entry.wordings))
    sheet = read_sheets(data, path)[at]
    words = wordings[chosen].text if chosen is not None else min((w.text for w in wordings), key=in_byte_order)
    if entry.about == BATCH:
        data = rescaled(data, _factor(sheet, entry, words), path)
    elif entry.about not in WITHOUT_BODY:
        data = encode(apply_changes(decode(data), _body_changes(sheet, entry, words)))
    sheet = read_sheets(data, path)[at]
    named = plain(entry.about).casefold()
    others = [e for e, _ in sheet.entries if plain(e.about).casefold() != named]
    return encode(_put(decode(data), sheet, path, [*others, Entry(entry.about, wordings)], at))


def _put(text: Text, sheet: Sheet, path: str, entries: list[Entry], at: int = 0) -> Text:
    card = sheet.card
    for section, settled in (("undecided", False), ("settled", True)):
        here = in_order([entry for entry in entries if is_settled(entry) is settled])
        text = put_section(text, card, section, [line for entry in here for line in entry_lines(entry)])
        card = read_sheets(encode(text), path)[at].card
    return text


def _body_changes(sheet: Sheet, entry: Entry, words: str) -> list[Change]:
    body = body_of(sheet, entry)
    if body is None:
        return [] if words == LEAVE_OUT else [_restored(sheet, entry, words)]
    if words == LEAVE_OUT:
        return [Remove(body.first, body.last)]
    if words == body.text:
        return []
    if body.first == body.last:
        return [Replace(body.first, body.first, (in_line(sheet.source(body)[0], body, words),))]
    return [Replace(body.first, body.last, (body.prefix + words,))]


def _restored(sheet: Sheet, entry: Entry, words: str) -> Change:
    """A line that had been left out stands again after the last of its kind."""
    role = role_of(entry, sheet)
    group = entry.about.rpartition("(")[2].rstrip(")") if entry.about.endswith(")") else None
    alike = [e for e in sheet.elements if e.role is role]
    here = [e for e in alike if plain(e.group or "") == plain(group or "")] or alike
    if here:
        last: Element = here[-1]
        return Insert(last.last, (last.prefix + words,))
    above = [e for e in sheet.elements if e.role in (Role.TITLE, Role.HEADER)]
    name = f"{entry.about}: " if role is Role.HEADER else ""
    return Insert(above[-1].last if above else 0, (name + words,))


def _factor(sheet: Sheet, entry: Entry, words: str) -> Fraction:
    """How many times the body, as it stands, the chosen batch is: by its serves, else by the times said."""
    current = next((w.text for w in entry.wordings if w.chosen), None)
    if current is None or sum(w.chosen for w in entry.wordings) != 1:
        current = min((w.text for w in entry.wordings), key=in_byte_order)
    before, after = (_number(text) for text in (current, words))
    if before is None or after is None or not before:
        raise SettleError(f"batch: {words!r} says no number to go by")
    serves = sheet.card.serves
    if words.startswith("serves") and serves is not None and serves.low == serves.high and serves.low:
        before = serves.low
    return after / before


def _number(words: str) -> Fraction | None:
    from recipebox.cards.amounts import read_amount

    found = read_amount(words.partition(" ")[2])
    return found[0].low if found else None
