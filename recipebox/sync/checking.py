"""What must hold of states that came, before anything of them is kept: they are whole, and within every limit.

The work is bounded by what the pack holds: each folder is looked through once, wherever and however often it stands.
"""

from collections import OrderedDict
from collections.abc import Collection, Iterable, Sequence
from contextlib import suppress
from typing import NamedTuple

from recipebox.box import MAX_CARD, MAX_FILE
from recipebox.box.errors import one_line
from recipebox.cards.kinds import could_be_card
from recipebox.history import (
    DEEPEST,
    MOST_FILES,
    History,
    HistoryError,
    State,
    parse_tree,
    read_message,
    read_state,
)
from recipebox.merge import RULE, carried
from recipebox.sync.entries import BLOB, COMMIT, TREE, DamagedError
from recipebox.sync.pack import Object, Pack

_FOLDER = b"40000"
_FILES = (b"100644", b"100755", b"100664")
_LONGEST_NOTE, _ALL_NOTES = 8 << 20, 256 << 20  # bytes of one state's message, and of all that came at once
_REMEMBERED = 400_000  # entries of folders

Entry = tuple[bytes, bytes, bytes]


class RefusedError(Exception):
    """The changes break the limits that every laptop keeps; the message says which, `laptop` whose, if known."""

    def __init__(self, why: str, laptop: str = "") -> None:
        self.laptop = laptop
        super().__init__(why)


class NewerRuleError(Exception):
    """The changes were made by a newer recipebox; `laptop` is the laptop's name."""

    def __init__(self, laptop: str) -> None:
        self.laptop = laptop
        super().__init__(laptop)


class _Measure(NamedTuple):
    files: int
    folders: int
    deep: int


