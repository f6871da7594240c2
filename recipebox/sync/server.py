"""A meeting place that is a git server: a branch for each laptop, and `main` with the merged box for people with git.

`laptops/<id>/own` is a laptop's last edit, `laptops/<id>/also/...` one that its last edit does not build on (a disk
that was set back), `laptops/<id>/via/<other id>` another's edit that it brings along. The tag `box-<box id>` tells
which box it is. Each laptop writes only branches under its own id, and `main`.
"""

import re
from collections.abc import Callable, Collection, Mapping
from contextlib import suppress

from recipebox.history import History, laid_aside
from recipebox.sync.address import PlaceError, read_address
from recipebox.sync.boxthere import BoxThere
from recipebox.sync.bundle import pack_of
from recipebox.sync.changed import Change, what_went
from recipebox.sync.channels import READING, WRITING, Channel, open_channel
from recipebox.sync.checking import NewerRuleError, RefusedError
from recipebox.sync.entries import DamagedError
from recipebox.sync.gathered import Gathered, Step, name_of
from recipebox.sync.gathering import judge, refusal_of
from recipebox.sync.memory import PlaceMemory, Refusal
from recipebox.sync.outcome import NEWER_RULE
from recipebox.sync.plan import plan_branches
from recipebox.sync.spool import Spool, TooLargeError
from recipebox.sync.take import take_pack
from recipebox.sync.wire import Greeting, SaysNoError, ask_for, read_greeting, read_pack, read_report, send

_BRANCH = re.compile(
    r"refs/heads/laptops/([0-9a-z]{4,64})/(?:own|also/[0-9a-f]{4,40}|via/([0-9a-z]{4,64})(?:-[0-9a-f]{4,40})?)"
)
_TAG = re.compile(r"refs/tags/box-([0-9a-z]{4,64})")
_MOST_HAVES = 200


