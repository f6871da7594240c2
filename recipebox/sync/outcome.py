"""What a sync came to, as data."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from recipebox.box import Scan
from recipebox.history import SetAside
from recipebox.sync.changed import Change
from recipebox.sync.removal import Stopped

MET, NOT_THERE, INCOMPLETE, OTHER_BOX = "met", "not there", "incomplete", "other box"
NEWER_RULE, REFUSED = "newer rule", "refused"


@dataclass(frozen=True, slots=True)
class PlaceOutcome:
    """How it went at one place. `waits_for` names laptops whose changes have not all arrived, `why` says more.

    `asks`: it wants something that only a person at a terminal can answer.
    """

    place: str
    state: str
    waits_for: tuple[str, ...] = ()
    why: str = ""
    asks: bool = False

    @property
    def met(self) -> bool:
        """Whether others could be met there; where only some laptops' changes are refused, the rest were."""
        return self.state in (MET, INCOMPLETE) or (self.state == REFUSED and bool(self.waits_for))


@dataclass(frozen=True, slots=True)
class Outcome:
    """All of one sync. `undecided` are (path, about) that are new; `open` counts all; `stopped` what was held back.

    `here` tells what became of each file that came, `sent` of each that went; `looked` is the box as it is now.
    """

    places: tuple[PlaceOutcome, ...] = ()
    came: tuple[str, ...] = ()
    went: tuple[str, ...] = ()
    undecided: tuple[tuple[str, str], ...] = ()
    open: int = 0
    laid_aside: tuple[str, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    stopped: Stopped | None = None
    here: tuple[Change, ...] = ()
    sent: tuple[Change, ...] = ()
    looked: Scan | None = None

    @property
    def exit_code(self) -> int:
        """0: a place was met and no new question; 1: no place known or none met; 3: a person is needed."""
        states = {place.state for place in self.places}
        asks = any(place.asks for place in self.places)
        if self.stopped or self.undecided or self.laid_aside or OTHER_BOX in states or asks:
            return 3
        return 0 if any(place.met for place in self.places) else 1


def outcome_data(outcome: Outcome) -> Mapping[str, Any]:
    """The shape that `sync --json` prints."""
    stopped = outcome.stopped
    return {
        "places": [
            {"place": place.place, "state": place.state, "waits_for": list(place.waits_for), "why": place.why}
            for place in outcome.places
        ],
        "came": list(outcome.came),
        "went": list(outcome.went),
        "undecided": [{"path": path, "about": about} for path, about in outcome.undecided],
        "open": outcome.open,
        "laid_aside": list(outcome.laid_aside),
        "set_aside": [{"path": aside.path, "why": aside.why} for aside in outcome.set_aside],
        "stopped": None
        if stopped is None
        else {
            "why": stopped.why,
            "cards": stopped.cards,
            "of": stopped.of,
            "paths": list(stopped.paths),
            "direction": stopped.direction,
            "laptops": list(stopped.laptops),
        },
        "came_as": [_change(change) for change in outcome.here],
        "went_as": [_change(change) for change in outcome.sent],
    }


def _change(change: Change) -> Mapping[str, Any]:
    return {"path": change.path, "what": change.what, "was": change.was, "laptops": list(change.laptops)}
