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
from recipebox.box.swap import write_beside
from recipebox.box.system import Folder, is_link


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
    Between the last look and the rename lie some microseconds in which another program's save would be lost; no
    system offers less.

    Raises ChangedUnderneathError, UnsafePathError, LockedError, or NotWrittenError (full or read-only disk); then the
    file is as it was and nothing is left lying beside it.
    """
    *folders, name = names_of(path)
    try:
        with lock(box), reach(box, path, folders, make=True) as folder:
            before = check(folder, name, path, expected)
            beside = write_beside(folder, new, before)
            try:
                if before is None:
                    folder.rename_to_free(beside, name)
                else:
                    if stamp(folder.stat(name)) != stamp(before):
                        check(folder, name, path, expected)
                    folder.rename_over(beside, name)
            except BaseException:
                with suppress(OSError):
                    folder.unlink(beside)
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
            check(folder, name, path, expected)
            folder.unlink(name)
            folder.sync()
    except FileNotFoundError as error:
        raise changed(path) from error
    except OSError as error:
        raise not_written(error, path) from error
    remove_empty(box, folders)


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
    now, seen, steady = read_whole(folder, name, path, len(expected))
    if now != expected or not steady:
        raise changed(path)
    return seen


def changed(path: str) -> ChangedUnderneathError:
    """The error for a file that is not what was read before."""
    return ChangedUnderneathError("was changed meanwhile and is left as it is", path, "look at it and try again")


def stamp(status: os.stat_result) -> tuple[int, int, int]:
    """What differs after any save of a file: size, time, number."""
    return status.st_size, status.st_mtime_ns, status.st_ino
