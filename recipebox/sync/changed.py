"""What a sync changed, file by file: what kind of change, and by whom, as it is told to a person."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from recipebox.history import History, laptop_names

ADDED, CHANGED, MOVED, GONE = "added", "changed", "moved", "gone"


@dataclass(frozen=True, slots=True)
class Change:
    """A file that came or went: what became of it, what it was called before a move, and the laptops it comes from."""

    path: str
    what: str
    was: str | None = None
    laptops: tuple[str, ...] = ()


def what_came(
    history: History, head: str | None, view: str, changes: Mapping[str, tuple[str | None, str | None]]
) -> tuple[Change, ...]:
    """What bringing the box from one state to another changes, by path.

    A file that only steps aside, for another of its name or under a name that all laptops can hold, was moved.
    """
    moved = _moves(history, head, view, changes)
    by = _whose(history, head, view) if head else {}
    found = []
    for path, (was, now) in sorted(changes.items()):
        if now is None:
            if path not in moved.values():
                found.append(Change(path, GONE, None, by.get(path, ())))
        elif was is not None:
            found.append(Change(path, CHANGED, None, by.get(path, ())))
        else:
            before = moved.get(path)
            found.append(Change(path, MOVED if before else ADDED, before, by.get(path, ())))
    return tuple(found)


def what_went(history: History, present: Collection[str]) -> tuple[Change, ...]:
    """What this laptop's edits changed that a place does not hold, where `present` are the edits it has."""
    own = history.own
    if own is None or own in present:
        return ()
    new = history.graph.ancestors([own]) - history.graph.ancestors(present)
    first: dict[str, bool] = {}
    moved: dict[str, str] = {}
    for commit_id in history.graph.oldest_first(new):
        commit = history.commit(commit_id)
        if commit.message.laptop_id != history.box.laptop_id:
            continue
        before = history.commit(commit.parents[0]).tree if commit.parents else None
        moved.update({to: moved.pop(old, old) for old, to in commit.message.moves.items()})
        for path, (was, _) in history.store.changes(before, commit.tree).items():
            first.setdefault(path, was is not None)
    return tuple(_sent(history, own, sorted(first.items()), moved))


def _sent(history: History, own: str, paths: Iterable[tuple[str, bool]], moved: Mapping[str, str]) -> Iterable[Change]:
    tree = history.commit(own).tree
    for path, was_there in paths:
        if path in moved:
            yield Change(path, MOVED, moved[path])
        elif history.store.entry(tree, path) is None:
            if was_there and path not in moved.values():
                yield Change(path, GONE)
        else:
            yield Change(path, CHANGED if was_there else ADDED)


def _moves(
    history: History, head: str | None, view: str, changes: Mapping[str, tuple[str | None, str | None]]
) -> dict[str, str]:
    """New path to the one before."""
    new = {path for path, (was, _) in changes.items() if was is None}
    left = {was: path for path, (was, _) in changes.items() if was is not None}
    if head is None or not new or not left:
        return {}
    went = history.views.moves([head], [view], history.files(view))
    recorded = {now: was for was, now in went.items() if now in new and was in changes}
    aside = {path: left[now] for path, (_, now) in changes.items() if path in new and now in left}
    return {**aside, **recorded}


def _whose(history: History, head: str, view: str) -> dict[str, tuple[str, ...]]:
    """The other laptops whose edits changed each path since `head`."""
    names = laptop_names(history)
    found: dict[str, set[str]] = {}
    for commit_id in history.graph.ancestors([view]) - history.graph.ancestors([head]):
        commit = history.commit(commit_id)
        laptop = commit.message.laptop_id
        if not laptop or laptop == history.box.laptop_id:
            continue
        before = history.commit(commit.parents[0]).tree if commit.parents else None
        for path in history.store.changes(before, commit.tree):
            found.setdefault(path, set()).add(names.get(laptop) or laptop[:4])
    return {path: tuple(sorted(laptops)) for path, laptops in found.items()}
