"""Taking a bundle into history: whole and checked, or not at all."""

import os
import secrets
from collections.abc import Iterable, Sequence
from itertools import islice

from recipebox.cards.kinds import could_be_card
from recipebox.history import DEEPEST, MOST_FILES, Graph, History, HistoryError, keep_pack, parse_tree, written
from recipebox.sync.bundle import Head, read_head
from recipebox.sync.checking import Check, state_in, stored
from recipebox.sync.entries import BLOB, COMMIT, TREE, Bytes, DamagedError
from recipebox.sync.pack import Pack

_MANY = 64  # more objects than this are kept as one pack: a file each would be slow
_FOLDER_MODE = b"40000"


class NotYetError(Exception):
    """The bundle builds on changes that have not arrived."""


def take(history: History, data: Bytes) -> Head:
    """Take a bundle's changes into history and note whose edits they are.

    Every object is hashed; files and folders are stored before commits; that nothing is missing is checked before
    any ref moves. Raises DamagedError, NotYetError, RefusedError or NewerRuleError; then no ref has moved.
    """
    head = read_head(data)
    known = history.graph.ancestors(history.heads())
    if not known.issuperset(head.builds_on):
        raise NotYetError
    take_pack(history, head.laptops(), memoryview(data)[head.pack_at :])
    return head


def take_pack(history: History, laptops: Sequence[tuple[str, str]], data: Bytes) -> None:
    """Take a pack that leads to edits of laptops (id, commit) into history, as `take` does and with its errors."""
    known = history.graph.ancestors(history.heads())
    if all(commit in known for _, commit in laptops):
        return
    pack = Pack(data, lambda object_id: stored(history, object_id))
    new = _new_commits(pack, [commit for _, commit in laptops], known)
    Check(history, pack).states(new)
    _keep(history, pack)
    for laptop, commit in laptops:
        history.note_laptop(laptop, commit)


def count_cards(data: Bytes) -> int | None:
    """How many cards the merged box in a full bundle has; None where the bundle does not hold it."""
    head = read_head(data)
    pack = Pack(memoryview(data)[head.pack_at :], lambda object_id: None)
    tip = head.refs.get("HEAD")
    if tip is None or tip not in pack:
        return None
    return sum(1 for _ in islice(_cards_in(pack, state_in(pack, tip).tree, "", 0), MOST_FILES))


def _cards_in(pack: Pack, tree: str, prefix: str, depth: int) -> Iterable[str]:
    if depth > DEEPEST or pack.kind(tree) != TREE:
        return
    try:
        entries = parse_tree(pack.object(tree)[1])
    except HistoryError as error:
        raise DamagedError(error.what) from error
    for mode, name, entry_id in entries:
        path = prefix + name.decode("utf-8", "replace")
        if mode == _FOLDER_MODE:
            yield from _cards_in(pack, entry_id.hex(), path + "/", depth + 1)
        elif could_be_card(path):
            yield path


def _new_commits(pack: Pack, tips: Iterable[str], known: frozenset[str]) -> list[str]:
    """Commits that lead to the tips and are not known yet, oldest first. Raises DamagedError if one is missing."""
    parents: dict[str, tuple[str, ...]] = {}
    todo = list(tips)
    while todo:
        commit = todo.pop()
        if commit in known or commit in parents:
            continue
        parents[commit] = state_in(pack, commit).parents
        todo.extend(parents[commit])
    # Only those that are new: of the known ones nothing need be asked.
    return Graph(lambda commit: tuple(p for p in parents[commit] if p in parents)).oldest_first(parents)


def _keep(history: History, pack: Pack) -> None:
    for blob_id, data in pack.near(BLOB):
        history.store.keep_near(blob_id, data)
    if len(pack) > _MANY and not (pack.builds_on_others or pack.doubled):
        _keep_pack(history, pack)
        return
    # Files and folders first: a state must never stand there before what it holds.
    ordered = [(kind, object_id) for kind in (BLOB, TREE, COMMIT) for object_id in pack.of_kind(kind)]
    with history.store.at_once():
        history.store.put_many(((kind, pack.object(object_id)[1]) for kind, object_id in ordered), len(ordered))


def _keep_pack(history: History, pack: Pack) -> None:
    folder = history.store.folder / "objects" / "pack"
    beside = folder / f"{secrets.token_hex(8)}.pack.tmp"
    with written(history.store.folder):
        try:
            with beside.open("wb") as file:
                file.write(pack.data)
                file.flush()
                os.fsync(file.fileno())
            keep_pack(folder, beside, pack.index(), bytes(pack.data[-20:]))
        finally:
            beside.unlink(missing_ok=True)
