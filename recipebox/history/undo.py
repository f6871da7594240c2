"""Taking back a command: as a new edit, or, for a sync, by laying aside what came.

Undoing a command is a three-way merge with the state after it as base and the state before it as the other side, so
what was written since stays. Built like that, undoing a sync would delete the sender's words on the sender's own
laptop; so what came is laid aside on this laptop only.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from recipebox.box import Box, BoxError, keep, kept, lock
from recipebox.merge import Blob, Side

if TYPE_CHECKING:
    from recipebox.history.history import History

COMMANDS = ("add", "merge", "settle", "bring-back")
_SYNCS = "syncs"
_ASIDE = "laid-aside"
_KEPT_SYNCS = 50


class NothingToUndoError(BoxError):
    """There is no command left to take back."""


class CannotUndoError(BoxError):
    """The command can no longer be taken back whole."""


@dataclass(frozen=True, slots=True)
class Deed:
    """Something that can be taken back: `what` is a command's name, `id` the commit it made (for a sync: the head)."""

    what: str
    id: str
    before: str | None
    when: str
    why: str
    sent: bool


@dataclass(frozen=True, slots=True)
class Undone:
    """What was taken back, the paths that changed, and, for a sync, the paths that were laid aside."""

    deed: Deed
    changed: tuple[str, ...]
    laid_aside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SyncDeed:
    """A sync that brought something: heads before and after, this laptop's edit then, the edits that came."""

    before: str | None
    after: str
    own: str | None
    came: tuple[str, ...]
    when: int


def deeds(history: "History") -> list[Deed]:
    """What `undo` would take back, in order: the next one first."""
    undone = set()
    syncs = _syncs(history.box)
    edits = _own_edits(history)
    found = _syncs_at(syncs, edits[0] if edits else None)
    for commit_id, earlier in zip(edits, [*edits[1:], None], strict=False):
        commit = history.commit(commit_id)
        facts = commit.message.facts
        if isinstance(facts.get("undo"), str):
            undone.add(facts["undo"])
        elif facts.get("command") in COMMANDS and commit_id not in undone and commit.parents:
            sent = _sent(history, commit_id)
            found.append(
                Deed(facts["command"], commit_id, commit.parents[0], _time(commit.when), commit.message.why, sent)
            )
        found += _syncs_at(syncs, earlier)
    return found


def undo(history: "History", dry_run: bool = False) -> Undone:
    """Take back the last command that was not taken back yet. What stands unrecorded is recorded first.

    With `dry_run` nothing is taken back: the paths are those that would change.

    Raises NothingToUndoError, or CannotUndoError for a sync after which this laptop recorded an edit.
    """
    with lock(history.box):
        history.snapshot("Edited by hand")
        todo = deeds(history)
        if not todo:
            raise NothingToUndoError("there is nothing to take back", str(history.box.root))
        if todo[0].what == "sync":
            return _undo_sync(history, todo[0], dry_run)
        return _undo_edit(history, todo[0], dry_run)


def can_take_back(history: "History", deed: Deed) -> bool:
    """Whether a deed can be taken back whole: of syncs only one after which nothing was recorded here."""
    syncs = [sync for sync in _syncs(history.box) if sync.after == deed.id]
    return deed.what != "sync" or any(_can_lay_aside(history, sync) for sync in syncs)


def note_sync(history: "History", before: str | None, after: str, came: Sequence[str]) -> None:
    """Remember a sync that changed the box, so that it can be taken back."""
    deed = SyncDeed(before, after, history.own, tuple(sorted(came)), int(datetime.now(UTC).timestamp()))
    _keep_syncs(history.box, [*_syncs(history.box), deed])


def laid_aside(box: Box) -> frozenset[str]:
    """Edits of other laptops that were taken back here and wait for a person's word."""
    data = kept(box, _ASIDE)
    try:
        return frozenset(str(commit) for commit in json.loads(data)) if data else frozenset()
    except (ValueError, TypeError):
        return frozenset()


def lay_aside(box: Box, commits: frozenset[str]) -> None:
    """Remember which edits are laid aside; an empty set takes all of them in again."""
    if commits or kept(box, _ASIDE) is not None:
        keep(box, _ASIDE, json.dumps(sorted(commits)).encode() if commits else None)


