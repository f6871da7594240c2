"""Meeting the other laptops: gather at every place, see what it all comes to, put it in place, leave our own."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from recipebox.box import Box, ChangedUnderneathError, lock
from recipebox.cards.kinds import could_be_card
from recipebox.history import History, SetAside, laid_aside, lay_aside, note_sync, open_history, tidy
from recipebox.merge import Blob
from recipebox.sync.address import NotThereError, PersonNeededError, PlaceError, is_address, read_address
from recipebox.sync.boxes import place_and_box
from recipebox.sync.boxthere import BoxThere
from recipebox.sync.brake import LET_IN, LET_OUT, removal_in_unsent
from recipebox.sync.gathered import Gathered, Say, Step
from recipebox.sync.gathering import become_another, join_box
from recipebox.sync.memory import PlaceMemory, remember, remembered
from recipebox.sync.outcome import NEWER_RULE, NOT_THERE, OTHER_BOX, REFUSED, Outcome, PlaceOutcome
from recipebox.sync.places import Place, open_place
from recipebox.sync.questions import open_questions, questions
from recipebox.sync.removal import Stopped, big_removal

_TRIES = 5
_WHY = "Edited by hand"


def meet(
    box: Box,
    place: str | None = None,
    *,
    dry_run: bool = False,
    yes: bool = False,
    as_is: Collection[str] = (),
    join: bool = False,
    at_terminal: bool = False,
    say: Say = lambda line: None,
    progress: Step = lambda done, of: None,
) -> Outcome:
    """Sync a box at one place, or at all that are remembered; a place typed is remembered.

    `dry_run`: what would come and go, nothing put in place or left. `yes`: go on over the brake, and take in what was
    laid aside. `as_is`: torn cards to record as they are. `join`: make the box found there and ours one.
    `at_terminal`: ssh or git may ask the user about a server's key or a password. Raises BoxError, HistoryError or
    LockedError; a place that fails is told in the outcome, the others are met.
    """
    if place is not None:
        place = checked_place(box, place)
    with lock(box):
        return _Meeting(box, place, dry_run, yes, frozenset(as_is), join, at_terminal, say, progress).run()


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
    stopped: Stopped | None = None


class _Meeting:
    def __init__(
        self,
        box: Box,
        place: str | None,
        dry_run: bool,
        yes: bool,
        as_is: Collection[str],
        join: bool,
        at_terminal: bool,
        say: Say,
        progress: Step,
    ) -> None:
        self.history: History = open_history(box)
        self.typed = place
        self.dry_run, self.yes, self.as_is, self.join = dry_run, yes, as_is, join
        self.at_terminal = at_terminal
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
        self._snapshot()
        for place in [self.typed] if self.typed else list(self.places):
            self._gather(place)
        newer = any(result.state == NEWER_RULE for result in self.results.values())
        if self.yes and not newer and not self.dry_run:
            lay_aside(self.box, frozenset())
        came = _Came() if newer else self._take_in()
        out = self._brake_out()
        went = self._leave() if out is None else ()
        self._remember()
        if not self.dry_run:
            tidy(self.history.store)
        return Outcome(
            tuple(self.results.values()),
            came.paths,
            went,
            came.undecided,
            open_questions(self.history, self.without_question),
            tuple(self.history.laid_aside()),
            self.set_aside,
            out or came.stopped,
        )

    def _snapshot(self, why: str = _WHY, question: str | None = None, answers: Sequence[str] = ()) -> None:
        """Record the box. An answer to a question of sync stands in the message of the edit that it let through."""
        data = {question: list(answers)} if question else {}
        self.history.snapshot(why, data, self.as_is, even_if_same=question is not None)
        self.set_aside = self.history.torn

    def _gather(self, place: str) -> None:
        try:
            meeting_place = self._open(place)
            if not meeting_place.reachable() or (not meeting_place.there() and place != self.typed):
                self.results[place] = PlaceOutcome(place, NOT_THERE)
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
        return open_place(place, self.box.box_id, self.at_terminal)

    def _failed(self, place: str, error: PlaceError) -> None:
        state = NOT_THERE if isinstance(error, NotThereError) else REFUSED
        self.results[place] = PlaceOutcome(place, state, (), str(error), isinstance(error, PersonNeededError))
        self.say(str(error) if error.where else f"{place}: {error}")

    def _joined(self, place: str, others: Sequence[BoxThere]) -> bool:
        """Whether the other box found here may be met, now or from now on."""
        if self.join and len(others) == 1 and not self.dry_run:
            self.history.box = join_box(self.box, others[0].box_id)
            self.places = {}
            return True
        found = ", ".join(f"{there.box_id[:4]} with {there.said}" for there in others)
        ours = sum(could_be_card(path) for path in self.history.files(self.history.head))
        why = f"here lies another box: {found}; yours is {self.box.box_id[:4]} with {ours} cards"
        self.results[place] = PlaceOutcome(place, OTHER_BOX, (), why)
        self.say(f"{place}: {why}; to put them together add --join")
        return False

    def _read(self, place: str, meeting_place: Place) -> None:
        memory = self.places.setdefault(place, PlaceMemory())
        written = {sha: tips for other in self.places.values() for sha, tips in other.own.items()}
        found = meeting_place.gather(self.history, memory, written, self.progress)
        if found.strange and not self.dry_run:
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
        stopped = self._too_much(head, view, changes)
        if stopped and not self.yes:
            return _Came(stopped=stopped)
        if stopped and not self.dry_run:
            self._snapshot(f"Let a sync take away {stopped.why}", LET_IN, [stopped.why])
            head, view = self.history.head, self._view() or view
        before = {path: _blob(self.history, was) for path, (was, _) in changes.items() if was}
        after = {path: _blob(self.history, now) for path, (_, now) in changes.items() if now}
        asked = questions(after, after)
        new = asked - questions(before, before)
        asking = {path.partition("#")[0] for path, _, _ in asked}
        self.without_question = {blob.id for path, blob in after.items() if path not in asking}
        undecided = tuple(sorted((path, about) for path, about, _ in new))
        if self.dry_run:
            return _Came(tuple(sorted(changes)), undecided)
        came = self.history.graph.ancestors([view]) - self.history.graph.ancestors([head] if head else [])
        try:
            paths = self.history.put(view)
        except ChangedUnderneathError:
            return None
        if came - {view} or not self.history.commit(view).message.facts.get("view"):
            note_sync(self.history, head, view, sorted(came))
        return _Came(tuple(paths), undecided)

    def _too_much(
        self, head: str | None, view: str, changes: Mapping[str, tuple[str | None, str | None]]
    ) -> Stopped | None:
        """What stops the sync because it would take away so much."""
        gone = [path for path, (_, now) in changes.items() if now is None]
        if not gone or head is None:
            return None
        moved = self.history.views.moves([head], [view], self.history.files(view))
        before = self.history.tree(head)
        return big_removal(before, [path for path in gone if path not in moved], lambda path: before[path].read())

    def _brake_out(self) -> Stopped | None:
        """What holds our own edits back: they would take too much away from the others."""
        stopped = removal_in_unsent(self.history)
        if stopped is None or not self.yes:
            return stopped
        if not self.dry_run:
            self._snapshot(f"Let a sync take away {stopped.why} from the others", LET_OUT, [stopped.why])
        return None

    def _leave(self) -> tuple[str, ...]:
        went: set[str] = set()
        left = False
        for place, (there, found) in self.gathered.items():
            try:
                went.update(there.leave(self.history, self.places[place], found, self._remember, self.dry_run))
                left = True
            except PlaceError as error:
                self._failed(place, error)
        if left and not self.dry_run and self.history.own != self.history.sent:
            self.history.note_sent()
        return tuple(sorted(went))

    def _remember(self) -> None:
        if not self.dry_run and self.gathered:
            remember(self.box, self.places)


def _blob(history: History, blob_id: str) -> Blob:
    return Blob(blob_id, partial(history.store.blob, blob_id))
