"""The database file of the index: opened, brought to the newest schema, made anew when broken."""

import hashlib
import re
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from functools import cache
from pathlib import Path

import recipebox
from recipebox.box import Box, BoxError, schema

NAME = "index.sqlite"
WAIT = 5.0  # seconds for another recipebox to finish

Say = Callable[[str], None]


class IndexLockedError(BoxError):
    """Another program holds the index and did not let go in time."""


class IndexNotWrittenError(BoxError):
    """The disk takes no index: full, read-only, or no permission."""


class IndexBrokenError(BoxError):
    """The file is no database of ours, or damaged; it can be made anew."""


def connect(box: Box) -> sqlite3.Connection:
    """Open the index, making it if absent, with the newest schema.

    Raises IndexLockedError, IndexNotWrittenError or IndexBrokenError.
    """
    path = box.hidden / NAME
    with told(path):
        connection = sqlite3.connect(path, timeout=WAIT, isolation_level=None, check_same_thread=False)
        try:
            if connection.execute("PRAGMA user_version").fetchone()[0] != len(_migrations()):
                _migrate(connection)
            connection.execute("PRAGMA synchronous = NORMAL")
        except BaseException:
            connection.close()
            raise
    return connection


def in_memory(box: Box) -> sqlite3.Connection:
    """A copy of the index for this process alone, for a box that may only be read; empty if none lies there.

    Raises IndexBrokenError.
    """
    path = box.hidden / NAME
    copy = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
    with told(path):
        try:
            with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True)) as kept:
                kept.backup(copy)
            if copy.execute("PRAGMA user_version").fetchone()[0] == len(_migrations()):
                return copy
        except sqlite3.DatabaseError:
            pass
        copy.close()
        copy = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
        _migrate(copy)
    return copy


def throw_away(box: Box) -> None:
    """Remove the database, so that the next `connect` makes it anew. Raises IndexNotWrittenError."""
    path = box.hidden / NAME
    try:
        for ending in ("-wal", "-shm", "-journal", ""):
            with suppress(FileNotFoundError):
                path.with_name(NAME + ending).unlink()
    except OSError as error:
        raise IndexNotWrittenError("cannot be made anew", str(path), "see who may write there") from error


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn the database's errors into ours."""
    try:
        yield
    except sqlite3.DatabaseError as error:
        raise _meaning(error, path) from error


@contextmanager
def changing(connection: sqlite3.Connection) -> Iterator[None]:
    """One transaction that writes: all of it or nothing, whenever the process is killed."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        with suppress(sqlite3.Error):
            connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


@cache
def made_by() -> str:
    """A mark of this very recipebox's way of reading cards: another one's index is made anew."""
    package = Path(recipebox.__file__).parent
    marks = []
    for room in ("tables", "cards", "measures", "compare", "dishes", "index"):
        for file in sorted((package / room).iterdir()):
            if file.suffix in (".py", ".csv"):
                status = file.stat()
                marks.append(f"{room}/{file.name} {status.st_size} {status.st_mtime_ns}")
    return hashlib.sha256("\n".join(marks).encode()).hexdigest()[:16]


@cache
def _migrations() -> tuple[str, ...]:
    text = schema("index.sql").read_text(encoding="utf-8")
    return tuple(re.split(r"^-- migration \d+$", text, flags=re.MULTILINE)[1:])


def _migrate(connection: sqlite3.Connection) -> None:
    from sqlite_utils import Database

    if connection.execute("PRAGMA user_version").fetchone()[0] > len(_migrations()):
        raise sqlite3.DatabaseError("made by a newer recipebox")
    database = Database(connection)
    database.enable_wal()
    with changing(connection):
        done = connection.execute("PRAGMA user_version").fetchone()[0]
        for number, migration in enumerate(_migrations()[done:], start=done + 1):
            for statement in _statements(migration):
                database.execute(statement)
            connection.execute(f"PRAGMA user_version = {number}")


def _statements(script: str) -> Iterator[str]:
    statement = ""
    for line in script.splitlines():
        statement += line + "\n"
        if line.rstrip().endswith(";") and sqlite3.complete_statement(statement):
            yield statement
            statement = ""


def _meaning(error: sqlite3.DatabaseError, path: Path) -> BoxError:
    words = str(error).lower()
    if "locked" in words or "busy" in words:
        return IndexLockedError("another program is using the index", str(path), "try again when it has finished")
    if "full" in words:
        return IndexNotWrittenError("the disk is full", str(path), "make room and try again")
    if "readonly" in words or "unable to open" in words or "permission" in words or "disk i/o" in words:
        return IndexNotWrittenError("the disk takes no index", str(path), "see whether it is read-only or not yours")
    return IndexBrokenError(f"the index is broken ({error})", str(path), "type: recipebox start --again")