class ServerPlace:
    """A box on a git server. Nothing is made before something is left. `at_terminal`: the user may be asked."""

    def __init__(self, place: str, box_id: str, at_terminal: bool = False) -> None:
        self.place = place
        self._address = read_address(place)
        self._box_id = box_id
        self._at_terminal = at_terminal
        self._greeting: Greeting | None = None
        self._channel: Channel | None = None

    def unreachable(self) -> str:
        """Nothing: whether a server answers shows when it is asked, as NotThereError."""
        return ""

    def there(self) -> bool:
        """Whether this box has been left here before. Raises PlaceError."""
        return any(found.box_id == self._box_id for found in self.boxes())

    def boxes(self, counted: bool = True) -> list[BoxThere]:
        """The boxes that lie here; their cards are not counted. Raises PlaceError where something else lies here."""
        refs = self._look().refs
        found = sorted(match[1] for name in refs if (match := _TAG.fullmatch(name)))
        if not found and any(_BRANCH.fullmatch(name) for name in refs):
            raise PlaceError("has changes of laptops but no tag box-... to tell of which box", self.place)
        if not found and refs:
            raise PlaceError("keeps something that is no recipe box", self.place, "make an empty repository for it")
        return [BoxThere(box_id, None) for box_id in found]

    def gather(
        self, history: History, memory: PlaceMemory, written: Mapping[str, tuple[str, ...]], progress: Step
    ) -> Gathered:
        """Take in all edits that are new here. Raises PlaceError."""
        refs = {name: commit for name, commit in self._look().refs.items() if _BRANCH.fullmatch(name)}
        found = Gathered(refs=refs)
        heads = history.heads()
        known = heads if heads.issuperset(refs.values()) else history.graph.ancestors(heads)
        mine = f"refs/heads/laptops/{history.box.laptop_id}/"
        found.strange = any(name.startswith(mine) and commit not in known for name, commit in refs.items())
        memory.refused = {commit: why for commit, why in memory.refused.items() if commit in refs.values()}
        new = {name: commit for name, commit in refs.items() if commit not in known and commit not in memory.refused}
        not_given: dict[str, SaysNoError] = {}
        try:
            self._take(history, new)
        except (DamagedError, RefusedError, NewerRuleError, SaysNoError):
            not_given = self._take_each(history, memory, found, new)
        finally:
            self._hang_up()
        bad = {name: memory.refused[commit] for name, commit in refs.items() if commit in memory.refused}
        refused = {laptop: Refusal(error.what) for laptop, error in not_given.items()}
        refused |= {_publisher(name): why for name, why in bad.items()}
        if found.state != NEWER_RULE:
            judge(history, found, (), refused)
        return found

    def leave(
        self,
        history: History,
        memory: PlaceMemory,
        found: Gathered,
        remember: Callable[[], None],
        dry_run: bool,
    ) -> tuple[Change, ...]:
        """Bring our branches up to date; what our edits changed that it did not have. Raises PlaceError."""
        there = self._look().refs
        if not self._plan(history, found, there):
            return ()
        known = history.graph.ancestors(history.heads())
        went = what_went(history, [commit for commit in found.refs.values() if commit in known])
        if dry_run:
            return went
        with open_channel(self._address, WRITING, self._at_terminal) as channel:
            there = read_greeting(channel.begin()).refs
            commands = self._plan(history, found, there)
            if commands:
                tips = sorted({new for _, new in commands.values()})
                with pack_of(history, tips, [commit for commit in there.values() if commit in known]) as pack:
                    refused = read_report(channel.ask(send(commands, pack)))
                # Another laptop may have put the very same merged box there, or a newer one, this minute.
                refused.pop("refs/heads/main", None)
                if refused:
                    raise PlaceError(f"did not take our changes ({min(refused.values())})", self.place)
        return went

    def _plan(self, history: History, found: Gathered, there: Mapping[str, str]) -> dict[str, tuple[str | None, str]]:
        local = {name.removeprefix("refs/laptops/"): tip for name, tip in history.store.refs("refs/laptops/").items()}
        held_back = found.state == NEWER_RULE or laid_aside(history.box)
        return plan_branches(
            history.box.laptop_id,
            local,
            None if held_back else history.head,
            (f"refs/tags/box-{self._box_id}", lambda: _first_state(history, self._box_id)),
            there,
            history.graph.ancestors,
        )

    def _take(self, history: History, new: Mapping[str, str]) -> None:
        if new:
            with Spool(history.store.folder) as spool:
                try:
                    self._fetch(set(new.values()), _haves(history), spool)
                except TooLargeError:
                    raise RefusedError("sends more at once than may be carried") from None
                laptops = [(_author(name), commit) for name, commit in sorted(new.items())]
                take_pack(history, laptops, spool.whole())

    def _take_each(
        self, history: History, memory: PlaceMemory, found: Gathered, new: Mapping[str, str]
    ) -> dict[str, SaysNoError]:
        """Take in each laptop's edits by themselves; those that the server itself cannot give. Raises SaysNoError."""
        laptops = sorted({_publisher(name) for name in new})
        not_given: dict[str, SaysNoError] = {}
        for laptop in laptops:
            try:
                self._take_one(history, memory, found, {n: c for n, c in new.items() if _publisher(n) == laptop})
            except SaysNoError as error:
                not_given[laptop] = error
                if len(not_given) == len(laptops):
                    raise
        return not_given

    def _take_one(self, history: History, memory: PlaceMemory, found: Gathered, new: Mapping[str, str]) -> None:
        try:
            self._take(history, new)
        except NewerRuleError as error:
            found.state, found.waits_for = NEWER_RULE, [error.laptop or name_of(history, _publisher(min(new)))]
        except (RefusedError, DamagedError) as error:
            memory.refused.update(dict.fromkeys(new.values(), refusal_of(error)))

    def _look(self) -> Greeting:
        if self._greeting is None:
            self._channel = open_channel(self._address, READING, self._at_terminal).__enter__()
            self._greeting = read_greeting(self._channel.begin())
        return self._greeting

    def _fetch(self, wants: Collection[str], haves: list[str], spool: Spool) -> None:
        greeting = self._look()
        channel, self._channel = self._channel, None
        if channel is None:
            channel = open_channel(self._address, READING, self._at_terminal).__enter__()
            greeting = read_greeting(channel.begin())
        with channel:
            read_pack(channel.ask(ask_for(wants, haves, greeting.able)), spool.write)

    def _hang_up(self) -> None:
        channel, self._channel = self._channel, None
        if channel is not None:
            with suppress(PlaceError):
                channel.__exit__(None, None, None)


def _publisher(branch: str) -> str:
    """The laptop under whose id a branch stands."""
    return branch.split("/")[3]


def _author(branch: str) -> str:
    """The laptop whose edit a branch holds."""
    match = _BRANCH.fullmatch(branch)
    return (match[2] or match[1]) if match else ""


def _haves(history: History) -> list[str]:
    """Edits that we know and the server may too, latest first."""
    known = history.graph.ancestors(history.heads())
    return sorted(known, key=lambda commit: (-history.commit(commit).step, commit))[:_MOST_HAVES]


def _first_state(history: History, box_id: str) -> str | None:
    """The first state of the box with this id; else, where boxes were joined, of another that went into it."""
    known = history.graph.ancestors(history.heads())
    roots = sorted(commit for commit in known if not history.commit(commit).parents)
    own = [commit for commit in roots if history.commit(commit).message.facts.get("box") == box_id]
    return next(iter([*own, *roots]), None)
