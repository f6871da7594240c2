"""Meeting the other laptops: gather at every place, see what it all comes to, put it in place, leave our own."""

import shutil
import tempfile
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from recipebox.box import Box, BoxError, ChangedUnderneathError, MissingError, lock, read_file
from recipebox.cards.kinds import could_be_card
from recipebox.history import History, SetAside, laid_aside, lay_aside, note_sync, open_history, tidy
from recipebox.merge import Blob
from recipebox.sync.address import NotThereError, PersonNeededError, PlaceError, is_address, read_address
from recipebox.sync.asked import Asked
from recipebox.sync.boxes import place_and_box
from recipebox.sync.boxthere import BoxThere, cards
from recipebox.sync.brake import LET_IN, LET_OUT, removal_in_unsent
from recipebox.sync.changed import GONE, Change, what_came
from recipebox.sync.gathered import Gathered, Say, Step
from recipebox.sync.gathering import become_another, join_box
from recipebox.sync.memory import PlaceMemory, remember, remember_stop, remembered
from recipebox.sync.outcome import NEWER_RULE, NOT_THERE, OTHER_BOX, REFUSED, Outcome, PlaceOutcome
from recipebox.sync.places import Place, open_place
from recipebox.sync.questions import open_questions, questions
from recipebox.sync.removal import IN, OUT, Stopped, big_removal

_TRIES = 5
_WHY = "Edited by hand"


def meet(
    box: Box,
    place: str | None = None,
    *,
    dry_run: bool = False,
    yes: bool = False,
    over: Collection[str] = (),
    take_aside: bool = False,
    as_is: Collection[str] = (),
    join: bool = False,
    at_terminal: bool = False,
    say: Say = lambda line: None,
    progress: Step = lambda done, of: None,
) -> Outcome:
    """Sync a box at one place, or at all that are remembered; a place typed is remembered.

    What is asked is told at `Asked`; `yes` is all of `over` and `take_aside`. Raises BoxError, HistoryError or
    LockedError; a place that fails is told in the outcome, the others are met.
    """
    if place is not None:
        place = checked_place(box, place)
    over = frozenset({IN, OUT} if yes else over)
    asked = Asked(dry_run, over, yes or take_aside, frozenset(as_is), join, at_terminal)
    with lock(box):
        if not (join and dry_run):
            return _Meeting(box, place, asked, say, progress).run()
        # The other box's states are only looked at, in a copy: once known here they would be part of this box.
        with tempfile.TemporaryDirectory() as folder:
            hidden = Path(shutil.copytree(box.hidden, Path(folder) / "hidden"))
            return _Meeting(replace(box, hidden=hidden), place, asked, say, progress).run()


def checked_place(box: Box, place: str) -> str:
    """A place as it is remembered. Raises PlaceError for an address that is none, or a folder in or around the box."""
    if is_address(place):
        return read_address(place).typed
    folder = Path(place_and_box(place)[0]).expanduser().resolve()
    root = box.root.resolve()
    if folder == root or root in folder.parents or folder in root.parents:
        raise PlaceError("a meeting place must lie outside the box, and not around it", place, "choose another folder")
    return str(folder)


def last_met(box: Box) -> str | None:
    """When this laptop last met others, for display; None if it never did."""
    from datetime import UTC, datetime

    path = box.hidden / "places"
    if not remembered(box) or not path.exists():
        return None
    return datetime.fromtimestamp(int(path.stat().st_mtime), UTC).isoformat()


@dataclass(slots=True)
class _Came:
    paths: tuple[str, ...] = ()
    undecided: tuple[tuple[str, str], ...] = ()
    here: tuple[Change, ...] = ()
    stopped: Stopped | None = None


