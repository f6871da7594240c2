"""Objects of history: a bare git repository in the hidden folder, used as a store and nothing else.

No index file, no checkout, no configuration but our own. Commit and blob ids are 40 hex digits throughout.
"""

import os
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from recipebox.box import BoxError
from recipebox.history.message import Message, read_message, write_message

if TYPE_CHECKING:
    import pygit2

FOLDER = "history"
MAIN = "refs/heads/main"
MOST_FILES = 100_000
DEEPEST = 32
_MANY = 100
_LATEST = 1 << 33  # later than any clock says; what another laptop claims must still be a date
_TREE, _BLOB = 2, 3  # git's numbers for kinds of object
_FILES = (b"100644", b"100755", b"100664")


class HistoryError(BoxError):
    """History could not be read or written."""


class TooBigError(HistoryError):
    """A tree breaks the limits that every laptop keeps."""


@dataclass(frozen=True, slots=True)
class Commit:
    """One recorded state. `when` is the recording laptop's own clock, for display only; `step` orders for git."""

    id: str
    parents: tuple[str, ...]
    tree: str
    message: Message
    author: str
    when: int
    step: int


class Store:
    """Reads and writes objects and refs. Open with `open_store`."""

    def __init__(self, repository: "pygit2.Repository", folder: Path) -> None:
        self.repository = repository
        self.folder = folder
        self._commits: dict[str, Commit] = {}

    def has(self, object_id: str) -> bool:
        """Whether an object is here."""
        return object_id in self.repository

    def blob(self, blob_id: str) -> bytes:
        """The bytes of a file as recorded. Raises HistoryError if they are damaged or gone."""
        return self._read(blob_id, _BLOB)

    def put_blob(self, data: bytes) -> str:
        """Store bytes and give their id."""
        return self.put_object(_BLOB, data)

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

    def measure(self, tree: str, known: dict[str, tuple[int, int]], depth: int = 1) -> tuple[int, int]:
        """How many files a tree has and how deep it is; `known` remembers. Raises TooBigError as `files` does."""
        if depth > DEEPEST:
            raise TooBigError(f"has folders more than {DEEPEST} deep")
        found = known.get(tree)
        if found is None:
            files, deep = 0, 1
            for is_folder, entry_id in self._folder(tree).values():
                inner, below = self.measure(entry_id, known, depth + 1) if is_folder else (1, 0)
                files, deep = files + inner, max(deep, below + 1)
            found = known[tree] = files, deep
        if found[0] > MOST_FILES or depth + found[1] - 1 > DEEPEST:
            raise TooBigError(f"has more than {MOST_FILES} files or folders more than {DEEPEST} deep")
        return found

    def size(self, blob_id: str) -> int:
        """How many bytes a recorded file has."""
        return len(self.blob(blob_id))

    def commit(self, commit_id: str) -> Commit:
        """A commit by its id. Raises HistoryError if it is not here or damaged."""
        known = self._commits.get(commit_id)
        if known is None:
            known = self._commits[commit_id] = self._read_commit(commit_id)
        return known

    def parents(self, commit_id: str) -> tuple[str, ...]:
        """The parents of a commit."""
        return self.commit(commit_id).parents

    def put_commit(
        self,
        tree: str,
        parents: tuple[str, ...],
        why: str,
        facts: Mapping[str, Any],
        author: str,
        email: str,
        when: int,
    ) -> str:
        """Record a commit and give its id. The time git orders by is one more than the latest parent's."""
        import pygit2

        step = 1 + max((self.commit(parent).step for parent in parents), default=0)
        by = pygit2.Signature(_name(author), _name(email), when, 0)
        ordered = pygit2.Signature("recipebox", "recipebox", step, 0)
        oids = [pygit2.Oid(hex=parent) for parent in parents]
        made = self.repository.create_commit(None, by, ordered, write_message(why, facts), pygit2.Oid(hex=tree), oids)
        return str(made)

    def files(self, tree: str) -> dict[str, str]:
        """All files of a tree: path to blob id. Links and names that are no text are passed over, alike everywhere.

        Raises TooBigError beyond 100,000 files or 32 folders deep.
        """
        found: dict[str, str] = {}
        self._walk(tree, "", found, 1)
        return found

    def put_tree(self, files: Mapping[str, str]) -> str:
        """Store a tree of files and give its id. A path that is both file and folder stays a folder."""
        root: dict[str, Any] = {}
        for path, blob_id in files.items():
            *folders, name = path.split("/")
            at = root
            for folder in folders:
                inner = at.get(folder)
                if not isinstance(inner, dict):
                    inner = at[folder] = {}
                at = inner
            if not isinstance(at.get(name), dict):
                at[name] = blob_id
        return self._put_folder(root)

    def changes(self, before: str | None, after: str | None) -> dict[str, tuple[str | None, str | None]]:
        """Where two trees differ: path to (blob id before, after), reading only folders that differ."""
        changed: dict[str, tuple[str | None, str | None]] = {}
        self._compare(before, after, "", changed)
        return changed

    def entry(self, tree: str, path: str) -> str | None:
        """The blob id of one path in a tree, or None."""
        *folders, name = path.split("/")
        for folder in folders:
            inner = self._folder(tree).get(folder)
            if inner is None or not inner[0]:
                return None
            tree = inner[1]
        found = self._folder(tree).get(name)
        return found[1] if found is not None and not found[0] else None

    def ref(self, name: str) -> str | None:
        """The commit that a ref names, or None."""
        found = self.repository.references.get(name)
        return None if found is None else str(found.target)

    def set_ref(self, name: str, commit_id: str | None) -> None:
        """Let a ref name a commit; None removes it."""
        import pygit2

        if commit_id is None:
            with suppress(KeyError):
                self.repository.references.delete(name)
        else:
            self.repository.references.create(name, pygit2.Oid(hex=commit_id), force=True)

    def refs(self, prefix: str) -> dict[str, str]:
        """All refs that begin with a prefix."""
        names = [name for name in self.repository.references if name.startswith(prefix)]
        return {name: target for name in names if (target := self.ref(name)) is not None}

    def sweep(self) -> None:
        """Remove what a killed process left half written. Only under the box's lock."""
        for pattern in ("objects/**/tmp_obj*", "objects/pack/*.tmp", "objects/pack/tmp_*", "refs/**/*.lock", "*.lock"):
            _remove(self.folder.glob(pattern))
        _remove(self.folder.parent.glob(".recipebox-*.tmp"))

    def folder_ids(self, tree: str) -> dict[str, tuple[bool, str]]:
        """Entries of one folder by name: whether it is a folder, and its id; links and unreadable names passed over."""
        return self._folder(tree)

    def _read_commit(self, commit_id: str) -> Commit:
        import pygit2

        try:
            found = self.repository[commit_id]
        except (KeyError, ValueError, pygit2.GitError) as error:
            raise HistoryError("a recorded state is missing or damaged", commit_id[:10]) from error
        if not isinstance(found, pygit2.Commit):
            raise HistoryError("is no recorded state", commit_id[:10])
        text = found.raw_message.decode("utf-8", "replace")
        return Commit(
            commit_id,
            tuple(str(parent) for parent in found.parent_ids),
            str(found.tree_id),
            read_message(text),
            found.author.raw_name.decode("utf-8", "replace"),
            min(max(found.author.time, 0), _LATEST),
            found.committer.time,
        )

    def _read(self, object_id: str, kind: int) -> bytes:
        import pygit2

        try:
            found, data = self.repository.odb.read(object_id)
        except (KeyError, ValueError, pygit2.GitError) as error:
            raise HistoryError("something recorded is missing or damaged", object_id[:10]) from error
        if int(found) != kind:
            raise HistoryError("is not what history says it is", object_id[:10])
        return bytes(data)

    def _folder(self, tree: str) -> dict[str, tuple[bool, str]]:
        entries: dict[str, tuple[bool, str]] = {}
        for mode, name, entry_id in parse_tree(self._read(tree, _TREE)):
            if mode in (b"40000", *_FILES):
                with suppress(UnicodeDecodeError):
                    entries[name.decode("utf-8")] = (mode == b"40000", entry_id)
        return entries

    def _walk(self, tree: str, prefix: str, found: dict[str, str], depth: int) -> None:
        if depth > DEEPEST:
            raise TooBigError(f"has folders more than {DEEPEST} deep", prefix)
        for name, (is_folder, entry_id) in self._folder(tree).items():
            if "/" in name or name in ("", ".", ".."):
                continue
            if is_folder:
                self._walk(entry_id, f"{prefix}{name}/", found, depth + 1)
            else:
                found[prefix + name] = entry_id
        if len(found) > MOST_FILES:
            raise TooBigError(f"has more than {MOST_FILES} files")

    def _put_folder(self, folder: Mapping[str, Any]) -> str:
        lines = []
        for name, inner in folder.items():
            if isinstance(inner, dict):
                lines.append((name.encode() + b"/", b"40000 " + name.encode(), self._put_folder(inner)))
            else:
                lines.append((name.encode(), b"100644 " + name.encode(), inner))
        data = b"".join(head + b"\0" + bytes.fromhex(entry_id) for _, head, entry_id in sorted(lines))
        return self.put_object(_TREE, data)

    def _compare(
        self, before: str | None, after: str | None, prefix: str, changed: dict[str, tuple[str | None, str | None]]
    ) -> None:
        if before == after:
            return
        old = self._folder(before) if before else {}
        new = self._folder(after) if after else {}
        for name in sorted(old.keys() | new.keys()):
            was, now = old.get(name), new.get(name)
            if was == now:
                continue
            was_file = was[1] if was and not was[0] else None
            now_file = now[1] if now and not now[0] else None
            if was_file or now_file:
                changed[prefix + name] = (was_file, now_file)
            was_folder = was[1] if was and was[0] else None
            now_folder = now[1] if now and now[0] else None
            if was_folder or now_folder:
                self._compare(was_folder, now_folder, f"{prefix}{name}/", changed)


