"""What must hold of states that came, before anything of them is kept: they are whole, and within every limit."""

from collections.abc import Collection, Iterable, Sequence
from contextlib import suppress
from typing import NamedTuple

from recipebox.box import MAX_CARD, MAX_FILE
from recipebox.cards.kinds import could_be_card
from recipebox.history import DEEPEST, MOST_FILES, History, HistoryError, parse_tree, read_message
from recipebox.merge import RULE, carried
from recipebox.sync.pack import BLOB, TREE, DamagedError, Object, Pack

_FOLDER = b"40000"
_FILES = (b"100644", b"100755", b"100664")


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


class State(NamedTuple):
    """A recorded state as its bytes say: tree, parents, the step it counts, and its message."""

    tree: str
    parents: tuple[str, ...]
    step: int
    message: str


def read_state(data: bytes) -> State:
    """Take a commit's bytes apart. Raises DamagedError."""
    head, _, message = data.partition(b"\n\n")
    lines = head.decode("ascii", "replace").split("\n")
    tree = [line[5:] for line in lines if line.startswith("tree ")]
    parents = tuple(line[7:] for line in lines if line.startswith("parent "))
    times = [line.split(" ")[-2:-1] for line in lines if line.startswith("committer ")]
    if len(tree) != 1 or any(len(name) != 40 for name in (*tree, *parents)) or len(times) != 1:
        raise DamagedError("a recorded state is damaged")
    try:
        step = int(times[0][0])
    except (ValueError, IndexError):
        raise DamagedError("a recorded state is damaged") from None
    return State(tree[0], parents, step, message.decode("utf-8", "replace"))


class Check:
    """Looks at states in a pack, together with what is known already. Nothing is kept."""

    def __init__(self, history: History, pack: Pack) -> None:
        self._history = history
        self._pack = pack
        self._measured: dict[str, tuple[int, int, int]] = {}
        self._whole: set[tuple[str, str]] = set()
        self._known: dict[str, list[tuple[bytes, bytes, str]]] = {}

    def states(self, new: Iterable[str]) -> None:
        """Check states, oldest first. Raises DamagedError, RefusedError or NewerRuleError."""
        new = list(new)
        for commit in new:
            message = read_message(self._state(commit).message)
            if message.rule > RULE:
                raise NewerRuleError(message.laptop)
        for commit in new:
            state = self._state(commit)
            if state.step != 1 + max((self._step(parent) for parent in state.parents), default=0):
                raise RefusedError("its edits are not numbered as edits are")
            try:
                self._measure(state.tree, 1)
                self._folder(state.tree, [self._tree_of(parent) for parent in state.parents], "")
            except RefusedError as error:
                raise RefusedError(str(error), read_message(state.message).laptop) from error

    def _state(self, commit: str) -> State:
        return read_state(self._pack.object(commit)[1])

    def _tree_of(self, commit: str) -> str:
        return self._state(commit).tree if commit in self._pack.offsets else self._history.commit(commit).tree

    def _step(self, commit: str) -> int:
        return self._state(commit).step if commit in self._pack.offsets else self._history.commit(commit).step

    def _measure(self, tree: str, depth: int) -> tuple[int, int, int]:
        """Files, folders and depth of a tree. A folder that stands in many places counts in each."""
        if depth > DEEPEST:
            raise RefusedError(f"has folders more than {DEEPEST} deep")
        found = self._measured.get(tree)
        if found is None:
            files, folders, deep = 0, 1, 1
            for mode, _, entry_id in self._entries(tree):
                if mode == _FOLDER:
                    inner = self._measure(entry_id, depth + 1)
                    files, folders, deep = files + inner[0], folders + inner[1], max(deep, inner[2] + 1)
                else:
                    files += 1
            found = self._measured[tree] = files, folders, deep
        if max(found[:2]) > MOST_FILES:
            raise RefusedError(f"has more than {MOST_FILES} files or folders")
        if depth + found[2] - 1 > DEEPEST:
            raise RefusedError(f"has folders more than {DEEPEST} deep")
        return found

    def _folder(self, tree: str, known: Collection[str], path: str) -> None:
        """Every folder and file is in the pack, or in a state known whole; none that is new is too large."""
        if tree in known or (tree, path) in self._whole:
            return
        there: dict[bytes, set[str]] = {}
        folders: dict[bytes, list[str]] = {}
        for other in known:
            for mode, name, entry_id in self._entries(other):
                there.setdefault(name, set()).add(entry_id)
                if mode == _FOLDER:
                    folders.setdefault(name, []).append(entry_id)
        for mode, name, entry_id in self._entries(tree):
            if entry_id in there.get(name, ()):
                continue
            if mode == _FOLDER:
                self._folder(entry_id, folders.get(name, []), f"{path}{name.decode('utf-8', 'replace')}/")
            elif mode in _FILES:
                self._file(entry_id, path + name.decode("utf-8", "replace"))
        self._whole.add((tree, path))

    def _file(self, blob_id: str, path: str) -> None:
        if self._pack.kinds.get(blob_id) == BLOB:
            size = self._pack.size(blob_id)
        elif self._history.store.has(blob_id):
            size = self._history.store.size(blob_id)
        else:
            raise DamagedError("a file is missing")
        if (size > MAX_FILE or (size > MAX_CARD and could_be_card(path))) and carried(path):
            raise RefusedError(f"{path} is larger than may be carried")

    def _entries(self, tree: str) -> Sequence[tuple[bytes, bytes, str]]:
        if tree in self._known:
            return self._known[tree]
        try:
            if tree in self._pack.offsets:
                kind, data = self._pack.object(tree)
                if kind != TREE:
                    raise DamagedError("a folder is missing")
                entries = list(parse_tree(data))
            else:
                there = self._history.store.folder_ids(tree)
                entries = [
                    (_FOLDER if inner else _FILES[0], name.encode(), its) for name, (inner, its) in there.items()
                ]
        except HistoryError as error:
            raise DamagedError("a folder is missing or damaged") from error
        self._known[tree] = entries
        return entries


def stored(history: History, object_id: str) -> Object | None:
    """An object that history has already, or None."""
    with suppress(KeyError, ValueError):
        kind, data = history.store.repository.odb.read(object_id)
        return int(kind), bytes(data)
    return None
