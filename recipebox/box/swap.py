"""Writing a file beside another before it takes its place."""

import os
import secrets
import stat
from contextlib import suppress
from pathlib import Path

from recipebox.box.errors import not_written
from recipebox.box.system import Folder

LEFTOVER = ".recipebox-"  # hidden, so a scan passes over what a killed process left


def write_beside(folder: Folder, data: bytes, like: os.stat_result | None, settle: bool = True) -> str:
    """Write bytes to a new hidden file in a folder, down to the disk, and give its name.

    `like`: the file it will replace, whose permissions it gets. Without `settle` the caller sees to it that the bytes
    are on the disk before the file takes its place. On any failure nothing is left. Raises OSError.
    """
    name = temporary_name()
    file = folder.create(name)
    try:
        try:
            if like is not None and hasattr(os, "fchmod"):
                os.fchmod(file, stat.S_IMODE(like.st_mode))
            rest = memoryview(data)
            while rest:
                rest = rest[os.write(file, rest) :]
            if settle:
                os.fsync(file)
        finally:
            os.close(file)
    except BaseException:
        with suppress(OSError):
            folder.unlink(name)
        raise
    return name


def temporary_name() -> str:
    """A name of our own for a file that is on its way; scans pass over it."""
    return f"{LEFTOVER}{secrets.token_hex(8)}.tmp"


def keep_in(hidden: Path, name: str, data: bytes | None, *, first: bool = False, settle: bool = True) -> None:
    """Put bytes under a name in a folder of our own, whole or not at all; None removes the name.

    With `first` a file already there stays as it is. Without `settle` a power cut may leave anything under the name:
    for what can be found out again. Raises NotWrittenError.
    """
    try:
        with Folder.at(str(hidden)) as folder:
            if data is None:
                with suppress(FileNotFoundError):
                    folder.unlink(name)
            else:
                _take_place(folder, write_beside(folder, data, None, settle), name, first)
            if settle:
                folder.sync()
    except OSError as error:
        raise not_written(error, str(hidden / name)) from error


def _take_place(folder: Folder, new: str, name: str, first: bool) -> None:
    try:
        if first:
            with suppress(FileExistsError):
                folder.rename_to_free(new, name)
                return
            folder.unlink(new)
        else:
            folder.rename_over(new, name)
    except OSError:
        with suppress(OSError):
            folder.unlink(new)
        raise
