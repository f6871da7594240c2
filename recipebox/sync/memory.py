"""What this laptop remembers of meeting places: where they are, what it left there and what it has read."""

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass, field
from typing import Any, NamedTuple

from recipebox.box import Box, keep, kept
from recipebox.sync.plan import OwnCorner
from recipebox.sync.removal import Stopped

_NAME, _STOP = "places", "stopped"
UNKNOWN = "?"
"""Stands among our own bundles of a place where others may have lain: nothing can bear it, so all is left anew."""


class Refusal(NamedTuple):
    """Why a laptop's changes are not taken, and what the laptop calls itself, if that could be read."""

    why: str
    laptop: str = ""


@dataclass(slots=True)
class PlaceMemory:
    """One place: our own bundles by hash, the last number used, and bundles taken, each with the edits it leads to.

    `refused` are edits on a server, or large bundles, that break the limits, with the reason: they are not read again.
    """

    own: dict[str, tuple[str, ...]] = field(default_factory=dict)
    number: int = 0
    taken: dict[str, tuple[str, ...]] = field(default_factory=dict)
    refused: dict[str, Refusal] = field(default_factory=dict)

    def corner(self) -> OwnCorner:
        """Our own corner, for the planner."""
        return OwnCorner(dict(self.own), self.number)


def remembered(box: Box) -> dict[str, PlaceMemory]:
    """All places, in the order they were first met. A damaged memory costs only reading everything again."""
    data = kept(box, _NAME)
    try:
        said = json.loads(data) if data else {}
        return {place: _place(facts) for place, facts in said.items()}
    except (ValueError, TypeError, AttributeError):
        return {}


def remember(box: Box, places: Mapping[str, PlaceMemory]) -> None:
    """Keep what is remembered; when it was last kept tells when the laptops last met. Raises NotWrittenError."""
    said = {place: asdict(it) for place, it in places.items()}
    data = json.dumps(said).encode()
    if kept(box, _NAME) != data:
        keep(box, _NAME, data)
    else:
        with suppress(OSError):
            os.utime(box.hidden / _NAME)


def remember_stop(box: Box, stopped: Stopped | None) -> None:
    """Keep what the last sync held back, until one goes through. Raises NotWrittenError."""
    said = None if stopped is None else json.dumps({"why": stopped.why, "direction": stopped.direction}).encode()
    if kept(box, _STOP) != said:
        keep(box, _STOP, said)


def last_stop(box: Box) -> tuple[str, str] | None:
    """What the last sync held back, and in which direction; None if nothing."""
    try:
        said = json.loads(kept(box, _STOP) or b"{}")
        return (str(said["why"]), str(said["direction"])) if said else None
    except (ValueError, TypeError, KeyError):
        return None


def _place(facts: Mapping[str, Any]) -> PlaceMemory:
    own = {str(sha): tuple(map(str, tips)) for sha, tips in facts["own"].items()}
    taken = {str(sha): tuple(map(str, tips)) for sha, tips in facts["taken"].items()}
    refused = {str(one): Refusal(str(why), str(laptop)) for one, (why, laptop) in facts.get("refused", {}).items()}
    return PlaceMemory(own, int(facts["number"]), taken, refused)
