"""Recording what stands in the box: which files changed, which moved, which are torn and stay as they were."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from recipebox.box import MAX_CARD, Box, BoxError, ChangedUnderneathError, Scan, blob_id, read_file
from recipebox.cards.kinds import could_be_card
from recipebox.history.objects import BLOB
from recipebox.history.store import Store
from recipebox.merge import carried, moves, torn


class SetAside(NamedTuple):
    """A file that is not recorded as it stands on disk, and why."""

    path: str
    why: str


@dataclass(frozen=True, slots=True)
class Standing:
    """What the box would be recorded as. `on_disk` is what was really read, torn files included (path: blob id).

    `new` has the bytes of new and changed cards, `others` the paths of other new and changed files, which may be large
    and many. `leftovers` are temporary files of a recipebox that was killed. `quiet`: all could be read, none is torn.
    """

    files: dict[str, str]
    moves: dict[str, str]
    set_aside: tuple[SetAside, ...]
    on_disk: dict[str, str]
    new: dict[str, bytes] = field(repr=False, default_factory=dict)
    others: tuple[str, ...] = ()
    leftovers: tuple[str, ...] = ()
    quiet: bool = False


def _never(path: str) -> bool:
    return False


def standing(
    box: Box, store: Store, found: Scan, before: Mapping[str, str], as_is: Callable[[str], bool] = _never
) -> Standing:
    """Compare the box, as a scan found it, with the files last recorded, `before`.

    A file or folder that could not be read counts as unchanged. `as_is` tells which files are recorded though they
    look torn. Raises BoxError where the box itself cannot be read.
    """
    on_disk = {path: file.blob_id for path, file in found.files.items() if carried(path)}
    kept = {path: recorded for path, recorded in before.items() if path not in on_disk and found.unknown(path)}
    set_aside = []
    new: dict[str, bytes] = {}
    others = []
    for path in sorted(path for path, seen in on_disk.items() if before.get(path) != seen):
        if not could_be_card(path):
            others.append(path)
            continue
        try:
            new[path] = read_file(box, path, MAX_CARD)
        except BoxError as error:
            set_aside.append(SetAside(path, error.what))
            del on_disk[path]
            if path in before:
                kept[path] = before[path]
            continue
        on_disk[path] = blob_id(new[path])
    files = {**on_disk, **kept}
    moved = _moves(store, before, files, new)
    for path in sorted(new):
        was = _came_from(path, moved, before)
        why = None if was is None or as_is(path) else torn(store.blob(before[was]), new[path], path)
        if was is not None and why:
            set_aside.append(SetAside(path, why))
            moved.pop(was, None)
            del files[path]
            files[was] = before[was]
    quiet = not (set_aside or found.unreadable or found.leftovers)
    return Standing(files, moved, tuple(set_aside), on_disk, new, tuple(others), found.leftovers, quiet)


def keep_new(box: Box, store: Store, state: Standing) -> None:
    """Store the bytes of what is new. Raises ChangedUnderneathError where a file was written since it was looked at."""

    def found() -> Iterator[tuple[int, bytes]]:
        for data in state.new.values():
            yield BLOB, data
        for path in state.others:
            try:
                data = read_file(box, path)
            except BoxError as error:
                raise ChangedUnderneathError(error.what, path, "try again") from error
            if blob_id(data) != state.on_disk[path]:
                raise ChangedUnderneathError("was changed meanwhile", path, "try again")
            yield BLOB, data

    store.put_many(found(), len(state.new) + len(state.others))


def _moves(
    store: Store, before: Mapping[str, str], files: Mapping[str, str], new: Mapping[str, bytes]
) -> dict[str, str]:
    gone = before.keys() - files.keys()
    if not gone or not files.keys() - before.keys():
        return {}
    unrecorded = {files[path]: text for path, text in new.items()}

    def read(recorded: str) -> bytes:  # asked for cards only: pictures move by their bytes
        return unrecorded[recorded] if recorded in unrecorded else store.blob(recorded)

    return dict(moves(before, files, read))


def _came_from(path: str, moved: Mapping[str, str], before: Mapping[str, str]) -> str | None:
    return next((old for old, new in moved.items() if new == path), path if path in before else None)
