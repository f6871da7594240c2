"""Whether a `watch` keeps this box's index current: it holds a lock, which the system frees when it dies."""

import os
from collections.abc import Iterator
from contextlib import contextmanager

from recipebox.box import Box, LockedError
from recipebox.box.errors import not_written
from recipebox.box.system import try_lock, unlock

_NAME = "watching"


def watched(box: Box) -> bool:
    """Whether a watcher is alive and has caught up."""
    try:
        file = os.open(box.hidden / _NAME, os.O_RDWR | getattr(os, "O_CLOEXEC", 0))
    except OSError:
        return False
    try:
        if not try_lock(file):
            return True
        unlock(file)
        return False
    finally:
        os.close(file)


@contextmanager
def beating(box: Box) -> Iterator[None]:
    """Be the watcher of a box. Raises LockedError if there is one, NotWrittenError."""
    path = box.hidden / _NAME
    try:
        file = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_CLOEXEC", 0), 0o666)
    except OSError as error:
        raise not_written(error, str(path)) from error
    try:
        if not try_lock(file):
            raise LockedError("is being watched already", str(box.root), "let the other watch go on")
        try:
            yield
        finally:
            unlock(file)
    finally:
        os.close(file)
