"""Objects of history by their ids: files and raw bytes in a bare git repository."""

import errno
import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from recipebox.box import BoxError
from recipebox.box.errors import why
from recipebox.box.system import SETTLES_ALL, settle_all
from recipebox.history.packing import PackWriter

if TYPE_CHECKING:
    import pygit2

_MANY = 24
_SMALL, _NEAR = 64 << 10, 32 << 20  # bytes of a file, and of all files, that are kept at hand
COMMIT, TREE, BLOB = 1, 2, 3
"""Git's numbers for kinds of object."""


class HistoryError(BoxError):
    """History could not be read or written."""


class TooBigError(HistoryError):
    """A tree breaks the limits that every laptop keeps."""


@contextmanager
def written(folder: Path) -> Iterator[None]:
    """Say what went wrong with a write, by us or by the library, in one clear line. Raises HistoryError."""
    import pygit2

    try:
        yield
    except (OSError, pygit2.GitError) as error:
        number = getattr(error, "errno", None)
        if number is None and "No space left" in str(error):
            number = errno.ENOSPC
        what, do = why(OSError(number, os.strerror(number) if number else str(error)))
        raise HistoryError(f"history could not be written: {what}", str(folder), do) from error


class Objects:
    """Reads and writes objects of git's kinds. Ids are 40 hex digits."""

    def __init__(self, repository: "pygit2.Repository", folder: Path) -> None:
        self.repository = repository
        self.folder = folder
        self._near: dict[str, bytes] = {}
        self._near_size = 0
        self._waiting = False

    def has(self, object_id: str) -> bool:
        """Whether an object is here."""
        return object_id in self.repository

    def blob(self, blob_id: str) -> bytes:
        """The bytes of a file as recorded. Raises HistoryError if they are damaged or gone."""
        found = self._near.get(blob_id)
        if found is None:
            found = self.read(blob_id, BLOB)
            self.keep_near(blob_id, found)
        return found

    def keep_near(self, blob_id: str, data: bytes) -> None:
        """Keep a small file at hand: a sync checks what came, looks at it for its questions, then writes it."""
        if len(data) > _SMALL:
            return
        if self._near_size > _NEAR:
            self._near.clear()
            self._near_size = 0
        self._near[blob_id] = data
        self._near_size += len(data)

    def put_blob(self, data: bytes) -> str:
        """Store bytes and give their id."""
        return self.put_object(BLOB, data)

    def put_many(self, objects: Iterable[tuple[int, bytes]], count: int) -> None:
        """Store about `count` objects, each a kind number and bytes; many go into one pack, which settles at once."""
        if count <= _MANY:
            for kind, data in objects:
                self.put_object(kind, data)
            return
        with written(self.folder), PackWriter(self.folder / "objects" / "pack") as pack:
            for kind, data in objects:
                pack.add(kind, data)

    def put_object(self, kind: int, data: bytes) -> str:
        """Store an object of git's kind number and give its id."""
        with written(self.folder):
            return str(self.repository.odb.write(_kind(kind), data))

    @contextmanager
    def at_once(self) -> Iterator[None]:
        """What is stored within stands on the disk at the end; to wait once takes far less time than for each object.

        Nothing may refer to it before. Raises HistoryError.
        """
        import pygit2

        if not SETTLES_ALL or self._waiting:
            yield
            return
        self._waiting = True
        pygit2.settings.enable_fsync_gitdir(False)
        try:
            yield
        finally:
            self._waiting = False
            pygit2.settings.enable_fsync_gitdir(True)
        with written(self.folder):
            settle_all(str(self.folder))

    def size(self, blob_id: str) -> int:
        """How many bytes a recorded file has. Raises HistoryError if it is not here, or is no file."""
        import pygit2

        try:
            kind, size = self.repository.odb.read_header(blob_id)
        except (KeyError, ValueError, pygit2.GitError) as error:
            raise HistoryError("something recorded is missing or damaged", blob_id[:10]) from error
        if int(kind) != BLOB:
            raise HistoryError("is not what history says it is", blob_id[:10])
        return int(size)

    def read(self, object_id: str, kind: int) -> bytes:
        """The bytes of an object that must be of a kind. Raises HistoryError."""
        import pygit2

        try:
            found, data = self.repository.odb.read(object_id)
        except (KeyError, ValueError, pygit2.GitError) as error:
            raise HistoryError("something recorded is missing or damaged", object_id[:10]) from error
        if int(found) != kind:
            raise HistoryError("is not what history says it is", object_id[:10])
        return bytes(data)


def _kind(number: int) -> "pygit2.enums.ObjectType":
    import pygit2

    return pygit2.enums.ObjectType(number)
