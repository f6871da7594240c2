"""A family's laptops in memory: the same merge and the same rules of publishing as the real ones, and no disk.

`Views` and `Graph` are the real ones; objects lie in a dict that all laptops share, a meeting place is a list of last
edits for each laptop. What the twin leaves out: bundles and packs, torn files, the journal, the brake.
"""

import itertools
from collections.abc import Mapping
from typing import Any

from recipebox.cards.blobs import blob_id
from recipebox.history.graph import Graph
from recipebox.history.message import read_message, write_message
from recipebox.history.store import Commit
from recipebox.history.view import Views
from recipebox.merge import RULE, Blob, Side, followed, merge_boxes, moves
from recipebox.merge.following import marked_gone, names_cards
from tests.machines.laptops import Home, World


class Memory:
    """Objects and recorded states, with the calls that `Views` needs of a store."""

    def __init__(self) -> None:
        self.blobs: dict[str, bytes] = {}
        self.trees: dict[str, dict[str, str]] = {}
        self.commits: dict[str, Commit] = {}

    def commit(self, commit_id: str) -> Commit:
        return self.commits[commit_id]

    def blob(self, identity: str) -> bytes:
        return self.blobs[identity]

    def has(self, identity: str) -> bool:
        return identity in self.blobs or identity in self.trees

    def put_blob(self, data: bytes) -> str:
        identity = blob_id(data)
        self.blobs[identity] = data
        return identity

    def put_tree(self, files: Mapping[str, str]) -> str:
        identity = blob_id(repr(sorted(files.items())).encode())
        self.trees[identity] = dict(files)
        return identity

    def files(self, tree: str) -> dict[str, str]:
        return dict(self.trees[tree])

    def plain(self, tree: str, known: str = "") -> bool:
        return True

    def changes(self, before: str, after: str) -> dict[str, tuple[str | None, str | None]]:
        old, new = self.trees[before], self.trees[after]
        return {p: (old.get(p), new.get(p)) for p in old.keys() | new.keys() if old.get(p) != new.get(p)}

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
        text = write_message(why, facts)
        step = 1 + max((self.commits[parent].step for parent in parents), default=0)
        identity = blob_id(repr((tree, parents, text, author, when, step)).encode())
        self.commits[identity] = Commit(identity, parents, tree, read_message(text), author, when, step)
        return identity


class Twin(World):
    """The family. Its places: one where everything arrives at once, one where a file may arrive later."""

    def __init__(self) -> None:
        self.store = Memory()
        self.graph = Graph(lambda one: self.store.commit(one).parents, lambda one: self.store.commit(one).step)
        self.views = Views(self.store, self.graph)  # type: ignore[arg-type]  # it has all the calls that are made
        self.clock = itertools.count(1_700_000_000)
        self.lying: list[dict[str, tuple[str, ...]]] = [{}, {}]
        self.number = 0

    def first(self, files: Mapping[str, bytes]) -> Home:
        home = self._home()
        home.texts.update(files)
        return home

    def another(self, place: int) -> Home:
        home = self._home()
        home.sync(place, True)
        return home

    def close(self) -> None:
        pass

    def _home(self) -> "TwinHome":
        self.number += 1
        return TwinHome(self, f"{self.number}" * 16)


