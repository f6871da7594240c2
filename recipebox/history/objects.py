"""Objects of history by their ids: files and raw bytes in a bare git repository."""

import os
from collections.abc import Collection
from pathlib import Path
from typing import TYPE_CHECKING

from recipebox.box import BoxError

if TYPE_CHECKING:
    import pygit2

_MANY = 100
TREE, BLOB = 2, 3
"""Git's numbers for kinds of object."""


class HistoryError(BoxError):
    """History could not be read or written."""


class TooBigError(HistoryError):
    """A tree breaks the limits that every laptop keeps."""


class Objects:
    """Reads and writes objects of git's kinds. Ids are 40 hex digits."""

    def __init__(self, repository: "pygit2.Repository", folder: Path) -> None:
        self.repository = repository
        self.folder = folder

    def has(self, object_id: str) -> bool:
        """Whether an object is here."""
        return object_id in self.repository

    def blob(self, blob_id: str) -> bytes:
        """The bytes of a file as recorded. Raises HistoryError if they are damaged or gone."""
        return self.read(blob_id, BLOB)

    def put_blob(self, data: bytes) -> str:
        """Store bytes and give their id."""
        return self.put_object(BLOB, data)

    def put_blobs(self, texts: Collection[bytes]) -> None:
        """Store many files: the disk is asked once for all of them to settle, not once for each."""
        import pygit2

        at_once = len(texts) > _MANY and hasattr(os, "sync")
        pygit2.settings.enable_fsync_gitdir(not at_once)
        try:
            for text in texts:
                self.put_blob(text)
        finally:
            pygit2.settings.enable_fsync_gitdir(True)
        if at_once:
            os.sync()

    def put_object(self, kind: int, data: bytes) -> str:
        """Store an object of git's kind number and give its id."""
        return str(self.repository.odb.write(_kind(kind), data))

    def size(self, blob_id: str) -> int:
        """How many bytes a recorded file has."""
        return len(self.blob(blob_id))

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
