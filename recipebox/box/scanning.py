"""The one look at all files of a box, which reads again only what changed."""

import gc
import secrets
import stat
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import NamedTuple

from recipebox.box.errors import UnreadableError, one_line, why
from recipebox.box.files import read_whole
from recipebox.box.paths import MAX_DEEP, MAX_FILE, MAX_FILES, leftover
from recipebox.box.place import Box
from recipebox.box.stats import Found, Table, later, load, store
from recipebox.box.swap import LEFTOVER
from recipebox.box.system import Folder, is_link
from recipebox.cards.blobs import blob_id

_YOUNG_NS = 2_000_000_000  # the coarsest stamps, of FAT disks, are 2 s apart


class BoxTrouble(NamedTuple):
    """A file or folder that cannot be taken in as it is. `line` is 0 where no line is meant."""

    path: str
    line: int
    what: str


class Scan(NamedTuple):
    """All files that are carried, by path. `unreadable` has files and folders whose present state is not known: what
    lay there before is not gone. Equal `state` words mean equal files. `leftovers` are temporary files of a recipebox
    that was killed. `was` is the state word of the look before, `changed` the paths that are not as they were then;
    `trail` has the same of looks before that one, the last at its end.
    """

    files: Mapping[str, Found]
    trouble: list[BoxTrouble]
    unreadable: frozenset[str]
    state: str
    leftovers: tuple[str, ...] = ()
    was: str = ""
    changed: frozenset[str] = frozenset()
    trail: tuple[tuple[str, frozenset[str]], ...] = ()

    def changed_since(self, state: str) -> frozenset[str] | None:
        """The paths that may not be as they were when `state` was the word; None where that is not known any more."""
        if state == self.state:
            return frozenset()
        changed: frozenset[str] = frozenset()
        for before, paths in reversed(self.trail):
            changed |= paths
            if before == state:
                return changed
        return None

    def unknown(self, path: str) -> bool:
        """Whether a path without file may still be there, unseen."""
        return path in self.unreadable or any(path.startswith(f"{folder}/") for folder in self.unreadable)


def scan(box: Box) -> Scan:
    """Look at every file of a box. Hidden things, links, `as-sent/` and editors' leftovers are passed over.

    A file is read if its size, stamps or number differ from the last look, or if its stamps were so young then that a
    later change might not show. Raises UnreadableError if the box's own folder cannot be read.
    """
    with _not_collecting():
        table = load(box)
        look = _Look(table.files)
        try:
            with Folder.at(str(box.root)) as root:
                look.walk(root, "", 1)
        except OSError as error:
            what, do = why(error)
            raise UnreadableError(f"could not be read: {what}", str(box.root), do) from error
        if len(look.files) > MAX_FILES:
            look.name("", f"the box has {len(look.files):,} files; more than {MAX_FILES:,} cannot be synced")
        changed = frozenset(look.other_bytes | (table.files.keys() - look.files.keys()))
        state, trail = table.state, table.trail
        if not state or changed:
            state, trail = secrets.token_hex(8), later(table, changed)
        if state != table.state or look.renewed:
            store(box, Table(look.files | look.young, state, trail))
    look.trouble.sort()
    leftovers = tuple(look.leftovers)
    return Scan(look.files, look.trouble, frozenset(look.unreadable), state, leftovers, table.state, changed, trail)


def note_written(box: Box, found: Scan, written: Mapping[str, str | None]) -> Scan:
    """What the next scan may count on after we wrote files ourselves: path -> blob id, None where one was removed.

    They are read again by the next scan all the same, since somebody may have saved them after us.
    """
    files = dict(found.files)
    for path, made in written.items():
        files.pop(path, None)
        if made is not None:
            files[path] = Found(path, 0, -1, 0, 0, made)
    table = Table(files, secrets.token_hex(8), later(Table({}, found.state, found.trail), frozenset(written)))
    store(box, table)
    return found._replace(
        files=files, state=table.state, was=found.state, changed=frozenset(written), trail=table.trail
    )


