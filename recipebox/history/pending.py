"""Files that were torn or unreadable when something for them came: they wait, and nothing of either side is lost.

For each such file this laptop remembers what was recorded when the disk last held it. Once the file is whole again,
what stands on disk and what was recorded meanwhile are merged against that.
"""

import json
from collections.abc import Iterable, Mapping
from functools import partial

from recipebox.box import Box, keep, kept, remove, replace
from recipebox.history.snapshot import Standing
from recipebox.history.store import Store
from recipebox.history.view import Merge
from recipebox.merge import Blob, Side

_NAME = "pending"
_TORN = "torn"


def pending(box: Box) -> dict[str, str | None]:
    """Path to the blob id that was recorded when the disk last held it; None where nothing was."""
    data = kept(box, _NAME)
    try:
        said = json.loads(data) if data else {}
    except ValueError:
        return {}
    return said if isinstance(said, dict) else {}


def keep_pending(box: Box, waiting: Mapping[str, str | None]) -> None:
    """Remember which files wait."""
    if waiting or kept(box, _NAME) is not None:
        keep(box, _NAME, json.dumps(waiting, sort_keys=True).encode() if waiting else None)


def known_torn(box: Box) -> frozenset[str]:
    """Files that were torn when the box was last recorded."""
    return frozenset((kept(box, _TORN) or b"").decode("utf-8", "replace").splitlines())


def keep_torn(box: Box, paths: Iterable[str]) -> None:
    """Remember which files are torn."""
    lines = frozenset(paths)
    if lines != known_torn(box):
        keep(box, _TORN, "".join(f"{path}\n" for path in sorted(lines)).encode() or None)


def catch_up(box: Box, store: Store, merge: Merge, state: Standing, recorded: Mapping[str, str]) -> dict[str, str]:
    """The files to record: those of `state`, with waiting files that are whole again merged, also on disk.

    `recorded` is what stands recorded now. Raises ChangedUnderneathError if a file is written meanwhile.
    """
    files = dict(state.files)
    waiting = pending(box)
    if not waiting:
        return files
    aside = {entry.path for entry in state.set_aside}
    for path, was in waiting.items():
        if path in aside:
            _put(files, path, recorded.get(path))
            continue
        sides = [_one(store, path, state.on_disk.get(path)), _one(store, path, recorded.get(path))]
        merged = merge(_one(store, path, was), [Side(side, {}) for side in sides]).tree
        for name in {path, *merged}:
            _write(box, store, state, name, merged[name].read() if name in merged else None)
            _put(files, name, state.on_disk.get(name))
    keep_pending(box, {path: was for path, was in waiting.items() if path in aside})
    return files


def _write(box: Box, store: Store, state: Standing, path: str, text: bytes | None) -> None:
    there = state.on_disk.get(path)
    old = None if there is None else store.blob(there)
    if text is None and old is not None:
        remove(box, path, old)
        del state.on_disk[path]
    elif text is not None and text != old:
        replace(box, path, text, old)
        state.on_disk[path] = store.put_blob(text)


def _one(store: Store, path: str, blob_id: str | None) -> dict[str, Blob]:
    return {} if blob_id is None else {path: Blob(blob_id, partial(store.blob, blob_id))}


def _put(files: dict[str, str], path: str, blob_id: str | None) -> None:
    if blob_id is None:
        files.pop(path, None)
    else:
        files[path] = blob_id