class _Meeting:
    def __init__(self, box: Box, place: str | None, asked: Asked, say: Say, progress: Step) -> None:
        self.history: History = open_history(box)
        self.typed = place
        self.asked = asked
        self.say, self.progress = say, progress
        self.places: dict[str, PlaceMemory] = remembered(box)
        self.results: dict[str, PlaceOutcome] = {}
        self.gathered: dict[str, tuple[Place, Gathered]] = {}
        self.set_aside: tuple[SetAside, ...] = ()
        self.without_question: Collection[str] = ()

    @property
    def box(self) -> Box:
        return self.history.box

    def run(self) -> Outcome:
        self._look_at_torn()
        self._snapshot()
        for place in [self.typed] if self.typed else list(self.places):
            self._gather(place)
        newer = any(result.state == NEWER_RULE for result in self.results.values())
        if self.asked.take_aside and not newer and not self.asked.dry_run:
            lay_aside(self.box, frozenset())
        # With nobody met there is nothing new to put in place, save what waited here for a person's word.
        met = any(result.met for result in self.results.values())
        came = self._take_in() if not newer and (met or self.asked.take_aside) else _Came()
        out = self._brake_out()
        sent = self._leave() if out is None else ()
        self._remember(out or came.stopped)
        if not self.asked.dry_run:
            tidy(self.history.store)
        return Outcome(
            tuple(self.results.values()),
            came.paths,
            _paths(sent),
            came.undecided,
            open_questions(self.history, self.without_question),
            tuple(self.history.laid_aside()),
            self.set_aside,
            out or came.stopped,
            came.here,
            sent,
            self.history.looked,
        )

    def _look_at_torn(self) -> None:
        """Raises BoxError where a card is to be recorded as it is and does not lie there."""
        for path in sorted(self.asked.as_is):
            try:
                read_file(self.box, path)
            except MissingError as error:
                raise BoxError("is not in the box, so it cannot be recorded", path, "check the name") from error

    def _snapshot(self, why: str = _WHY, question: str | None = None, answers: Sequence[str] = ()) -> None:
        """Record the box. An answer to a question of sync stands in the message of the edit that it let through."""
        data = {question: list(answers)} if question else {}
        self.history.snapshot(why, data, self.asked.as_is, even_if_same=question is not None)
        self.set_aside = self.history.torn

    def _gather(self, place: str) -> None:
        try:
            meeting_place = self._open(place)
            why = meeting_place.unreachable()
            if why or (not meeting_place.there() and place != self.typed):
                self.results[place] = PlaceOutcome(place, NOT_THERE, (), why)
                return
            others = [] if meeting_place.there() else meeting_place.boxes()
            if others:
                if not self._joined(place, others):
                    return
                meeting_place = self._open(place)
            self._read(place, meeting_place)
        except PlaceError as error:
            self._failed(place, error)

    def _open(self, place: str) -> Place:
        return open_place(place, self.box.box_id, self.asked.at_terminal)

    def _failed(self, place: str, error: PlaceError) -> None:
        state = NOT_THERE if isinstance(error, NotThereError) else REFUSED
        self.results[place] = PlaceOutcome(place, state, (), str(error), isinstance(error, PersonNeededError))

    def _joined(self, place: str, others: Sequence[BoxThere]) -> bool:
        """Whether the other box found here may be met, now or from now on."""
        if self.asked.join and len(others) == 1:
            self.history.box = join_box(self.box, others[0].box_id)
            self.places = {}
            return True
        found = ", ".join(f"{there.box_id[:4]} with {there.said}" for there in others)
        ours = sum(could_be_card(path) for path in self.history.files(self.history.head))
        why = f"here lies another box: {found}; yours is {self.box.box_id[:4]} with {cards(ours)}"
        self.results[place] = PlaceOutcome(place, OTHER_BOX, (), why)
        return False

    def _read(self, place: str, meeting_place: Place) -> None:
        memory = self.places.setdefault(place, PlaceMemory())
        written = {sha: tips for other in self.places.values() for sha, tips in other.own.items()}
        found = meeting_place.gather(self.history, memory, written, self.progress)
        if found.strange and not self.asked.dry_run:
            self.history.box = become_another(self.history, self.box)
            for other in self.places.values():
                other.own, other.number = {}, 0
            self.say("another computer uses this laptop's mark, as a copied disk does: this one has a new mark now")
            found = meeting_place.gather(self.history, memory, {}, self.progress)
        self.gathered[place] = meeting_place, found
        self.results[place] = PlaceOutcome(place, found.state, tuple(found.waits_for), found.why)

    def _view(self) -> str | None:
        """What all known edits come to, save those laid aside."""
        aside = laid_aside(self.box)
        heads = self.history.heads()
        if aside:
            kept = self.history.graph.without(heads, aside)
            heads = frozenset(c for c in kept if not self.history.commit(c).message.facts.get("view"))
        return self.history.view(heads) if heads else None

    def _take_in(self) -> _Came:
        for _ in range(_TRIES):
            came = self._try_to_take_in()
            if came is not None:
                return came
            self._snapshot()
        raise ChangedUnderneathError("cards are being changed all the time", str(self.box.root), "try again later")

    def _try_to_take_in(self) -> _Came | None:
        view, head = self._view(), self.history.head
        if view is None or view == head:
            return _Came()
        store = self.history.store
        tree = None if head is None else self.history.commit(head).tree
        changes = store.changes(tree, self.history.commit(view).tree)
        here = what_came(self.history, head, view, changes)
        stopped = self._too_much(head, here)
        if stopped and IN not in self.asked.over:
            return _Came(stopped=stopped)
        if stopped and not self.asked.dry_run:
            self._snapshot(f"Let a sync take away {stopped.why}", LET_IN, [stopped.why])
            head, view = self.history.head, self._view() or view
        before = {path: _blob(self.history, was) for path, (was, _) in changes.items() if was}
        after = {path: _blob(self.history, now) for path, (_, now) in changes.items() if now}
        asked = questions(after, after)
        new = asked - questions(before, before)
        asking = {path.partition("#")[0] for path, _, _ in asked}
        self.without_question = {blob.id for path, blob in after.items() if path not in asking}
        undecided = tuple(sorted((path, about) for path, about, _ in new))
        if self.asked.dry_run:
            return _Came(tuple(sorted(changes)), undecided, here)
        came = self.history.graph.ancestors([view]) - self.history.graph.ancestors([head] if head else [])
        try:
            put = frozenset(self.history.put(view))
        except ChangedUnderneathError:
            return None
        if came - {view} or not self.history.commit(view).message.facts.get("view"):
            note_sync(self.history, head, view, sorted(came))
        return _Came(tuple(sorted(put)), undecided, tuple(change for change in here if change.path in put))

    def _too_much(self, head: str | None, here: Sequence[Change]) -> Stopped | None:
        """What stops the sync because it would take away so much."""
        gone = [change for change in here if change.what == GONE]
        if not gone or head is None:
            return None
        before = self.history.tree(head)
        stopped = big_removal(before, _paths(gone), lambda path: before[path].read())
        return stopped and replace(stopped, laptops=tuple(sorted({name for change in gone for name in change.laptops})))

    def _brake_out(self) -> Stopped | None:
        """What holds our own edits back: they would take too much away from the others."""
        stopped = removal_in_unsent(self.history)
        if stopped is None or OUT not in self.asked.over:
            return stopped
        if not self.asked.dry_run:
            self._snapshot(f"Let a sync take away {stopped.why} from the others", LET_OUT, [stopped.why])
        return None

    def _leave(self) -> tuple[Change, ...]:
        went: dict[str, Change] = {}
        left = False
        dry_run = self.asked.dry_run
        for place, (there, found) in self.gathered.items():
            try:
                sent = there.leave(self.history, self.places[place], found, self._remember, dry_run)
            except PlaceError as error:
                self._failed(place, error)
            else:
                went |= {change.path: change for change in sent}
                left = True
        if left and not dry_run and self.history.own != self.history.sent:
            self.history.note_sent()
        return tuple(change for _, change in sorted(went.items()))

    def _remember(self, stopped: Stopped | None = None) -> None:
        if not self.asked.dry_run and self.gathered:
            remember(self.box, self.places)
            remember_stop(self.box, stopped)


def _paths(changes: Sequence[Change]) -> tuple[str, ...]:
    return tuple(change.path for change in changes)


def _blob(history: History, blob_id: str) -> Blob:
    return Blob(blob_id, partial(history.store.blob, blob_id))
