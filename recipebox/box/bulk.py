"""Replacing very many files: all are written beside their places, the disk settles once, then all take their places.

Asking the disk to settle each of 10,000 files takes many times as long as writing them.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from itertools import groupby

from recipebox.box.errors import not_written
from recipebox.box.files import changed, drop, reach, remove_empty, take_out, take_place
from recipebox.box.locking import lock
from recipebox.box.paths import names_of
from recipebox.box.place import Box
from recipebox.box.swap import write_beside
from recipebox.box.system import SETTLES_ALL, Folder, settle_all

Changes = Mapping[str, tuple[str | None, str | None]]


def replace_many(box: Box, changes: Changes, read: Callable[[str], bytes]) -> None:
    """Make, replace and remove files: path -> (id of the bytes before, after), None where there is no file.

    `read` gives the bytes of an id. Each file is compared with what it must hold before it is replaced, as in
    `replace`. Raises as `replace` does; then some files may be replaced already and the others are as they were, with
    nothing left beside them: the caller knows both states and takes back what was done.
    """
    made = _by_folder(path for path, (_, after) in changes.items() if after is not None)
    gone = _by_folder(path for path, (_, after) in changes.items() if after is None)
    at = ""
    try:
        with lock(box):
            waiting: dict[str, str] = {}
            try:
                for folder, paths in _opened(box, made, make=True):
                    for at in paths:
                        waiting[at] = _write(folder, at, changes[at], read)
                if made:
                    settle_all(str(box.root))
                for folder, paths in _opened(box, made, make=False):
                    for at in paths:
                        before, after = changes[at]
                        expected = None if before is None else read(before)
                        take_place(folder, waiting[at], _last(at), at, read(after or ""), expected)
                        del waiting[at]
                    _settle(folder)
            except BaseException:
                _clear(box, {path: (beside, read(changes[path][1] or "")) for path, beside in waiting.items()})
                raise
            for folder, paths in _opened(box, gone, make=False):
                for at in paths:
                    take_out(folder, _last(at), at, read(changes[at][0] or ""))
                _settle(folder)
            for folders, _ in reversed(gone):
                remove_empty(box, folders)
            settle_all(str(box.root))
    except (FileExistsError, FileNotFoundError) as error:
        raise changed(at) from error
    except OSError as error:
        raise not_written(error, at) from error


def _by_folder(paths: Iterable[str]) -> list[tuple[list[str], list[str]]]:
    """The names of each folder, and the paths in it, in order."""
    named = sorted((names_of(path), path) for path in paths)
    return [(folders, [path for _, path in group]) for folders, group in groupby(named, key=lambda one: one[0][:-1])]


def _opened(box: Box, groups: Iterable[tuple[list[str], list[str]]], make: bool) -> Iterator[tuple[Folder, list[str]]]:
    for folders, paths in groups:
        with reach(box, paths[0], folders, make=make, settle=not SETTLES_ALL) as folder:
            yield folder, paths


def _write(folder: Folder, path: str, change: tuple[str | None, str | None], read: Callable[[str], bytes]) -> str:
    """Write what a file will hold beside it; the name it lies under until then."""
    before, after = change
    like = None
    if before is not None:
        with suppress(FileNotFoundError):
            like = folder.stat(_last(path))
    return write_beside(folder, read(after or ""), like, settle=not SETTLES_ALL)


def _last(path: str) -> str:
    return path.rpartition("/")[2]


def _settle(folder: Folder) -> None:
    if not SETTLES_ALL:
        folder.sync()


def _clear(box: Box, waiting: Mapping[str, tuple[str, bytes]]) -> None:
    with suppress(OSError):
        for folder, paths in _opened(box, _by_folder(waiting), make=False):
            for path in paths:
                drop(folder, *waiting[path])
