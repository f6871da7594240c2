"""Meeting places of either kind, met in the same way."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Protocol

from recipebox.box.errors import why
from recipebox.history import History
from recipebox.sync.address import is_address
from recipebox.sync.boxthere import BoxThere
from recipebox.sync.changed import Change
from recipebox.sync.entries import DamagedError
from recipebox.sync.folder import FolderPlace, box_ids
from recipebox.sync.gathered import Gathered, Step
from recipebox.sync.gathering import gather
from recipebox.sync.leaving import leave
from recipebox.sync.memory import PlaceMemory
from recipebox.sync.server import ServerPlace
from recipebox.sync.spool import Spool, TooLargeError
from recipebox.sync.take import count_cards

_MOST_COUNTED = 256 << 20  # a larger bundle is not unpacked only to say how many cards it has


class Place(Protocol):
    """Where laptops leave their changes for one another. Every call may raise PlaceError."""

    def unreachable(self) -> str:
        """Why the place itself cannot be met; "" if it can. Nothing is made where it is not."""

    def there(self) -> bool:
        """Whether this box has been left here before."""

    def boxes(self, counted: bool = True) -> list[BoxThere]:
        """All boxes that lie here; `counted`: with their cards where that can be told, which takes a while."""

    def gather(
        self, history: History, memory: PlaceMemory, written: Mapping[str, tuple[str, ...]], progress: Step
    ) -> Gathered:
        """Take in what others left; `memory` learns what was taken. `written` has all bundles we left anywhere."""

    def leave(
        self, history: History, memory: PlaceMemory, found: Gathered, remember: Callable[[], None], dry_run: bool
    ) -> tuple[Change, ...]:
        """Leave our own; what our edits changed. `remember` is called when `memory` must be on the disk."""


def open_place(place: str, box_id: str, at_terminal: bool = False) -> Place:
    """The place of a box, by what was typed or remembered. Raises PlaceError for an address of an unknown kind."""
    return ServerPlace(place, box_id, at_terminal) if is_address(place) else FolderMeeting(place, box_id)


class FolderMeeting:
    """A box in a folder."""

    def __init__(self, place: str, box_id: str) -> None:
        self._place = place
        self._folder = FolderPlace(place, box_id)

    def unreachable(self) -> str:
        """Why this is no folder to meet in."""
        folder = Path(self._place)
        try:
            folder.stat()
        except OSError as error:
            return "there is no such folder" if isinstance(error, FileNotFoundError) else why(error)[0]
        return "" if folder.is_dir() else "is a file, not a folder"

    def there(self) -> bool:
        """Whether this box has been left here before."""
        return self._folder.there()

    def boxes(self, counted: bool = True) -> list[BoxThere]:
        """All boxes in the folder."""
        ids = box_ids(self._place)
        return [BoxThere(box_id, _cards(FolderPlace(self._place, box_id)) if counted else None) for box_id in ids]

    def gather(
        self, history: History, memory: PlaceMemory, written: Mapping[str, tuple[str, ...]], progress: Step
    ) -> Gathered:
        """Take in whole bundles."""
        return gather(history, self._folder, memory, written, progress)

    def leave(
        self, history: History, memory: PlaceMemory, found: Gathered, remember: Callable[[], None], dry_run: bool
    ) -> tuple[Change, ...]:
        """Leave a bundle where one is needed."""
        return leave(history, self._folder, memory, found, remember, dry_run)


def _cards(place: FolderPlace) -> int | None:
    counts = []
    for left in place.left():
        with suppress(DamagedError, TooLargeError), Spool(None, _MOST_COUNTED) as spool:
            if place.read(left, spool.write):
                counts.append(count_cards(spool.whole()))
    return max((count for count in counts if count is not None), default=None)
