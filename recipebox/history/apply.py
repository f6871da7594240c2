"""Putting a recorded state in place on disk, so that a killed process leaves nothing half done for good.

The box's journal makes the files change as one; a note of our own (`applying`) says which state they lead to, so that
files and head agree again after a kill between the two.
"""

import json
from collections.abc import Mapping
from contextlib import suppress

from recipebox.box import Box, MissingError, Step, blob_id, carry_out, interrupted, keep, kept, read_file
from recipebox.box import recover as recover_files
from recipebox.history.store import MAIN, Store

_NOTE = "applying"


def apply(box: Box, store: Store, to: str, on_disk: Mapping[str, str]) -> list[str]:
    """Make the box what commit `to` holds and let it be the head; gives the paths that changed.

    `on_disk` is what a snapshot just found (path: blob id); a file that differs there from the head is set aside and
    stays as it is. Only under the box's lock. Raises ChangedUnderneathError if somebody wrote a file meanwhile, or
    another BoxError if the disk refuses; then all is as before.
    """
    head = store.ref(MAIN)
    changes = store.changes(store.commit(head).tree if head else None, store.commit(to).tree)
    todo = {path: change for path, change in changes.items() if on_disk.get(path) == change[0]}
    keep(box, _NOTE, json.dumps({"from": head, "to": to}).encode())
    try:
        if todo:
            steps = [Step(path, _bytes(store, was), _bytes(store, now)) for path, (was, now) in todo.items()]
            carry_out(box, "sync", steps)
    except BaseException:
        if not interrupted(box):
            keep(box, _NOTE, None)
        raise
    store.set_ref(MAIN, to)
    keep(box, _NOTE, None)
    return sorted(todo)


def recover(box: Box, store: Store) -> bool:
    """Undo or finish what was broken off; True if something was. Files edited since stay as they are.

    Half-changed files go back to the state before: an edit made since the kill then stands on what it was made from.
    """
    broken = interrupted(box)
    note = kept(box, _NOTE)
    if broken:
        recover_files(box, finish=note is None)
    if note is None:
        return broken
    head, to = _read(note)
    if to is not None and store.has(to) and store.ref(MAIN) == head and _all_done(box, store, head, to):
        store.set_ref(MAIN, to)
    keep(box, _NOTE, None)
    return True


def passed_over(store: Store, before: str | None, after: str, on_disk: Mapping[str, str]) -> dict[str, str | None]:
    """Files that `apply` leaves as they are, with what stood recorded for each until then."""
    changes = store.changes(store.commit(before).tree if before else None, store.commit(after).tree)
    return {path: was for path, (was, now) in changes.items() if on_disk.get(path) not in (was, now)}


def _all_done(box: Box, store: Store, head: str | None, to: str) -> bool:
    """Whether the files had all been changed. The journal is gone, so one that was is proof for the rest."""
    changes = store.changes(store.commit(head).tree if head else None, store.commit(to).tree)
    return not changes or any(_on_disk(box, path) == now for path, (was, now) in changes.items())


def _bytes(store: Store, recorded: str | None) -> bytes | None:
    return None if recorded is None else store.blob(recorded)


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
