"""Reading, replacing and removing single files of a box, never through a link and never over somebody's edit."""

import errno
import os
import stat
from contextlib import suppress

from recipebox.box.errors import (
    ChangedUnderneathError,
    MissingError,
    UnreadableError,
    UnsafePathError,
    not_written,
    unreadable,
)
from recipebox.box.locking import lock
from recipebox.box.paths import MAX_FILE, names_of
from recipebox.box.place import Box
from recipebox.box.swap import temporary_name, write_beside
from recipebox.box.system import Folder, is_link

_LATE_SAVES = 9


def read_file(box: Box, path: str, limit: int = MAX_FILE) -> bytes:
    """The bytes of a file, at most `limit`.

    Raises MissingError, UnreadableError (no permission, larger than `limit`, no plain file) or UnsafePathError (the
    path leaves the box or passes a link).
    """
    *folders, name = names_of(path)
    try:
        with reach(box, path, folders, make=False) as folder:
            return read_whole(folder, name, path, limit)[0]
    except FileNotFoundError as error:
        raise MissingError("is not there", path) from error
    except OSError as error:
        if error.errno == errno.ELOOP:
            raise UnsafePathError("is a link", path, "put the file itself there") from error
        raise unreadable(error, path) from error


def replace(box: Box, path: str, new: bytes, expected: bytes | None) -> None:
    """Make `new` the bytes of a file, down to the disk: afterwards it holds the old bytes or the new ones, whole.

    `expected` is what was read before; None: the file must not exist. Folders are made as needed, permissions kept.
    Where system or disk cannot exchange two files, some microseconds lie between the last look and the rename in
    which another program's save would be lost.

    Raises ChangedUnderneathError, UnsafePathError, LockedError, or NotWrittenError (full or read-only disk); then the
    file is as it was and nothing is left lying beside it.
    """
    *folders, name = names_of(path)
    try:
        with lock(box), reach(box, path, folders, make=True) as folder:
            before = check(folder, name, path, expected)
            beside = write_beside(folder, new, before)
            try:
                take_place(folder, beside, name, path, new, expected)
            except BaseException:
                drop(folder, beside, new)
                raise
            folder.sync()
    except (FileExistsError, FileNotFoundError) as error:
        raise changed(path) from error
    except OSError as error:
        raise not_written(error, path) from error


def remove(box: Box, path: str, expected: bytes) -> None:
    """Remove a file that still holds `expected`, and the folders this leaves empty. Raises as `replace` does."""
    *folders, name = names_of(path)
    try:
        with lock(box), reach(box, path, folders, make=False) as folder:
            take_out(folder, name, path, expected)
            folder.sync()
    except FileNotFoundError as error:
        raise changed(path) from error
    except OSError as error:
        raise not_written(error, path) from error
    remove_empty(box, folders)


def take_place(folder: Folder, beside: str, name: str, path: str, new: bytes, expected: bytes | None) -> None:
    """Let a file written beside, which holds `new`, take the place of one that holds `expected`, or of none.

    The old file is looked at once more after it is out of the way: what somebody saved at the last moment goes back.
    Raises ChangedUnderneathError, then the file beside is still there; or OSError.
    """
    if expected is None:
        folder.rename_to_free(beside, name)
        return
    check(folder, name, path, expected)
    if not folder.exchange(beside, name):
        folder.rename_over(beside, name)
        return
    if _holds(folder, beside, expected):
        folder.unlink(beside)
        return
    for _ in range(_LATE_SAVES):  # another save may have come in the meantime: the latest stays
        folder.exchange(beside, name)
        if _holds(folder, beside, new):
            break
    raise changed(path)


def drop(folder: Folder, beside: str, new: bytes) -> None:
    """Remove a file written beside that will not take its place, unless it is by now somebody's save."""
    if _holds(folder, beside, new):
        with suppress(OSError):
            folder.unlink(beside)


def take_out(folder: Folder, name: str, path: str, expected: bytes) -> None:
    """Remove a file that holds `expected`; what somebody saved at the last moment goes back. Raises as `remove`."""
    check(folder, name, path, expected)
    aside = temporary_name()
    folder.rename_over(name, aside)
    if not _holds(folder, aside, expected):
        with suppress(FileExistsError):  # a still later save
            folder.rename_to_free(aside, name)
        raise changed(path)
    folder.unlink(aside)


def _holds(folder: Folder, name: str, expected: bytes) -> bool:
    try:
        found, _, steady = read_whole(folder, name, name, len(expected))
    except (UnreadableError, OSError):
        return False
    return steady and found == expected


def remove_empty(box: Box, folders: list[str]) -> None:
    """Remove a folder, and those it lies in, as far as they are empty."""
    for depth in range(len(folders), 0, -1):
        with suppress(OSError), reach(box, "/".join(folders), folders[: depth - 1], make=False) as above:
            above.rmdir(folders[depth - 1])
            continue
        return


def read_whole(folder: Folder, name: str, path: str, limit: int) -> tuple[bytes, os.stat_result, bool]:
    """A file's bytes, its stamps before the reading, and whether they were the same after it.

    Raises UnreadableError for what is larger than `limit` or no plain file, else OSError.
    """
    file = folder.open(name)
    try:
        before = os.fstat(file)
        if not stat.S_ISREG(before.st_mode):
            raise UnreadableError("is no plain file", path)
        parts = []
        left = limit + 1
        while left > 0 and (part := os.read(file, min(left, max(before.st_size + 1, 65_536)))):
            parts.append(part)
            left -= len(part)
        if left <= 0:
            raise UnreadableError(f"is larger than {limit / 1_000_000:g} MB", path)
        return b"".join(parts), before, stamp(os.fstat(file)) == stamp(before)
    finally:
        os.close(file)


def reach(box: Box, path: str, folders: list[str], make: bool, settle: bool = True) -> Folder:
    """Open the folder that a path lies in, name by name, so that no link is passed. Raises OSError, UnsafePathError."""
    folder = Folder.at(str(box.root))
    for name in folders:
        with folder as outer:
            try:
                folder = outer.enter(name)
            except FileNotFoundError:
                if not make:
                    raise
                with suppress(FileExistsError):
                    outer.make(name)
                    if settle:
                        outer.sync()
                folder = outer.enter(name)
            except OSError as error:
                if is_link(outer.stat(name)):
                    raise UnsafePathError("goes through a link", path, "put the folder itself there") from error
                raise
    return folder


def check(folder: Folder, name: str, path: str, expected: bytes | None) -> os.stat_result | None:
    """The status of a file that holds `expected`; None where nothing is and nothing was expected.

    Raises ChangedUnderneathError, UnsafePathError or OSError.
    """
    try:
        before = folder.stat(name)
    except FileNotFoundError:
        if expected is None:
            return None
        raise changed(path) from None
    if is_link(before):
        raise UnsafePathError("is a link", path, "put the file itself there")
    if expected is None or not stat.S_ISREG(before.st_mode) or before.st_size != len(expected):
        raise changed(path)
    try:
        now, seen, steady = read_whole(folder, name, path, len(expected))
    except UnreadableError:  # it has grown since
        raise changed(path) from None
    if now != expected or not steady:
        raise changed(path)
    return seen


def changed(path: str) -> ChangedUnderneathError:
    """The error for a file that is not what was read before."""
    return ChangedUnderneathError("was changed meanwhile and is left as it is", path, "look at it and try again")


def stamp(status: os.stat_result) -> tuple[int, int, int]:
    """What differs after any save of a file: size, time, number."""
    return status.st_size, status.st_mtime_ns, status.st_ino
