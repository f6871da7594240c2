"""Trees of history: the files of a recorded state, by path, built and compared without an index file.

Links and names that are no text are passed over, alike on every laptop.
"""

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from recipebox.history.objects import TREE, HistoryError, Objects, TooBigError
from recipebox.history.packing import object_name

if TYPE_CHECKING:
    import pygit2

MOST_FILES = 100_000
DEEPEST = 32
_MODES = (b"40000", b"100644", b"100755", b"100664")
_ENTRY = re.compile(rb"([0-7]{1,7}) ([^\0]+)\0(.{20})", re.DOTALL)

_REMEMBERED = 6
_MOST_ENTRIES = 100_000

Changes = dict[str, tuple[str | None, str | None]]


class Trees(Objects):
    """Files of recorded states: path to blob id. A tree never changes, so the last few are remembered."""

    def __init__(self, repository: "pygit2.Repository", folder: Path) -> None:
        super().__init__(repository, folder)
        self._files: dict[str, dict[str, str]] = {}
        self._folders: dict[str, dict[str, tuple[bool, str]]] = {}
        self._entries = 0

    def files(self, tree: str) -> dict[str, str]:
        """All files of a tree: path to blob id. Links and names that are no text are passed over, alike everywhere.

        Raises TooBigError beyond 100,000 files or 32 folders deep.
        """
        known = self._files.get(tree)
        if known is None:
            known = {}
            self._walk(tree, "", known, 1)
            while len(self._files) >= _REMEMBERED:
                self._files.pop(next(iter(self._files)))
            self._files[tree] = known
        return dict(known)

    def at(self, tree: str) -> Mapping[str, str]:
        """The files of a tree, of which only those that are asked for are looked up."""
        return _At(self, tree)

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
        new: dict[str, bytes] = {}
        tree = self._folder_id(root, new)
        self.put_many(((TREE, data) for data in new.values()), len(new))
        return tree

    def tree_with(self, tree: str, changes: Mapping[str, str | None]) -> str:
        """Store a tree that differs from another in these paths (None: gone) and give its id."""
        inner: dict[str, dict[str, str | None]] = {}
        entries = dict(self._folder(tree)) if tree else {}
        for path, blob_id in changes.items():
            name, slash, rest = path.partition("/")
            if slash:
                inner.setdefault(name, {})[rest] = blob_id
            elif blob_id is not None:
                entries[name] = (False, blob_id)
            elif name in entries and not entries[name][0]:
                del entries[name]
        for name, below in inner.items():
            is_folder, entry_id = entries.get(name, (False, ""))
            made = self.tree_with(entry_id if is_folder else "", below)
            if self._folder(made):
                entries[name] = (True, made)
            elif is_folder:
                del entries[name]
        return self._put_folder(entries)

    def plain(self, tree: str, known: str = "") -> bool:
        """Whether a tree has nothing but files and folders, written as we write them; `known` is one that has."""
        if tree == known:
            return True
        entries = self._folder(tree)
        beside = self._folder(known) if known else {}
        if object_name(TREE, _folder_data(entries)) != tree:
            return False
        folders = {name: entry_id for name, (is_folder, entry_id) in entries.items() if is_folder}
        there = {name: beside[name][1] for name in folders if name in beside and beside[name][0]}
        return all(self.plain(entry_id, there.get(name, "")) for name, entry_id in folders.items())

    def changes(self, before: str | None, after: str | None) -> Changes:
        """Where two trees differ: path to (blob id before, after), reading only folders that differ."""
        changed: Changes = {}
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

    def folder_ids(self, tree: str) -> dict[str, tuple[bool, str]]:
        """Entries of one folder by name: whether it is a folder, and its id; links and unreadable names passed over."""
        return self._folder(tree)

    def _folder(self, tree: str) -> dict[str, tuple[bool, str]]:
        known = self._folders.get(tree)
        if known is not None:
            return known
        entries: dict[str, tuple[bool, str]] = {}
        for mode, name, entry_id in parse_tree(self.read(tree, TREE)):
            if mode in _MODES:
                with suppress(UnicodeDecodeError):
                    entries[name.decode("utf-8")] = (mode == b"40000", entry_id.hex())
        if self._entries > _MOST_ENTRIES:
            self._folders.clear()
            self._entries = 0
        self._folders[tree] = entries
        self._entries += len(entries)
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

    def _folder_id(self, folder: Mapping[str, Any], new: dict[str, bytes]) -> str:
        """The id of a folder; what is not stored yet goes into `new`."""
        entries: dict[str, tuple[bool, str]] = {}
        for name, inner in folder.items():
            is_folder = isinstance(inner, dict)
            entries[name] = (is_folder, self._folder_id(inner, new) if is_folder else inner)
        data = _folder_data(entries)
        tree = object_name(TREE, data)
        if tree not in new and (
            not data or not self.has(tree)
        ):  # libgit2 says it has the empty tree, and cannot read it
            new[tree] = data
        return tree

    def _put_folder(self, entries: Mapping[str, tuple[bool, str]]) -> str:
        data = _folder_data(entries)
        tree = object_name(TREE, data)
        return tree if data and self.has(tree) else self.put_object(TREE, data)

    def _compare(self, before: str | None, after: str | None, prefix: str, changed: Changes) -> None:
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


class _At(Mapping[str, str]):
    """Path to blob id of one tree."""

    def __init__(self, trees: Trees, tree: str) -> None:
        self._trees = trees
        self._tree = tree

    def __getitem__(self, path: str) -> str:
        found = self._trees.entry(self._tree, path)
        if found is None:
            raise KeyError(path)
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(self._trees.files(self._tree))

    def __len__(self) -> int:
        return len(self._trees.files(self._tree))


def _folder_data(entries: Mapping[str, tuple[bool, str]]) -> bytes:
    """The bytes of a folder in git's form and order."""
    lines = []
    for name, (is_folder, entry_id) in entries.items():
        raw = name.encode()
        head = b"40000 " + raw if is_folder else b"100644 " + raw
        lines.append((raw + b"/" if is_folder else raw, head + b"\0" + bytes.fromhex(entry_id)))
    return b"".join([line for _, line in sorted(lines)])


def parse_tree(data: bytes) -> list[tuple[bytes, bytes, bytes]]:
    """The entries of a git tree: mode, name, the 20 bytes of its id. Raises HistoryError where it is no tree."""
    entries = []
    at = 0
    while at < len(data):
        found = _ENTRY.match(data, at)
        if found is None:
            raise HistoryError("a recorded folder is damaged")
        entries.append((found[1], found[2], found[3]))
        at = found.end()
    return entries