class TwinHome(Home):
    """One laptop. `own` are its last edits, `heads` all last edits it knows."""

    def __init__(self, twin: Twin, laptop_id: str) -> None:
        self.twin, self.laptop_id = twin, laptop_id
        self.texts: dict[str, bytes] = {}
        self.head: str | None = None
        self.own: str | None = None
        self.known: set[str] = set()
        self.aside: frozenset[str] = frozenset()
        self.synced: tuple[str, str, str | None, frozenset[str]] | None = None

    def files(self) -> dict[str, bytes]:
        return dict(self.texts)

    def put(self, path: str, data: bytes | None) -> None:
        if data is None:
            self.texts.pop(path, None)
        else:
            self.texts[path] = data

    def snapshot(self) -> None:
        store = self.twin.store
        files = {path: store.put_blob(data) for path, data in self.texts.items()}
        before = self._recorded()
        if files == before:
            return
        moved = dict(moves(before, files, store.blob))
        gone = before.keys() - files.keys() - moved.keys()
        for path in [path for path in files if (moved or gone) and names_cards(path)]:
            self.texts[path] = marked_gone(followed(self.texts[path], path, moved), path, gone)
            files[path] = store.put_blob(self.texts[path])
        facts = {"moves": sorted(map(list, moved.items())), "rule": RULE, "laptop": {"id": self.laptop_id, "name": "x"}}
        parents = () if self.head is None else (self.head,)
        when = next(self.twin.clock)
        made = store.put_commit(store.put_tree(files), parents, "Edited", facts, self.laptop_id, self.laptop_id, when)
        self.own = self.head = made
        self.known = set(self.twin.graph.maximal(self.known | {made}))

    def sync(self, place: int, yes: bool, few: int | None = None) -> None:
        self.snapshot()
        lying = self.twin.lying[place]
        for other, edits in sorted(lying.items())[:few]:
            if other != self.laptop_id:
                self.known.update(edits)
        self.known = set(self.twin.graph.maximal(self.known)) if self.known else set()
        if yes:
            self.aside = frozenset()
        self._take_in()
        if self.own is not None:
            lying[self.laptop_id] = tuple(sorted(self.known))

    def _take_in(self) -> None:
        heads = frozenset(self.known)
        graph, store = self.twin.graph, self.twin.store
        if self.aside:
            kept = graph.without(heads, self.aside)
            heads = frozenset(one for one in kept if not store.commit(one).message.facts.get("view"))
        if not heads:
            return
        view = self.twin.views.view(heads, self.head)
        if view == self.head:
            return
        came = graph.ancestors([view]) - graph.ancestors([self.head] if self.head else [])
        if self.head is not None and came - {view}:
            self.synced = (self.head, view, self.own, frozenset(came))
        self._stand_on(view)

    def undo_sync(self) -> None:
        self.snapshot()
        if self.synced is None or self.synced[1:3] != (self.head, self.own):
            return
        before, _, _, came = self.synced
        self.aside |= came
        self.synced = None
        self._stand_on(before)

    def undo_act(self, before: str | None, after: str) -> bool:
        """Take an own act back as `history.undo` does: a merge with the state after it as base."""
        self.snapshot()
        if before is None or self.head is None:
            return False
        store, views = self.twin.store, self.twin.views
        base, now, was = (self._blobs(one) for one in (after, self.head, before))
        moved = views.moves([after], [self.head], self._recorded())
        back = {new: old for old, new in store.commit(after).message.moves.items()}
        merged = merge_boxes(base, [Side(now, moved), Side(was, back)])
        self.texts = {path: blob.read() for path, blob in merged.tree.items()}
        self.snapshot()
        return True

    def remember(self, command: bool = False) -> str | None:
        self.snapshot()
        return self.head

    def knows(self, word: str) -> bool:
        reached = self.twin.graph.ancestors(self.known)
        seen = {blob for one in reached for blob in self.twin.store.files(self.twin.store.commit(one).tree).values()}
        return any(word.encode() in self.twin.store.blob(blob) for blob in seen)

    def state(self) -> str | None:
        return self.head

    def _stand_on(self, commit_id: str) -> None:
        store = self.twin.store
        self.head = commit_id
        self.texts = {p: store.blob(blob) for p, blob in store.files(store.commit(commit_id).tree).items()}

    def _recorded(self) -> dict[str, str]:
        store = self.twin.store
        return store.files(store.commit(self.head).tree) if self.head is not None else {}

    def _blobs(self, commit_id: str) -> dict[str, Blob]:
        store = self.twin.store
        files = store.files(store.commit(commit_id).tree)
        return {path: Blob(blob, lambda blob=blob: store.blob(blob)) for path, blob in files.items()}
