"""Taking a bundle into history: whole and checked, or not at all."""

import os
import secrets
from collections.abc import Iterable
from contextlib import suppress

from recipebox.box import MAX_CARD, MAX_FILE
from recipebox.cards.kinds import could_be_card
from recipebox.history import Graph, History, HistoryError, keep_pack, parse_tree, read_message
from recipebox.merge import RULE, carried
from recipebox.sync.bundle import Head, read_head
from recipebox.sync.pack import BLOB, COMMIT, TREE, DamagedError, Object, Pack

_MANY = 64  # more objects than this are kept as one pack: a file each would be slow
_MOST_STEPS = 1 << 40
_FOLDER_MODE = b"40000"
_FILE_MODES = (b"100644", b"100755", b"100664")


class NotYetError(Exception):
    """The bundle builds on changes that have not arrived."""


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


def take(history: History, data: bytes) -> Head:
    """Take a bundle's changes into history and note whose edits they are.

    Every object is hashed; files and folders are stored before commits; that nothing is missing is checked before
    any ref moves. Raises DamagedError, NotYetError, RefusedError or NewerRuleError; then no ref has moved.
    """
    head = read_head(data)
    known = history.graph.ancestors(history.heads())
    if not known.issuperset(head.builds_on):
        raise NotYetError
    laptops = head.laptops()
    if all(commit in known for _, commit in laptops):
        return head
    pack = Pack(bytes(memoryview(data)[head.pack_at :]), lambda object_id: _stored(history, object_id))
    new = _new_commits(history, pack, [commit for _, commit in laptops], known)
    _check_rule(pack, new)
    _check_whole(history, pack, new)
    _keep(history, pack)
    measured: dict[str, tuple[int, int]] = {}
    for commit in new:
        _check_limits(history, commit, measured)
    for laptop, commit in laptops:
        history.note_laptop(laptop, commit)
    return head


def count_cards(data: bytes) -> int | None:
    """How many cards the merged box in a full bundle has; None where the bundle does not hold it."""
    head = read_head(data)
    pack = Pack(bytes(memoryview(data)[head.pack_at :]), lambda object_id: None)
    tip = head.refs.get("HEAD")
    if tip is None or tip not in pack.offsets:
        return None
    tree, _ = _commit(pack.object(tip)[1])
    return sum(1 for _ in _cards_in(pack, tree, "", 0))


def _cards_in(pack: Pack, tree: str, prefix: str, depth: int) -> Iterable[str]:
    if depth > 32 or tree not in pack.offsets:
        return
    for mode, name, entry_id in parse_tree(pack.object(tree)[1]):
        path = prefix + name.decode("utf-8", "replace")
        if mode == _FOLDER_MODE:
            yield from _cards_in(pack, entry_id, path + "/", depth + 1)
        elif could_be_card(path):
            yield path


def _stored(history: History, object_id: str) -> Object | None:
    with suppress(KeyError, ValueError):
        kind, data = history.store.repository.odb.read(object_id)
        return int(kind), bytes(data)
    return None


def _commit(data: bytes) -> tuple[str, tuple[str, ...]]:
    """Tree and parents of a commit."""
    lines = data.split(b"\n\n", 1)[0].decode("ascii", "replace").split("\n")
    tree = [line[5:] for line in lines if line.startswith("tree ")]
    parents = tuple(line[7:] for line in lines if line.startswith("parent "))
    if len(tree) != 1 or any(len(name) != 40 for name in (*tree, *parents)):
        raise DamagedError("a recorded state is damaged")
    return tree[0], parents


def _new_commits(history: History, pack: Pack, tips: Iterable[str], known: frozenset[str]) -> list[str]:
    """Commits that lead to the tips and are not known yet, oldest first. Raises DamagedError if one is missing."""
    parents: dict[str, tuple[str, ...]] = {}
    todo = list(tips)
    while todo:
        commit = todo.pop()
        if commit in known or commit in parents:
            continue
        if pack.kinds.get(commit) != COMMIT:
            raise DamagedError("a recorded state is missing")
        parents[commit] = _commit(pack.object(commit)[1])[1]
        todo.extend(parents[commit])
    # Only those that are new: of the known ones nothing need be asked.
    return Graph(lambda commit: tuple(p for p in parents[commit] if p in parents)).oldest_first(parents)


