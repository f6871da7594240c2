"""Keeping the store small: libgit2 leaves a file for each object and a pack for each big bundle, and folds none."""

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from recipebox.history.store import Store

_LOOSE = 5_000
_PACKS = 20


def tidy(store: Store, loose: int = _LOOSE, packs: int = _PACKS) -> bool:
    """Fold all objects into one pack if there are many files; True if that was done. Only under the box's lock.

    The new pack is whole on disk before anything it replaces goes, so a kill at any point loses nothing.
    """
    import pygit2

    objects = store.folder / "objects"
    old = sorted((objects / "pack").glob("*.pack"))
    # Object names are hashes, so one of 256 folders stands for all.
    if sum(1 for _ in objects.glob("17/*")) * 256 < loose and len(old) <= packs:
        return False
    singles = [file for file in objects.glob("[0-9a-f][0-9a-f]/*") if len(file.name) == 38]
    with suppress(pygit2.GitError, OSError):  # a full disk: it stays as it is
        store.repository.pack(n_threads=1)
    new = set((objects / "pack").glob("*.pack")) - set(old)
    if not new:  # all was in one pack already
        return False
    _remove(singles)
    for pack in old:
        _remove([pack.with_suffix(".idx"), pack])
    return True


def _remove(files: Iterable[Path]) -> None:
    for file in files:
        with suppress(OSError):  # held open elsewhere: it goes next time
            file.unlink()