def open_store(hidden: Path) -> Store:
    """Open the store in a hidden folder, making it if need be. Raises HistoryError."""
    import pygit2

    _own_settings()
    folder = hidden / FOLDER
    try:
        if (folder / "HEAD").is_file() and (folder / "objects").is_dir():
            return Store(pygit2.Repository(str(folder), pygit2.enums.RepositoryOpenFlag.NO_SEARCH), folder)
        made = pygit2.init_repository(str(folder), bare=True, initial_head="main")
        return Store(made, folder)
    except (pygit2.GitError, OSError) as error:
        raise HistoryError(f"history cannot be opened ({error})", str(folder)) from error


def own_ref(laptop_id: str) -> str:
    """The ref under which a laptop's last edit is known."""
    return f"refs/laptops/{laptop_id}/own"


def parse_tree(data: bytes) -> Iterator[tuple[bytes, bytes, str]]:
    """The entries of a git tree: mode, name, id. Raises HistoryError where the bytes are no tree."""
    at = 0
    while at < len(data):
        stop = data.find(b"\0", at)
        mode, space, name = data[at:stop].partition(b" ")
        if stop < 0 or not space or stop + 21 > len(data):
            raise HistoryError("a recorded folder is damaged")
        yield mode, name, data[stop + 1 : stop + 21].hex()
        at = stop + 21


def _remove(files: Iterable[Path]) -> None:
    for left in list(files):
        with suppress(OSError):
            left.unlink()


def _own_settings() -> None:
    import pygit2

    # The user's own git configuration may be unreadable or change what we store; libgit2 would read it.
    levels = pygit2.enums.ConfigLevel
    for level in (levels.PROGRAMDATA, levels.SYSTEM, levels.XDG, levels.GLOBAL):
        pygit2.settings.search_path[level] = ""
    pygit2.settings.enable_fsync_gitdir(True)
    pygit2.settings.owner_validation = False  # the hidden folder is ours, also on a stick that names another owner
    pygit2.settings.server_timeout = 30_000
    pygit2.settings.server_connect_timeout = 15_000


def _kind(number: int) -> "pygit2.enums.ObjectType":
    import pygit2

    return pygit2.enums.ObjectType(number)


def _name(words: str) -> str:
    kept = "".join(c for c in words if c.isprintable() and c not in "<>").strip(" .,:;\"'")
    return kept or "laptop"
