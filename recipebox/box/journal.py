"""Replacing several files as one: a note of what is meant lies on the disk until all is done.

The note has each file's bytes before and after. If a process is killed at any point, `recover` brings every file to
its state after (or, asked to, before); a file that is neither was written by somebody since and is left alone.
"""

import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from recipebox.box.errors import (
    BoxError,
    ChangedUnderneathError,
    MissingError,
    UnsafePathError,
    not_written,
    unreadable,
)
from recipebox.box.files import read_file, remove, replace
from recipebox.box.locking import lock
from recipebox.box.paths import names_of
from recipebox.box.place import Box
from recipebox.box.swap import LEFTOVER, keep_in
from recipebox.cards.blobs import blob_id

_FOLDER = "journal"
_NOTE = "intent.json"


@dataclass(frozen=True, slots=True)
class Step:
    """One file: its bytes before and after; None where there is no file."""

    path: str
    before: bytes | None
    after: bytes | None


@dataclass(frozen=True, slots=True)
class Recovered:
    """What an interrupted `carry_out` was, with the data it was given.

    `finished`: paths brought to the state asked for. `edited`: paths that somebody wrote since, left as they are.
    """

    what: str
    data: Mapping[str, Any]
    finished: tuple[str, ...]
    edited: tuple[str, ...]


def carry_out(box: Box, what: str, steps: Iterable[Step], data: Mapping[str, Any] | None = None) -> None:
    """Replace, make and remove files as one, under the box's lock. `data` is JSON that `recover` hands back.

    Raises ChangedUnderneathError, with all files as before, if any of them is not in its state before; NotWrittenError
    (full disk) likewise; LockedError. If the files could not be brought back either, the note stays for `recover`.
    """
    steps = sorted(steps, key=lambda step: step.path)
    with lock(box):
        if (box.hidden / _FOLDER / _NOTE).exists():
            raise BoxError("an interrupted change waits to be finished", str(box.root), "type: recipebox")
        for step in steps:
            if _state(box, step.path) != step.before:
                raise ChangedUnderneathError("was changed meanwhile and is left as it is", step.path, "try again")
        _write_note(box, what, steps, data or {})
        done: list[Step] = []
        try:
            for step in steps:
                _take(box, step.path, step.before, step.after)
                done.append(step)
        except BoxError:
            for step in reversed(done):
                with suppress(ChangedUnderneathError, MissingError):  # edited within this second: theirs stays
                    _take(box, step.path, step.after, step.before)
            _clear(box)
            raise
        _clear(box)


def recover(box: Box, *, finish: bool = True) -> Recovered | None:
    """Finish, or with `finish` False undo, what was interrupted; None if nothing was. May be interrupted itself.

    Temporary files beside the named files are swept. Raises BoxError where a file cannot be read or written.
    """
    with lock(box):
        note = _read_note(box)
        if note is None:
            _clear(box)
            return None
        what, data, steps = note
        finished: list[str] = []
        edited: list[str] = []
        for step in steps:
            goal, other = (step.after, step.before) if finish else (step.before, step.after)
            _sweep(box, step.path)
            try:
                now = _state(box, step.path)
            except UnsafePathError:  # a link was put there since
                edited.append(step.path)
                continue
            if now != goal and now == other:
                with suppress(ChangedUnderneathError):
                    _take(box, step.path, other, goal)
                    now = goal
            (finished if now == goal else edited).append(step.path)
        _clear(box)
        return Recovered(what, data, tuple(finished), tuple(edited))


def interrupted(box: Box) -> bool:
    """Whether a change lies half done, so that the box must not be recorded before `recover`."""
    return (box.hidden / _FOLDER / _NOTE).exists()


def sweep(box: Box, leftovers: Iterable[str]) -> None:
    """Remove temporary files that a killed recipebox left in the box, as a scan found them."""
    with lock(box):
        for path in leftovers:
            if path.rpartition("/")[2].startswith(LEFTOVER):
                with suppress(OSError):
                    (box.root / path).unlink()


def _take(box: Box, path: str, before: bytes | None, after: bytes | None) -> None:
    if after is not None:
        replace(box, path, after, before)
    elif before is not None:
        remove(box, path, before)


def _state(box: Box, path: str) -> bytes | None:
    try:
        return read_file(box, path)
    except MissingError:
        return None


def _write_note(box: Box, what: str, steps: list[Step], data: Mapping[str, Any]) -> None:
    folder = box.hidden / _FOLDER
    ids = []
    try:
        folder.mkdir(exist_ok=True)
        for step in steps:
            names_of(step.path)
            pair = [None if side is None else blob_id(side) for side in (step.before, step.after)]
            for name, side in zip(pair, (step.before, step.after), strict=True):
                if name is not None and side is not None and not (folder / name).exists():
                    keep_in(folder, name, side)
            ids.append([step.path, *pair])
        note = {"what": what, "data": data, "steps": ids}
        keep_in(folder, _NOTE, json.dumps(note).encode())
    except OSError as error:
        raise not_written(error, str(folder)) from error
    except BoxError:
        _clear(box)
        raise


def _read_note(box: Box) -> tuple[str, Mapping[str, Any], list[Step]] | None:
    folder = box.hidden / _FOLDER
    try:
        note = json.loads((folder / _NOTE).read_bytes())
        steps = [Step(path, _side(folder, before), _side(folder, after)) for path, before, after in note["steps"]]
        return note["what"], note["data"], steps
    except FileNotFoundError:
        if (folder / _NOTE).exists():
            raise BoxError("is damaged", str(folder), "look at the files it names, then remove it") from None
        return None
    except OSError as error:
        raise unreadable(error, str(folder)) from error
    except (ValueError, KeyError, TypeError) as error:
        raise BoxError("is damaged", str(folder), "look at the files it names, then remove it") from error


def _side(folder: Path, name: str | None) -> bytes | None:
    if name is None:
        return None
    side = (folder / name).read_bytes()
    if blob_id(side) != name:
        raise ValueError("damaged")
    return side


def _clear(box: Box) -> None:
    folder = box.hidden / _FOLDER
    if not folder.is_dir():
        return
    keep_in(folder, _NOTE, None)  # first, and down to the disk: without it the rest means nothing
    for file in folder.iterdir():
        with suppress(OSError):
            file.unlink()
    with suppress(OSError):
        folder.rmdir()


def _sweep(box: Box, path: str) -> None:
    *folders, _ = names_of(path)
    with suppress(OSError):
        for file in box.root.joinpath(*folders).glob(f"{LEFTOVER}*.tmp"):
            file.unlink()
