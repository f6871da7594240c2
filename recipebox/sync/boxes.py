"""Which boxes lie at a place, and taking one into an empty folder."""

from pathlib import Path

from recipebox.box import Box, BoxError, NoBoxError, create, find
from recipebox.sync.address import PlaceError, is_address
from recipebox.sync.boxthere import BoxThere
from recipebox.sync.gathered import Say
from recipebox.sync.gathering import join_box
from recipebox.sync.places import open_place


class SeveralBoxesError(BoxError):
    """Several boxes lie at the place, and a person must say which; `boxes` has them."""

    def __init__(self, place: str, boxes: "list[BoxThere]") -> None:
        self.boxes = boxes
        said = ", ".join(f"{there.box_id[:8]} ({there.said})" for there in boxes)
        one = Path(place) / "recipebox" / boxes[0].box_id
        super().__init__(f"several boxes lie here: {said}", place, f"name one by its folder: recipebox sync {one}")


def boxes_in(place: str, at_terminal: bool = False) -> list[BoxThere]:
    """The boxes that lie at a place. Raises PlaceError."""
    return open_place(place, "", at_terminal).boxes()


def take_box(
    folder: Path, place: str, *, laptop: str | None = None, at_terminal: bool = False, say: Say = lambda line: None
) -> Box:
    """Make an empty folder the box that lies at a place; then meet there.

    Where several boxes lie in a folder, the place may be one's own folder in it: PLACE/recipebox/<box id>. Raises
    SeveralBoxesError, PlaceError if none lies there, or BoxError if the folder is a box or is not empty.
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
    place, box_id = place_and_box(place)
    boxes = open_place(place, "", at_terminal).boxes(counted=False)
    found = [there for there in boxes if box_id in (None, there.box_id)]
    if not found:
        raise PlaceError("no box lies here", place, "sync there from a laptop that has one first")
    if len(found) > 1:
        raise SeveralBoxesError(place, boxes_in(place, at_terminal))
    return join_box(create(folder, laptop, say), found[0].box_id)


def place_and_box(place: str) -> tuple[str, str | None]:
    """The place of PLACE/recipebox/<box id>, and the box's id; else the place itself."""
    folder = Path(place).expanduser()
    if not is_address(place) and folder.parent.name == "recipebox" and folder.is_dir():
        return str(folder.parent.parent), folder.name
    return place, None