class Check:
    """Looks at states in a pack, together with what is known already. Nothing is kept."""

    def __init__(self, history: History, pack: Pack) -> None:
        self._history = history
        self._pack = pack
        self._measured: dict[str, _Measure] = {}
        self._whole: set[str] = set()
        self._near: OrderedDict[str, Sequence[Entry]] = OrderedDict()
        self._near_entries = 0

    def states(self, new: Iterable[str]) -> None:
        """Check states, oldest first. Raises DamagedError, RefusedError or NewerRuleError."""
        new = list(new)
        notes = 0
        for commit in new:
            notes += self._pack.size(commit)
            if self._pack.size(commit) > _LONGEST_NOTE or notes > _ALL_NOTES:
                raise RefusedError("has longer notes on its edits than any box has")
            message = read_message(self._state(commit).message)
            if message.rule > RULE:
                raise NewerRuleError(message.laptop)
        for commit in new:
            state = self._state(commit)
            try:
                if state.step != 1 + max((self._step(parent) for parent in state.parents), default=0):
                    raise RefusedError("its edits are not numbered as edits are")
                self._tree(state.tree, [self._tree_of(parent) for parent in state.parents])
            except (RefusedError, DamagedError) as error:
                raise RefusedError(str(error), read_message(state.message).laptop) from error

    def _state(self, commit: str) -> State:
        return state_in(self._pack, commit)

    def _tree_of(self, commit: str) -> str:
        return self._state(commit).tree if commit in self._pack else self._history.commit(commit).tree

    def _step(self, commit: str) -> int:
        return self._state(commit).step if commit in self._pack else self._history.store.step(commit)

    def _tree(self, tree: str, before: Sequence[str]) -> None:
        # A state that adds no path to one that is within the limits is within them too.
        if not any(self._adds_nothing(tree, other) for other in before[:2]):
            self._measure(tree, 1)
        self._folder(tree, before)

    def _adds_nothing(self, tree: str, before: str) -> bool:
        """Whether all paths of a tree are paths of one that is within the limits."""
        if tree == before:
            return True
        there = {name: (mode, entry_id) for mode, name, entry_id in self._entries(before)}
        for mode, name, entry_id in self._entries(tree):
            was, was_id = there.get(name, (b"", b""))
            if was_id == entry_id and was == mode:
                continue
            if was == b"" or (was == _FOLDER) != (mode == _FOLDER):
                return False
            if mode == _FOLDER and not self._adds_nothing(entry_id.hex(), was_id.hex()):
                return False
        return True

    def _measure(self, tree: str, depth: int) -> _Measure:
        """Files, folders and depth of a tree. A folder that stands in many places counts in each."""
        if depth > DEEPEST:
            raise RefusedError(f"has folders more than {DEEPEST} deep")
        found = self._measured.get(tree)
        if found is None:
            files, folders, deep = 0, 1, 1
            entries = self._entries(tree)
            inner_folders = [entry_id for mode, _, entry_id in entries if mode == _FOLDER]
            files = len(entries) - len(inner_folders)
            for entry_id in inner_folders:
                inner = self._measure(entry_id.hex(), depth + 1)
                files, folders, deep = files + inner.files, folders + inner.folders, max(deep, inner.deep + 1)
            found = self._measured[tree] = _Measure(files, folders, deep)
        if max(found.files, found.folders) > MOST_FILES:
            raise RefusedError(f"has more than {MOST_FILES:,} files or folders")
        if depth + found.deep - 1 > DEEPEST:
            raise RefusedError(f"has folders more than {DEEPEST} deep")
        return found

    def _folder(self, tree: str, known: Collection[str]) -> None:
        """Every folder and file is in the pack, or in a state known whole; none that is new is too large."""
        if tree in self._whole or tree in known:
            return
        there: set[Entry] = set()
        for other in known:
            there.update(self._entries(other))
        new = [entry for entry in self._entries(tree) if entry not in there]
        folders = {name for mode, name, _ in new if mode == _FOLDER}
        before: dict[bytes, list[str]] = {}
        for mode, name, entry_id in there if folders else ():
            if mode == _FOLDER and name in folders:
                before.setdefault(name, []).append(entry_id.hex())
        for mode, name, entry_id in new:
            if mode == _FOLDER:
                self._folder(entry_id.hex(), before.get(name, ()))
            elif mode in _FILES:
                self._file(entry_id.hex(), name.decode("utf-8", "replace"))
        self._whole.add(tree)

    def _file(self, blob_id: str, name: str) -> None:
        if self._pack.kind(blob_id) == BLOB:
            size = self._pack.size(blob_id)
        else:
            try:
                size = self._history.store.size(blob_id)
            except HistoryError as error:
                raise DamagedError("a file is missing") from error
        if (size > MAX_FILE or (size > MAX_CARD and could_be_card(name))) and carried(name):
            raise RefusedError(f"{one_line(name)[:80]} is larger than may be carried")

    def _entries(self, tree: str) -> Sequence[Entry]:
        known = self._near.get(tree)
        if known is not None:
            return known
        try:
            here = self._pack.kind(tree) == TREE
            entries = parse_tree(self._pack.object(tree)[1] if here else self._history.store.read(tree, TREE))
        except HistoryError as error:
            raise DamagedError("a folder is missing or damaged") from error
        self._near[tree] = entries
        self._near_entries += len(entries)
        while self._near_entries > _REMEMBERED and len(self._near) > 1:
            self._near_entries -= len(self._near.popitem(last=False)[1])
        return entries


def state_in(pack: Pack, commit: str) -> State:
    """A recorded state that a pack holds. Raises DamagedError."""
    if pack.kind(commit) != COMMIT:
        raise DamagedError("a recorded state is missing")
    try:
        return read_state(pack.object(commit)[1])
    except HistoryError as error:
        raise DamagedError(error.what) from error


def stored(history: History, object_id: str) -> Object | None:
    """An object that history has already, or None."""
    with suppress(KeyError, ValueError):
        kind, data = history.store.repository.odb.read(object_id)
        return int(kind), bytes(data)
    return None
