"""Putting a recorded state in place on disk, so that a killed process leaves nothing half done for good.

A note (`applying`) says from which state to which; history has the bytes of both, so the note is all the journal there
need be. While it lies there, `recover` takes back what was done, file by file. A file that is neither what it was nor
what it should become was written by somebody, and is left alone.
"""

import json
from collections.abc import Mapping
from contextlib import suppress

from recipebox.box import (
    Box,
    BoxError,
    ChangedUnderneathError,
    MissingError,
    blob_id,
    interrupted,
    keep,
    kept,
    read_file,
    remove,
    replace,
    replace_many,
)
from recipebox.box import recover as recover_files
from recipebox.history.store import MAIN, Store

_NOTE = "applying"
_MANY = 16  # more files than this settle on the disk together

Changes = Mapping[str, tuple[str | None, str | None]]


def apply(box: Box, store: Store, to: str, on_disk: Mapping[str, str]) -> list[str]:
    """Make the box what commit `to` holds and let it be the head; gives the paths that changed.

    `on_disk` is what a snapshot just found (path: blob id); a file that differs there from the head is set aside and
    stays as it is. Only under the box's lock. Raises ChangedUnderneathError if somebody wrote a file meanwhile, or
    another BoxError if the disk refuses; then all is as before.
    """
    head = store.ref(MAIN)
    changes = _changes(store, head, to)
    todo = {path: change for path, change in changes.items() if on_disk.get(path) == change[0]}
    keep(box, _NOTE, json.dumps({"from": head, "to": to}).encode())
    try:
        _carry_out(box, store, todo)
    except BoxError:
        _take_back(box, store, todo)
        keep(box, _NOTE, None)
        raise
    store.set_ref(MAIN, to)
    keep(box, _NOTE, None, settle=False)  # should it come back, the head tells that all is done
    return sorted(todo)


def recover(box: Box, store: Store) -> bool:
    """Undo, or where only the head was missing finish, what was broken off; True if something was.

    Files edited since stay as they are: an edit made after the kill then stands on what it was made from.
    """
    broken = interrupted(box)  # a command's own change of several files
    if broken:
        recover_files(box)
    note = kept(box, _NOTE)
    if note is None:
        return broken
    head, to = _read(note)
    if to is not None and store.has(to) and store.ref(MAIN) == head:
        _take_back(box, store, _changes(store, head, to))
    keep(box, _NOTE, None)
    return True


def passed_over(store: Store, before: str | None, after: str, on_disk: Mapping[str, str]) -> dict[str, str | None]:
    """Files that `apply` leaves as they are, with what stood recorded for each until then."""
    changes = _changes(store, before, after)
    return {path: was for path, (was, now) in changes.items() if on_disk.get(path) not in (was, now)}


def _changes(store: Store, before: str | None, after: str) -> Changes:
    return store.changes(store.commit(before).tree if before else None, store.commit(after).tree)


def _take_back(box: Box, store: Store, changes: Changes) -> None:
    done = {path: (now, was) for path, (was, now) in changes.items() if _on_disk(box, path) == now}
    if len(done) > _MANY:
        with suppress(ChangedUnderneathError):
            _carry_out(box, store, done)
            return
    for path in done:
        with suppress(ChangedUnderneathError):  # edited within this second: theirs stays
            if _on_disk(box, path) == done[path][0]:
                _carry_out(box, store, {path: done[path]})


def _carry_out(box: Box, store: Store, changes: Changes) -> None:
    gone = {path for path, (_, now) in changes.items() if now is None}
    made = changes.keys() - gone
    # A name that differs in case only, or a folder where a file was (or the reverse), needs the old one gone first.
    folded = {path.casefold() for path in made}
    above = {path.casefold() for path in made for path in _folders(path)}
    first = {
        path for path in gone if path.casefold() in folded | above or folded.intersection(_folders(path.casefold()))
    }

    for paths in (first, made, gone - first):
        if len(paths) > _MANY:
            replace_many(box, {path: changes[path] for path in paths}, store.blob)
        else:
            for path in sorted(paths):
                _write(box, store, path, *changes[path])


def _write(box: Box, store: Store, path: str, was: str | None, now: str | None) -> None:
    old = None if was is None else store.blob(was)
    if now is not None:
        replace(box, path, store.blob(now), old)
    elif old is not None:
        remove(box, path, old)


def _folders(path: str) -> list[str]:
    names = path.split("/")
    return ["/".join(names[:depth]) for depth in range(1, len(names))]


def _on_disk(box: Box, path: str) -> str | None:
    with suppress(MissingError):
        return blob_id(read_file(box, path))
    return None


def _read(note: bytes) -> tuple[str | None, str | None]:
    with suppress(ValueError, AttributeError):
        said = json.loads(note)
        head, to = said.get("from"), said.get("to")
        return (head if isinstance(head, str) else None), (to if isinstance(to, str) else None)
    return None, None
