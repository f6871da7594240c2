"""Which boxes lie at a place, and taking one into an empty folder."""

from dataclasses import dataclass
from pathlib import Path

from recipebox.box import Box, BoxError, NoBoxError, create, find
from recipebox.sync.folder import FolderPlace, PlaceError, box_ids
from recipebox.sync.gathering import Say, join_box
from recipebox.sync.pack import DamagedError
from recipebox.sync.take import count_cards


class SeveralBoxesError(BoxError):
    """Several boxes lie at the place, and a person must say which; `boxes` has them."""

    def __init__(self, place: str, boxes: "list[BoxThere]") -> None:
        self.boxes = boxes
        said = ", ".join(f"{there.box_id[:8]} ({there.said})" for there in boxes)
        super().__init__(f"several boxes lie here: {said}", place, "sync from a folder that is already one of them")


@dataclass(frozen=True, slots=True)
class BoxThere:
    """A box at a place: its id and how many cards it has (None where no whole bundle tells)."""

    box_id: str
    cards: int | None

    @property
    def said(self) -> str:
        """The number of cards in words."""
        return "cards not all arrived yet" if self.cards is None else f"{self.cards} cards"


def boxes_in(place: str) -> list[BoxThere]:
    """The boxes that lie at a place. Raises PlaceError."""
    return [BoxThere(box_id, _cards(FolderPlace(place, box_id))) for box_id in box_ids(place)]


def take_box(
    folder: Path, place: str, *, laptop: str | None = None, box_id: str | None = None, say: Say = lambda line: None
) -> Box:
    """Make an empty folder the box that lies at a place; then meet there. `box_id`, or its beginning, picks one.

    Raises SeveralBoxesError, PlaceError if none lies there, or BoxError if the folder is a box or is not empty.
    """
    folder = folder.expanduser().resolve()
    try:
        find(folder)
    except NoBoxError:
        pass
    else:
        raise BoxError("is a box already", str(folder), "type: recipebox sync PLACE")
    if folder.is_dir() and any(entry.name != ".recipebox" for entry in folder.iterdir()):
        raise BoxError("is not empty", str(folder), "make it a box first: recipebox start")
    found = [there for there in boxes_in(place) if box_id is None or there.box_id.startswith(box_id)]
    if not found:
        raise PlaceError("no box lies here", place, "sync there from a laptop that has one first")
    if len(found) > 1:
        raise SeveralBoxesError(place, found)
    return join_box(create(folder, laptop, say), found[0].box_id)


def _cards(place: FolderPlace) -> int | None:
    counts = []
    for left in place.left():
        data = place.read(left)
        if data is None:
            continue
        try:
            counts.append(count_cards(data))
        except DamagedError:
            continue
    return max((count for count in counts if count is not None), default=None)
