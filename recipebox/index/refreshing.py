"""Bringing the index up to what lies on the disk, in one transaction."""

import sqlite3
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

from recipebox.box import Box, BoxError, BoxTrouble, Scan, read_file, scan, sweep
from recipebox.index.database import changing, made_by
from recipebox.index.rows import CARD, SAYINGS
from recipebox.index.storing import Storage, Touched

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Event:
    """One card file that is not as it was: added, changed, moved or gone. `was` is the path before a move."""

    what: str
    path: str
    was: str | None = None


@dataclass(frozen=True, slots=True)
class Refreshed:
    """`cards` is how many cards there are; `events` what happened to card files since the last time."""

    cards: int
    events: tuple[Event, ...] = ()

    @property
    def changed(self) -> int:
        """How many card files are not as they were."""
        return len(self.events)

    def paths(self, what: str) -> tuple[str, ...]:
        """The card files of one kind of event."""
        return tuple(event.path for event in self.events if event.what == what)


def refresh(
    box: Box,
    connection: sqlite3.Connection,
    progress: Progress | None = None,
    *,
    again: bool = False,
    leave: Collection[str] = (),
    found: Scan | None = None,
) -> tuple[Refreshed, tuple[BoxTrouble, ...]]:
    """Look at the box and take in what changed; also gives the trouble the look met.

    `again` reads every card anew. Files in `leave` stay as they are known, for a later time. `found` is a look at the
    box that was just made; what was saved since is taken in at the next one. Raises BoxError and
    sqlite3.DatabaseError; the index is then as before.
    """
    found = scan(box) if found is None else found
    if found.leftovers:
        with suppress(BoxError):
            sweep(box, found.leftovers)
    kept = Storage(connection)
    if not again and not leave and kept.state() == (found.state, made_by()):
        return Refreshed(kept.count()), tuple(found.trouble)
    # What reads and groups cards is imported only when there is something to read: a search must start at once.
    from recipebox.index.grouping import regroup

    with changing(connection):
        state, made = kept.state()
        anew = again or made not in ("", made_by())
        few = None if anew or leave else found.changed_since(state)
        before = kept.files(few)
        old = {} if anew else before
        if anew:
            kept.clear()
        changes = _compare(old, found, leave, few)
        touched = kept.take_out((*changes.gone, *(path for path in changes.new if path in old)))
        taken = _take_in_all(box, found, kept, touched, changes.new, progress)
        regroup(kept, touched, _sayings(box, found, kept))
        whole = not leave and all(name for name, _ in taken.values())
        kept.set_state(found.state if whole else "", made_by())
        events = tuple(_events(before, _compare(before, found, leave) if anew else changes, taken))
        return Refreshed(kept.count(), events), tuple(found.trouble)


@dataclass(frozen=True, slots=True)
class _Changes:
    new: tuple[str, ...]  # added or changed
    gone: tuple[str, ...]


def _compare(
    old: Mapping[str, tuple[str, str]], found: Scan, leave: Collection[str], few: Collection[str] | None = None
) -> _Changes:
    """What differs; `few` are the only paths that may, if that is known, and `old` then need not have others."""
    files = found.files if few is None else {path: found.files[path] for path in few if path in found.files}
    new = [path for path, file in files.items() if path not in old or old[path][0] != file.blob_id]
    gone = [path for path in old.keys() - found.files.keys() if not found.unknown(path)]
    return _Changes(
        tuple(sorted(path for path in new if path not in leave)),
        tuple(sorted(path for path in gone if path not in leave)),
    )


def _take_in_all(
    box: Box, found: Scan, kept: Storage, touched: Touched, new: Sequence[str], progress: Progress | None
) -> dict[str, tuple[str, str]]:
    """Put in what is new; gives each path with the id of the bytes that were taken in, and what they are."""
    from recipebox.index.workers import take_in_all

    taken: dict[str, tuple[str, str]] = {}
    for several in take_in_all(box, [(path, found.files[path].blob_id) for path in new]):
        kept.put_in(several, touched)
        taken.update((path, (name, now.what)) for path, name, now in several)
        if progress:
            progress(len(taken), len(new))
    return taken


def _sayings(box: Box, found: Scan, kept: Storage) -> bytes:
    if found.unknown(SAYINGS):
        return kept.sayings()
    if SAYINGS not in found.files:
        return b""
    try:
        return read_file(box, SAYINGS)
    except BoxError:
        return kept.sayings()


def _events(
    before: Mapping[str, tuple[str, str]], changes: _Changes, taken: Mapping[str, tuple[str, str]]
) -> Iterable[Event]:
    """What happened to card files. One gone and one new with the same bytes, first with first by path, is a move."""
    was_card = {path for path, (_, what) in before.items() if what == CARD}
    lost: dict[str, list[str]] = {}
    for path in changes.gone:
        if path in was_card:
            lost.setdefault(before[path][0], []).append(path)
    events = []
    for path in changes.new:
        name, what = taken[path]
        if what != CARD:
            if path in was_card:
                events.append(Event("gone", path))
        elif path in was_card:
            events.append(Event("changed", path))
        elif lost.get(name):
            events.append(Event("moved", path, lost[name].pop(0)))
        else:
            events.append(Event("added", path))
    events += [Event("gone", path) for paths in lost.values() for path in paths]
    return sorted(events, key=lambda event: event.path)
