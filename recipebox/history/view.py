"""The view: what the edits of several laptops come to, computed alike by everybody who knows the same edits.

A laptop publishes its own edits only. The view of a set of edits is one merge commit with parents sorted, a fixed
author and message, and times that follow from the parents; so two laptops that know the same edits hold the very
same commit, and histories close instead of chasing one another. Where edits have no single state in common, the
states they share are merged first, recursively, into a base that is never stored.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import NamedTuple

from recipebox.history.graph import Graph
from recipebox.history.store import HistoryError, Store
from recipebox.merge import RULE, Blob, MergedBox, Side, apart, carried, merge_boxes
from recipebox.merge.following import names_cards

VIEW_WHY = "Bring the laptops together"
# Deeper than any family's history crosses; beyond it every laptop takes the same plain state for a base.
_DEEPEST_BASE = 48

Merge = Callable[[Mapping[str, Blob], Sequence[Side]], MergedBox]


@dataclass(frozen=True, slots=True)
class Together:
    """Several edits as one: files (path to blob id), the edits they come from, and moves that led there."""

    files: Mapping[str, str]
    tips: tuple[str, ...]
    moves: Mapping[str, str]


class _Merged(NamedTuple):
    """What a merge gave: contents it looked at, what it renamed, and files that were alike on all sides."""

    tree: Mapping[str, Blob]
    renamed: Mapping[str, str]
    untouched: Mapping[str, str]


class Views:
    """Computes views over a store. `merge` is the algebra that joins boxes.

    `clean` are trees known to hold nothing but names that every laptop can hold; more are found out. `looked_at_all`
    tells that all names of a tree had to be looked at for that.
    """

    def __init__(self, store: Store, graph: Graph, merge: Merge = merge_boxes, clean: Iterable[str] = ()) -> None:
        self._store = store
        self._graph = graph
        self._merge = merge
        self._made: dict[tuple[str, ...], Together] = {}
        self._new: dict[str, bytes] = {}
        self._clean: dict[str, bool] = dict.fromkeys(clean, True)
        self.looked_at_all = False

    def view(self, edits: Collection[str], known: str | None = None) -> str:
        """The commit that holds what all these edits come to: the edit itself if there is only one, else a merge.

        An edit with names that some laptop cannot hold is not its own view: one is made of it, under safe names.
        `known` is a state of this laptop that may be just that view, computed before. Raises HistoryError for an
        empty set.
        """
        tips = self._graph.maximal(edits)
        if not tips:
            raise HistoryError("nothing is recorded yet")
        if known is not None and (tips == (known,) or self._is_view(known, tips)) and self._is_clean(known):
            return known
        if len(tips) == 1 and self._is_clean(tips[0]):
            return tips[0]
        together = self._under_safe_names(tips[0]) if len(tips) == 1 else self.together(tips)
        for blob_id in set(together.files.values()):
            if blob_id in self._new:
                self._store.put_blob(self._new[blob_id])
        tree = self._store.put_tree(together.files)
        self._clean[tree] = True
        facts = {"moves": sorted(map(list, together.moves.items())), "rule": RULE, "view": True}
        # The latest clock among the parents: for display only, and the same for everybody.
        when = max(self._store.commit(tip).when for tip in tips)
        return self._store.put_commit(tree, tips, VIEW_WHY, facts, "recipebox", "recipebox", when)

    def _is_view(self, known: str, tips: tuple[str, ...]) -> bool:
        commit = self._store.commit(known)
        return commit.parents == tips and commit.message.facts.get("view") is True and commit.message.rule == RULE

    def _is_clean(self, commit_id: str) -> bool:
        """Whether a state holds nothing but files that every laptop can hold under their names."""
        tree = self._store.commit(commit_id).tree
        if tree not in self._clean:
            self._clean[tree] = self._adds_nothing(tree) or self._names_are_safe(tree)
        return self._clean[tree]

    def _adds_nothing(self, tree: str) -> bool:
        """Whether a tree has only paths of one that is known to be clean."""
        known = [clean for clean, its in self._clean.items() if its and self._store.has(clean)][-4:]
        return any(
            all(was for was, _ in self._store.changes(clean, tree).values()) and self._store.plain(tree, clean)
            for clean in known
        )

    def _names_are_safe(self, tree: str) -> bool:
        self.looked_at_all = True
        files = self._store.files(tree)
        safe = all(map(_carried, files)) and all(path == name for path, name in apart(files).items())
        return safe and self._store.plain(tree)

    def _under_safe_names(self, commit_id: str) -> Together:
        files = self._carried(self._store.commit(commit_id).tree)
        safe = apart(files)
        moves = {path: name for path, name in safe.items() if path != name}
        return Together({safe[path]: blob_id for path, blob_id in files.items()}, (commit_id,), moves)

    def together(self, edits: Collection[str]) -> Together:
        """What edits come to, without recording it."""
        return self._together(self._graph.maximal(edits), 0)

    def moves(self, since: Iterable[str], tips: Iterable[str], files: Mapping[str, str]) -> dict[str, str]:
        """Where files went from the states `since` to those of `tips` (which hold `files`): old path to new."""
        steps = self._graph.ancestors(tips) - self._graph.ancestors(since)
        return follow([self._store.commit(step).message.moves for step in self._graph.oldest_first(steps)], files)

    def _together(self, tips: tuple[str, ...], depth: int) -> Together:
        if not tips:
            return Together({}, (), {})
        if len(tips) == 1:
            return Together(self._carried(self._store.commit(tips[0]).tree), tips, {})
        if depth > _DEEPEST_BASE:
            return self._together(tips[:1], depth)
        known = self._made.get(tips)
        if known is None:
            known = self._made[tips] = self._join(tips, depth)
        return known

    def _join(self, tips: tuple[str, ...], depth: int) -> Together:
        shared = self._graph.shared([tip] for tip in tips)
        clusters = self._clusters(tips, shared)
        if len(clusters) == 1 and len(tips) > 2:
            return self._fold(tips, depth)
        groups = clusters if len(clusters) > 1 else [(tip,) for tip in tips]
        return self._merged([self._together(group, depth) for group in groups], shared, depth)

    def _fold(self, tips: tuple[str, ...], depth: int) -> Together:
        done = self._together(tips[:1], depth)
        for tip in tips[1:]:
            shared = self._graph.shared([done.tips, [tip]])
            done = self._merged([done, self._together((tip,), depth)], shared, depth)
        return done

    def _clusters(self, tips: tuple[str, ...], shared: frozenset[str]) -> list[tuple[str, ...]]:
        """Tips that have more in common with one another than all have, together: they are merged first.

        Merged against the base of all, what they share would count once for each of them.
        """
        clusters: list[tuple[set[str], set[str]]] = []
        for tip in tips:
            own = set(self._graph.ancestors([tip]) - shared)
            members = {tip}
            apart = []
            for others, theirs in clusters:
                if own.isdisjoint(theirs):
                    apart.append((others, theirs))
                else:
                    members |= others
                    own |= theirs
            clusters = [*apart, (members, own)]
        return sorted(tuple(sorted(members)) for members, _ in clusters)

    def _merged(self, sides: Sequence[Together], shared: frozenset[str], depth: int) -> Together:
        since = self._graph.maximal(shared)
        base = self._together(since, depth + 1)
        moves = [self.moves(since, side.tips, side.files) for side in sides]
        merged = self._merge_files(base, sides, moves)
        files = {path: self._id(content) for path, content in merged.tree.items()}
        if merged.untouched:
            files = {**merged.untouched, **files}
        tips = tuple(sorted(tip for side in sides for tip in side.tips))
        return Together(files, tips, _went([*moves, merged.renamed], files))

    def _merge_files(self, base: Together, sides: Sequence[Together], moves: Sequence[Mapping[str, str]]) -> "_Merged":
        """Join boxes; where no file is new or moved, by looking only at those that differ, which gives the same."""
        differ = {path for side in sides for path, _ in base.files.items() ^ side.files.items()}
        if any(path not in side.files for side in sides for path in differ):  # what names a card that goes says so
            differ |= {path for path in base.files if names_cards(path)}
        if not any(moves) and differ <= base.files.keys() and self._is_safe(base):
            merged = self._merge(
                self._blobs(_only(base.files, differ)), [Side(self._blobs(_only(side.files, differ))) for side in sides]
            )
            if merged.tree.keys() <= differ:
                rest = {path: blob_id for path, blob_id in base.files.items() if path not in differ}
                return _Merged(merged.tree, merged.renamed, rest)
        merged = self._merge(
            self._blobs(base.files),
            [Side(self._blobs(side.files), moved) for side, moved in zip(sides, moves, strict=True)],
        )
        return _Merged(merged.tree, merged.renamed, {})

    def _is_safe(self, state: Together) -> bool:
        """Whether all names of a state are ones that every laptop can hold; what merging gave always has such."""
        return len(state.tips) != 1 or self._is_clean(state.tips[0])

    def _carried(self, tree: str) -> dict[str, str]:
        return {path: blob_id for path, blob_id in self._store.files(tree).items() if _carried(path)}

    def _blobs(self, files: Mapping[str, str]) -> dict[str, Blob]:
        return {path: Blob(blob_id, partial(self._bytes, blob_id)) for path, blob_id in files.items()}

    def _bytes(self, blob_id: str) -> bytes:
        data = self._new.get(blob_id)
        return self._store.blob(blob_id) if data is None else data

    def _id(self, content: Blob) -> str:
        if content.id not in self._new and not self._store.has(content.id):
            self._new[content.id] = content.read()
        return content.id


_carried = lru_cache(maxsize=1 << 17)(carried)


def follow(steps: Iterable[Mapping[str, str]], files: Mapping[str, str]) -> dict[str, str]:
    """Put recorded moves, oldest step first, together to moves that end in `files`; others are dropped."""
    at: dict[str, str] = {}
    came: dict[str, str] = {}
    every: dict[str, set[str]] = {}
    for step in steps:
        starts = [(came.get(old, old), new) for old, new in step.items()]
        for old, new in step.items():
            every.setdefault(old, set()).add(new)
            came.pop(old, None)
        for start, new in starts:
            at[start] = new
            came[new] = start
    whole: dict[str, str] = {}
    ends: set[str] = set()
    for start in sorted(at):
        end = at[start] if at[start] in files else _reach(start, every, files)
        if end is not None and end != start and end not in ends:
            whole[start] = end
            ends.add(end)
    return whole


def _only(files: Mapping[str, str], paths: Iterable[str]) -> dict[str, str]:
    return {path: files[path] for path in paths if path in files}


def _reach(start: str, every: Mapping[str, set[str]], files: Mapping[str, str]) -> str | None:
    """Where moves made side by side lead: the name that sorts first of those that are there."""
    seen: set[str] = set()
    todo = [start]
    while todo:
        path = todo.pop()
        if path not in seen:
            seen.add(path)
            todo.extend(every.get(path, ()))
    return min((path for path in seen - {start} if path in files), default=None)


def _went(moves: Sequence[Mapping[str, str]], files: Mapping[str, str]) -> dict[str, str]:
    return {old: new for side in moves for old, new in sorted(side.items()) if new in files and old not in files}