@contextmanager
def _not_collecting() -> Iterator[None]:
    """Thousands of small tuples that all stay would make Python look for rubbish among them again and again."""
    on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if on:
            gc.enable()


class _Look:
    def __init__(self, before: Mapping[str, Found]) -> None:
        self.before = before
        self.files: dict[str, Found] = {}
        self.young: dict[str, Found] = {}
        self.trouble: list[BoxTrouble] = []
        self.unreadable: set[str] = set()
        self.leftovers: list[str] = []
        self.renewed = False
        self.other_bytes: set[str] = set()

    def walk(self, folder: Folder, prefix: str, depth: int) -> None:
        within = []
        before = self.before
        files = self.files
        for entry in folder.entries():
            name = entry.name
            if name.startswith("."):
                if name.startswith(LEFTOVER):
                    self.leftovers.append(prefix + name)
                continue
            path = prefix + name
            try:
                status = entry.stat(follow_symlinks=False)
            except FileNotFoundError:
                continue
            except OSError as error:
                self.cannot_read(path, error)
                continue
            if stat.S_ISREG(status.st_mode):
                known = before.get(path)
                if (
                    known is not None
                    and known.mtime_ns == status.st_mtime_ns
                    and known.size == status.st_size
                    and known.changed_ns == status.st_ctime_ns
                    and known.inode == status.st_ino
                ):
                    files[path] = known
                elif not leftover(name):
                    self.read(folder, name, path, status.st_mtime_ns, status.st_ctime_ns, status.st_ino, status.st_size)
            elif is_link(status):
                continue
            elif not stat.S_ISDIR(status.st_mode):
                self.name(path, "is no plain file and is passed over")
            elif path.casefold() != "as-sent":
                within.append(name)
        for name in within:
            self.enter(folder, name, prefix + name, depth)

    def enter(self, folder: Folder, name: str, path: str, depth: int) -> None:
        if not _is_text(path):
            self.name(path, "has a name that is no text and cannot be carried; give it another", unread=True)
            return
        if depth >= MAX_DEEP:
            self.name(path, f"lies more than {MAX_DEEP} folders deep and is passed over", unread=True)
            return
        try:
            with folder.enter(name) as inner:
                self.walk(inner, path + "/", depth + 1)
        except FileNotFoundError:
            return
        except OSError as error:
            self.cannot_read(path, error)

    def read(self, folder: Folder, name: str, path: str, mtime: int, changed: int, inode: int, size: int) -> None:
        if not _is_text(path):
            self.name(path, "has a name that is no text and cannot be carried; give it another", unread=True)
            return
        if size > MAX_FILE:
            self.name(path, f"is larger than {MAX_FILE // 1_000_000} MB and is not carried", unread=True)
            return
        now = time.time_ns()
        try:
            data, opened, steady = read_whole(folder, name, path, MAX_FILE)
        except FileNotFoundError:
            return
        except UnreadableError as error:
            self.name(path, error.what, unread=True)
            return
        except OSError as error:
            self.cannot_read(path, error)
            return
        found = Found(path, len(data), mtime, changed, inode, blob_id(data))
        self.files[path] = found
        known = self.before.get(path)
        if known is None or known.blob_id != found.blob_id:
            self.other_bytes.add(path)
        if not steady or opened.st_mtime_ns != mtime or len(data) != size or max(mtime, changed) > now - _YOUNG_NS:
            self.young[path] = found = found._replace(mtime_ns=-1)
        self.renewed = self.renewed or found != known

    def cannot_read(self, path: str, error: OSError) -> None:
        self.name(path, f"could not be read: {why(error)[0]}", unread=True)

    def name(self, path: str, what: str, unread: bool = False) -> None:
        self.trouble.append(BoxTrouble(one_line(path), 0, what))
        if unread:
            self.unreadable.add(path)


def _is_text(path: str) -> bool:
    try:
        path.encode("utf-8")
    except UnicodeEncodeError:  # a name in bytes that are no UTF-8
        return False
    return True
