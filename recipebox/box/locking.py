"""One recipebox at a time changes a box."""

import os
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from recipebox.box.errors import LockedError, not_written
from recipebox.box.place import Box
from recipebox.box.system import try_lock, unlock

_held: set[tuple[Path, int]] = set()  # so that a command that holds the lock may call another that takes it
_broken: set[Path] = set()


@contextmanager
def lock(box: Box, wait: float = 5.0) -> Iterator[None]:
    """Hold a box's lock; within the same thread it may be taken again.

    The system frees it when a process dies, so no dead process holds it. Waits up to `wait` seconds. Raises
    LockedError, or NotWrittenError where the box's hidden folder takes no file.
    """
    own = (box.hidden, threading.get_ident())
    if own in _held:
        yield
        return
    path = box.hidden / "lock"
    try:
        file = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_CLOEXEC", 0), 0o666)
    except OSError as error:
        raise not_written(error, str(path)) from error
    try:
        _wait_for(file, box, wait)
        _held.add(own)
        try:
            if _number(file):
                _broken.add(box.hidden)
            _sign(file)
            yield
        finally:
            _held.discard(own)
            if box.hidden not in _broken:
                _clear(file)
            unlock(file)
    finally:
        os.close(file)


def died(box: Box) -> bool:
    """Whether a process ended without giving the lock back, so that it may have left things half written.

    Only under the lock; true until `mended` is called.
    """
    return box.hidden in _broken


def mended(box: Box) -> None:
    """Note that what a dead process left is cleared away."""
    _broken.discard(box.hidden)


def _wait_for(file: int, box: Box, wait: float) -> None:
    until = time.monotonic() + wait
    while not try_lock(file):
        if time.monotonic() >= until:
            raise LockedError(f"another recipebox{_holder(file)} is at work here", str(box.root), "try again later")
        time.sleep(0.02)


def _sign(file: int) -> None:
    _clear(file)
    with suppress(OSError):
        os.lseek(file, 0, os.SEEK_SET)
        os.write(file, str(os.getpid()).encode())


def _clear(file: int) -> None:
    with suppress(OSError):
        os.ftruncate(file, 0)


def _number(file: int) -> str:
    """The number of the process that holds the lock, or held it and died; "" if none does or it cannot be told."""
    with suppress(OSError):
        os.lseek(file, 0, os.SEEK_SET)
        number = os.read(file, 20)
        if number.isdigit():
            return number.decode()
    return ""


def _holder(file: int) -> str:
    number = _number(file)
    return f" (process {number})" if number else ""