def aside_paths(history: "History") -> list[str]:
    """Paths that the edits laid aside would change."""
    paths: set[str] = set()
    for commit_id in laid_aside(history.box):
        commit = history.commit(commit_id)
        if not commit.message.facts.get("view"):
            before = history.commit(commit.parents[0]).tree if commit.parents else None
            paths.update(history.store.changes(before, commit.tree))
    return sorted(paths)


def _undo_edit(history: "History", deed: Deed, dry_run: bool) -> Undone:
    head = history.head
    base, now, before = history.tree(deed.id), history.tree(head), history.tree(deed.before)
    moves = [history.views.moves([deed.id], [head] if head else [], history.files(head)), _moved_back(history, deed)]
    merged = history.merge(base, [Side(now, moves[0]), Side(before, moves[1])])
    files = history.ids(merged)
    if dry_run:
        return Undone(
            deed, tuple(path for path in sorted(files.keys() | now.keys()) if files.get(path) != _id(now, path))
        )
    back = {new: old for new, old in moves[1].items() if old in files and new not in files}
    made = history.record_tree(files, f"Took back: {deed.why}", {"undo": deed.id, "command": "undo"}, back)
    changed = history.put(made)
    history.note_own(made)
    return Undone(deed, tuple(changed))


def _undo_sync(history: "History", deed: Deed, dry_run: bool) -> Undone:
    syncs = _syncs(history.box)
    sync = next(sync for sync in reversed(syncs) if sync.after == deed.id)
    if not _can_lay_aside(history, sync):
        raise CannotUndoError(
            "cards were changed since that sync, so it can no longer be laid aside",
            str(history.box.root),
            "bring back single cards: recipebox history CARD --bring-back N",
        )
    if sync.before is None:
        raise CannotUndoError("that sync brought the whole box", str(history.box.root))
    if dry_run:
        trees = [history.commit(commit_id).tree for commit_id in (sync.after, sync.before)]
        changed = sorted(history.store.changes(*trees))
        return Undone(deed, tuple(changed), tuple(changed))
    lay_aside(history.box, laid_aside(history.box) | frozenset(sync.came))
    changed = history.put(sync.before)
    _keep_syncs(history.box, [other for other in syncs if other is not sync])
    return Undone(deed, tuple(changed), tuple(changed))


def _can_lay_aside(history: "History", sync: SyncDeed) -> bool:
    return history.head == sync.after and sync.own == history.own


def _id(tree: Mapping[str, Blob], path: str) -> str | None:
    return tree[path].id if path in tree else None


def _moved_back(history: "History", deed: Deed) -> dict[str, str]:
    return {new: old for old, new in history.commit(deed.id).message.moves.items()}


def _own_edits(history: "History") -> list[str]:
    """This laptop's edits, latest first. Each was built on the one before, so their steps tell the order."""
    head = history.head
    if head is None:
        return []
    own = [
        commit_id
        for commit_id in history.graph.ancestors([head])
        if history.commit(commit_id).message.laptop_id == history.box.laptop_id
    ]
    return sorted(own, key=lambda commit_id: (-history.commit(commit_id).step, commit_id))


def _syncs_at(syncs: Sequence[SyncDeed], own: str | None) -> list[Deed]:
    return [
        Deed("sync", sync.after, sync.before, _time(sync.when), "Met the other laptops", True)
        for sync in reversed(syncs)
        if sync.own == own
    ]


def _time(seconds: int) -> str:
    return datetime.fromtimestamp(seconds, UTC).isoformat()


def _sent(history: "History", commit_id: str) -> bool:
    """Whether an edit has gone out to some place."""
    sent = history.sent
    return sent is not None and commit_id in history.graph.ancestors([sent])


def _syncs(box: Box) -> list[SyncDeed]:
    data = kept(box, _SYNCS)
    try:
        return [SyncDeed(**{**said, "came": tuple(said["came"])}) for said in json.loads(data)] if data else []
    except (ValueError, TypeError, KeyError):
        return []


def _keep_syncs(box: Box, syncs: Sequence[SyncDeed]) -> None:
    # After a power cut within seconds it is only no longer offered to lay this sync aside.
    keep(box, _SYNCS, json.dumps([asdict(sync) for sync in syncs[-_KEPT_SYNCS:]]).encode(), settle=False)
