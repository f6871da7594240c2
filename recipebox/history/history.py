"""What was recorded in a box, and recording: snapshots, states, and putting a state in place."""

import re
import time
from collections.abc import Callable, Collection, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from itertools import takewhile
from typing import Any, Literal

from recipebox.box import (
    Box,
    ChangedUnderneathError,
    MissingError,
    Scan,
    died,
    keep,
    kept,
    lock,
    mended,
    note_written,
    read_file,
    replace,
    scan,
    sweep,
)
from recipebox.history.apply import apply, passed_over, recover
from recipebox.history.editions import Edition, Entry, editions, log
from recipebox.history.graph import Graph
from recipebox.history.past import Gone, Written, find_words, gone
from recipebox.history.pending import catch_up, keep_pending, keep_torn, known_torn, pending
from recipebox.history.quiet import changed_since_quiet, is_quiet, keep_quiet
from recipebox.history.snapshot import SetAside, keep_new, standing
from recipebox.history.store import MAIN, Commit, HistoryError, Store, open_store, own_ref
from recipebox.history.undo import Deed, Undone, aside_paths, can_take_back, deeds, undo
from recipebox.history.view import Merge, Views
from recipebox.merge import RULE, Blob, MergedBox, Side, followed, merge_boxes
from recipebox.merge.following import marked_gone, names_cards

_TRIES = 3
_FEW = 200
_CLEAN, _SENT = "clean", "sent"
_ID = re.compile("[0-9a-f]{40}")


@dataclass(frozen=True, slots=True)
class Snapshot:
    """A recorded edit: its id, which paths it changed, which moved (old to new)."""

    id: str
    changed: tuple[str, ...]
    moves: Mapping[str, str]