def _check_rule(pack: Pack, new: Iterable[str]) -> None:
    for commit in new:
        message = read_message(pack.object(commit)[1].partition(b"\n\n")[2].decode("utf-8", "replace"))
        if message.rule > RULE:
            raise NewerRuleError(message.laptop)


def _check_whole(history: History, pack: Pack, new: Iterable[str]) -> None:
    """Every folder and file of the new states is in the pack, or in a state known whole that comes before."""
    whole: set[str] = set()
    for commit in new:
        tree, parents = _commit(pack.object(commit)[1])
        trees = [_tree_of(history, pack, parent) for parent in parents]
        _check_folder(history, pack, tree, trees, whole, 1)


def _tree_of(history: History, pack: Pack, commit: str) -> str:
    return _commit(pack.object(commit)[1])[0] if commit in pack.offsets else history.commit(commit).tree


def _check_folder(history: History, pack: Pack, tree: str, known: Iterable[str], whole: set[str], depth: int) -> None:
    if tree in whole or tree in known:
        return
    if depth > 64:
        raise RefusedError("folders lie too deep")
    there: dict[bytes, set[str]] = {}
    folders: dict[bytes, list[str]] = {}
    for other in known:
        for mode, name, entry_id in _folder(history, pack, other):
            there.setdefault(name, set()).add(entry_id)
            if mode == _FOLDER_MODE:
                folders.setdefault(name, []).append(entry_id)
    for mode, name, entry_id in _folder(history, pack, tree):
        if entry_id in there.get(name, ()):
            continue
        if mode == _FOLDER_MODE:
            _check_folder(history, pack, entry_id, folders.get(name, []), whole, depth + 1)
        elif mode in _FILE_MODES and pack.kinds.get(entry_id) != BLOB and not history.store.has(entry_id):
            raise DamagedError("a file is missing")
    whole.add(tree)


def _folder(history: History, pack: Pack, tree: str) -> list[tuple[bytes, bytes, str]]:
    found = pack.object(tree) if tree in pack.offsets else _stored(history, tree)
    if found is None or found[0] != TREE:
        raise DamagedError("a folder is missing")
    try:
        return list(parse_tree(found[1]))
    except HistoryError as error:
        raise DamagedError("a folder is damaged") from error


def _check_limits(history: History, commit_id: str, measured: dict[str, tuple[int, int]]) -> None:
    try:
        commit = history.commit(commit_id)
        parents = [history.commit(parent).tree for parent in commit.parents]
        history.store.measure(commit.tree, measured)
        changes = history.store.changes(parents[0] if parents else None, commit.tree)
    except HistoryError as error:
        raise RefusedError(error.what) from error
    if not 0 <= commit.step <= _MOST_STEPS:
        raise RefusedError("its edits bear impossible times")
    for path, (_, after) in changes.items():
        if after and carried(path):
            size = history.store.size(after)
            if size > MAX_FILE or (size > MAX_CARD and could_be_card(path)):
                raise RefusedError(f"{path} is larger than may be carried", commit.message.laptop)


def _keep(history: History, pack: Pack) -> None:
    if len(pack.offsets) > _MANY and not pack.builds_on_others:
        _keep_pack(history, pack)
        return
    # Files and folders first: a state must never stand there before what it holds.
    ordered = [(kind, object_id) for kind in (BLOB, TREE, COMMIT) for object_id in pack.of_kind(kind)]
    history.store.put_many(((kind, pack.object(object_id)[1]) for kind, object_id in ordered), len(ordered))


def _keep_pack(history: History, pack: Pack) -> None:
    folder = history.store.folder / "objects" / "pack"
    beside = folder / f"{secrets.token_hex(8)}.pack.tmp"
    with beside.open("wb") as file:
        file.write(pack.data)
        file.flush()
        os.fsync(file.fileno())
    keep_pack(folder, beside, pack.index(), pack.data[-20:])
