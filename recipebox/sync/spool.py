"""Bytes that come from a meeting place, or go there: a few are kept in memory, many in an unnamed file of our own.

Not read where they lie: a stick pulled out under a mapped file would end the process.
"""

import mmap
import tempfile
from contextlib import ExitStack
from pathlib import Path
from types import TracebackType
from typing import IO, Self

from recipebox.history import written

LARGEST = 4 << 30
"""The largest bundle or pack, in bytes; memory does not depend on it."""
_IN_MEMORY = 8 << 20


class TooLargeError(ValueError):
    """More came than may be carried at once."""


class Spool:
    """Takes bytes in order; `whole` gives all of them. Use in a `with`, which gives the file back."""

    def __init__(self, folder: Path | None, most: int = LARGEST) -> None:
        self.size = 0
        self._folder = folder or Path(tempfile.gettempdir())
        self._most = most
        self._small = bytearray()
        self._file: IO[bytes] | None = None
        self._open = ExitStack()

    def write(self, part: bytes | memoryview) -> None:
        """Take the next bytes. Raises TooLargeError, or HistoryError where the disk is full."""
        self.size += len(part)
        if self.size > self._most:
            raise TooLargeError
        if self._file is None and self.size <= _IN_MEMORY:
            self._small += part
            return
        with written(self._folder):
            if self._file is None:
                self._file = self._open.enter_context(tempfile.TemporaryFile(dir=self._folder))  # noqa: SIM115 - the stack closes it
                self._file.write(self._small)
                self._small.clear()
            self._file.write(part)

    def whole(self) -> bytes | memoryview:
        """All bytes taken, for as long as the spool is open."""
        if self._file is None:
            return bytes(self._small)
        with written(self._folder):
            self._file.flush()
            return memoryview(mmap.mmap(self._file.fileno(), 0, access=mmap.ACCESS_READ))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._open.close()