class History:
    """The history of one box on one laptop. `torn` (set aside) and `on_disk` are from the last `snapshot`.

    `looked` is the box as it was found then, with what was put in place since; None where that is not known.
    """

    def __init__(self, box: Box, store: Store, merge: Merge = merge_boxes) -> None:
        self.box = box
        self.store = store
        self.graph = Graph(store.parents, store.step)
        clean = (kept(box, _CLEAN) or b"").decode("ascii", "replace")
        self.views = Views(store, self.graph, merge, [clean] if _ID.fullmatch(clean) else [])
        self.torn: tuple[SetAside, ...] = ()
        self._on_disk: Mapping[str, str] | None = None
        self.looked: Scan | None = None
        self._merge = merge

    @property
    def head(self) -> str | None:
        """The state the box was last recorded as, or brought to; None before the first snapshot."""
        return self.store.ref(MAIN)

    @property
    def on_disk(self) -> Mapping[str, str]:
        """What the last snapshot found on the disk: path to blob id."""
        if self._on_disk is None:
            self._on_disk = self.store.at(self.commit(self.head).tree) if self.head else {}
        return self._on_disk

    @property
    def own(self) -> str | None:
        """This laptop's last edit."""
        return self.store.ref(own_ref(self.box.laptop_id))

    @property
    def sent(self) -> str | None:
        """This laptop's last edit that went out to any place."""
        said = (kept(self.box, _SENT) or b"").decode("ascii", "replace")
        laptop, _, commit_id = said.partition(" ")
        return commit_id if laptop == self.box.laptop_id and self.store.has(commit_id) else None

    def note_sent(self) -> None:
        """Note that this laptop's last edit went out."""
        if self.own is not None:
            keep(self.box, _SENT, f"{self.box.laptop_id} {self.own}".encode(), settle=False)

    def set_aside(self) -> tuple[SetAside, ...]:
        """Torn cards as they stand in the box now: (path, why). Nothing is recorded."""
        found = scan(self.box)
        if is_quiet(self.box, found, self.head):
            return ()
        return standing(self.box, self.store, found, self._last_recorded()).set_aside

    def laid_aside(self) -> list[str]:
        """Paths that edits laid aside by an undone sync would change."""
        return aside_paths(self)

    def commit(self, commit_id: str) -> Commit:
        """A recorded state. Raises HistoryError."""
        return self.store.commit(commit_id)

    def files(self, commit_id: str | None) -> dict[str, str]:
        """Path to blob id of a recorded state; none for None."""
        return {} if commit_id is None else self.store.files(self.store.commit(commit_id).tree)

    def tree(self, commit_id: str | None) -> dict[str, Blob]:
        """The files of a recorded state, read when asked."""
        return self._blobs(self.files(commit_id))

    def text_at(self, commit_id: str, path: str) -> bytes | None:
        """The bytes of a file in a recorded state, or None. Raises HistoryError."""
        recorded = self.store.entry(self.store.commit(commit_id).tree, path)
        return None if recorded is None else self.store.blob(recorded)

    def snapshot(
        self, why: str, data: Mapping[str, Any] | None = None, as_is: Collection[str] = (), even_if_same: bool = False
    ) -> Snapshot | None:
        """Record what stands in the box; None if nothing changed (unless `even_if_same`).

        `data` goes into the message for other laptops and later. Torn cards are not recorded, save those in `as_is`;
        `torn` names them. What a command ("command" in `data`) wrote since the last snapshot is not torn, however
        short. Raises BoxError and HistoryError.
        """
        with lock(self.box):
            self.recover()
            torn = known_torn(self.box)
            written = data is not None and "command" in data

            def trusted(path: str) -> bool:
                return path in as_is or (written and path not in torn)

            for _ in range(_TRIES - 1):
                with suppress(ChangedUnderneathError):
                    return self._record(why, data or {}, trusted, even_if_same)
            return self._record(why, data or {}, trusted, even_if_same)

    def view(self, edits: Collection[str]) -> str:
        """The commit that holds what all these edits come to, alike on every laptop. Raises HistoryError for none."""
        with self.store.at_once():
            found = self.views.view(edits, self.head)
        if self.views.looked_at_all:  # else the tree kept before still tells as much
            keep(self.box, _CLEAN, self.commit(found).tree.encode(), settle=False)
            self.views.looked_at_all = False
        return found

    def put(self, to: str) -> list[str]:
        """Make the box what commit `to` holds; the paths that changed. The last snapshot says what lies on disk.

        Raises ChangedUnderneathError if a file was written since that snapshot: take a new one and start over.
        """
        with lock(self.box):
            before = self.head
            passed = passed_over(self.store, before, to, self.on_disk)
            if passed:
                keep_pending(self.box, {**passed, **pending(self.box)})
            changed = apply(self.box, self.store, to, self.on_disk)
            self._note_put(before, to, changed)
            return changed

    def _note_put(self, before: str | None, to: str, changed: Collection[str]) -> None:
        """Let the next snapshot know what we wrote ourselves, so that it need not look at everything."""
        found, self.looked = self.looked, None
        if found is None or before is None or len(changed) > _FEW or not is_quiet(self.box, found, before):
            return
        tree = self.commit(to).tree
        written = {path: self.store.entry(tree, path) for path in changed}
        self.looked = note_written(self.box, found, written)
        keep_quiet(self.box, self.looked, to)

    def recover(self) -> None:
        """Mend what a killed process left: half-applied states, half-written objects, an edit without its ref."""
        with lock(self.box):
            recover(self.box, self.store)
            if died(self.box):
                self.store.sweep()
                mended(self.box)
            head = self.head
            if head and self.store.commit(head).message.laptop_id == self.box.laptop_id:
                own = self.own
                if own is None or (own != head and own in self.graph.ancestors([head])):
                    self.note_own(head)

    def laptops(self) -> list[tuple[str, str]]:
        """The last known edits of each laptop: laptop id and commit id. A cloned laptop may have several."""
        return sorted((name.split("/")[2], target) for name, target in self.store.refs("refs/laptops/").items())

    def heads(self) -> frozenset[str]:
        """All last known edits, this laptop's too."""
        return frozenset(self.store.refs("refs/laptops/").values())

    def note_own(self, commit_id: str) -> None:
        """Note this laptop's last edit. One that it does not build on stays known too."""
        own = self.own
        self.store.set_ref(own_ref(self.box.laptop_id), commit_id)
        if own is not None:
            self.note_laptop(self.box.laptop_id, own)

    def note_laptop(self, laptop_id: str, commit_id: str) -> None:
        """Note an edit of a laptop, unless it is known; what came before it is covered by it."""
        known = self.store.refs(f"refs/laptops/{laptop_id}/")
        if any(commit_id in self.graph.ancestors([tip]) for tip in known.values()):
            return
        before = self.graph.ancestors([commit_id])
        covered = [name for name, tip in known.items() if tip in before]
        own = own_ref(laptop_id)
        # Two edits of one laptop with neither before the other: its disk was cloned, or set back to an older state.
        # Both are somebody's work. Nobody but this laptop says what its own last edit is.
        mine = laptop_id == self.box.laptop_id
        free = (own not in known or own in covered) and not mine
        self.store.set_ref(own if free else f"refs/laptops/{laptop_id}/also/{commit_id[:12]}", commit_id)
        for name in covered:
            if name != own or not (free or mine):
                self.store.set_ref(name, None)

    def log(self, path: str) -> list[Entry]:
        """Each recorded change of a card, newest first, along its moves."""
        return log(self, path)

    def editions(self, path: str) -> list[Edition]:
        """The editions of a card, oldest first, with numbers that are alike on every laptop."""
        return editions(self, path)

    def find(self, words: str, path: str | None = None) -> list[Written]:
        """Lines with all the words in any text ever recorded, oldest first."""
        return find_words(self, words, path)

    def gone(self) -> list[Gone]:
        """Files that were recorded once and are not in the box now."""
        return gone(self)

    def undoable(self) -> list[Deed]:
        """What `undo` would take back, the next one first; nothing from a sync on that can no longer be laid aside."""
        return list(takewhile(lambda deed: can_take_back(self, deed), deeds(self)))

    def undo(self, dry_run: bool = False) -> Undone:
        """Take back the last command or sync. Raises NothingToUndoError or CannotUndoError."""
        return undo(self, dry_run)

    def bring_back(self, path: str, commit_id: str, was: str | None = None) -> Snapshot | None:
        """Make a file what it was in a recorded state, there called `was`, also where it is torn or gone now.

        Paths that it names are those of today where cards moved since. None if it already is so. Raises HistoryError if
        that state does not have the file.
        """
        text = self.text_at(commit_id, was or path)
        if text is None:
            raise HistoryError("was not in the box then", was or path)
        with lock(self.box):
            self.snapshot("Edited by hand")
            keep_pending(self.box, {other: was for other, was in pending(self.box).items() if other != path})
            for moved in self._moves_since(commit_id):
                text = followed(text, path, moved)
            try:
                now: bytes | None = read_file(self.box, path)
            except MissingError:
                now = None
            if now != text:
                replace(self.box, path, text, now)
            facts = {"command": "bring-back", "brought_back": {"path": path, "id": commit_id}}
            return self.snapshot(f"Brought back {path}", facts, as_is=[path])

    def _moves_since(self, commit_id: str) -> list[Mapping[str, str]]:
        """What moved in each edit that builds on a recorded state or came beside it, oldest first."""
        head = self.head
        later = self.graph.ancestors([head]) - self.graph.ancestors([commit_id]) if head else frozenset()
        return [self.commit(one).message.moves for one in self.graph.oldest_first(later)]

    def merge(self, base: Mapping[str, Blob], sides: Sequence[Side]) -> MergedBox:
        """Join states by the merge this history was opened with."""
        return self._merge(base, sides)

    def ids(self, merged: MergedBox) -> dict[str, str]:
        """Store what a merge made: path to blob id."""
        for blob in merged.tree.values():
            if not self.store.has(blob.id):
                self.store.put_blob(blob.read())
        return {path: blob.id for path, blob in merged.tree.items()}

    def record_tree(
        self, files: Mapping[str, str], why: str, data: Mapping[str, Any], moves: Mapping[str, str] | None = None
    ) -> str:
        """Record files as this laptop's edit on the head without touching the disk; follow with `put`."""
        return self._commit(self.store.put_tree(files), why, data, moves or {})

    def _record(
        self, why: str, data: Mapping[str, Any], as_is: Callable[[str], bool], even_if_same: bool
    ) -> Snapshot | None:
        head = self.head
        found = scan(self.box)
        self.looked = found
        if not even_if_same and is_quiet(self.box, found, head):
            self.torn, self._on_disk = (), None
            return None
        few = None if head is None else changed_since_quiet(self.box, found, head)
        if head is not None and few is not None:
            quick = self._record_changed(head, found, few, why, data, as_is, even_if_same)
            if quick is not False:
                return quick
        before = self.files(head)
        state = standing(self.box, self.store, found, self._last_recorded(), as_is)
        self.torn = state.set_aside
        keep_torn(self.box, (path for path, _ in state.set_aside))
        sweep(self.box, state.leftovers)
        keep_new(self.box, self.store, state)
        files = catch_up(self.box, self.store, self.merge, state, before)
        gone = before.keys() - files.keys() - state.moves.keys()
        for path in sorted(files) if state.moves or gone else ():
            if names_cards(path):
                before_moves = self.store.blob(files[path])
                text = marked_gone(followed(before_moves, path, state.moves), path, gone)
                if text != before_moves and state.on_disk.get(path) == files[path]:
                    replace(self.box, path, text, before_moves)
                    files[path] = state.on_disk[path] = self.store.put_blob(text)
        self._on_disk = state.on_disk
        if files == before and not even_if_same:
            if head is not None and state.quiet and files == state.on_disk:
                keep_quiet(self.box, found, head)
            return None
        tree = self.store.put_tree(files)
        made = self._commit(tree, why, data, state.moves)
        self.store.set_ref(MAIN, made)
        self.note_own(made)
        if state.quiet and files == state.on_disk == state.files:
            keep_quiet(self.box, found, made)
        changed = self.store.changes(self.store.commit(head).tree if head else None, tree)
        return Snapshot(made, tuple(changed), state.moves)

    def _record_changed(
        self,
        head: str,
        found: Scan,
        few: Collection[str],
        why: str,
        data: Mapping[str, Any],
        as_is: Callable[[str], bool],
        even_if_same: bool,
    ) -> Snapshot | Literal[False] | None:
        """Record as `_record` does, looking only at the `few` files that may differ from the head.

        False where more must be looked at: moves, files that went, torn ones.
        """
        tree = self.commit(head).tree
        before = {path: was for path in few if (was := self.store.entry(tree, path)) is not None}
        part = found._replace(files={path: found.files[path] for path in few if path in found.files})
        state = standing(self.box, self.store, part, before, as_is)
        if state.moves or not state.quiet or before.keys() - state.files.keys():
            return False
        self.torn, self._on_disk = (), None
        changed = {path: state.files.get(path) for path in before.keys() | state.files.keys()}
        changed = {path: now for path, now in changed.items() if now != before.get(path)}
        if not changed and not even_if_same:
            keep_quiet(self.box, found, head)
            return None
        with self.store.at_once():
            keep_new(self.box, self.store, state)
            made = self.store.tree_with(tree, changed)
            commit = self._commit(made, why, data, {})
        self.store.set_ref(MAIN, commit)
        self.note_own(commit)
        keep_quiet(self.box, found, commit)
        return Snapshot(commit, tuple(self.store.changes(tree, made)), {})

    def _blobs(self, files: Mapping[str, str]) -> dict[str, Blob]:
        return {path: Blob(recorded, partial(self.store.blob, recorded)) for path, recorded in files.items()}

    def _commit(self, tree: str, why: str, data: Mapping[str, Any], moves: Mapping[str, str]) -> str:
        head = self.head
        facts = dict(data)
        facts.update(
            moves=sorted(map(list, moves.items())),
            rule=RULE,
            laptop={"id": self.box.laptop_id, "name": self.box.laptop},
        )
        if head is None:
            facts["box"] = self.box.box_id
        parents = () if head is None else (head,)
        return self.store.put_commit(tree, parents, why, facts, self.box.laptop, self.box.laptop_id, int(time.time()))

    def _last_recorded(self) -> dict[str, str]:
        """What each file was recorded as when it was last what the disk held."""
        recorded = {**self.files(self.head), **pending(self.box)}
        return {path: blob for path, blob in recorded.items() if blob is not None}


def open_history(box: Box) -> History:
    """Open a box's history, making it if there is none. Raises HistoryError."""
    return History(box, open_store(box.hidden))
