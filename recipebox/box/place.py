"""Which folder is a box, and which laptop this is.

`.recipebox/here.txt` holds a random box id and laptop id, the laptop's name, marks of the computer and the folder's
path. Another computer's marks mean that the folder was copied there or is kept alike by another program: then this
computer keeps its own state in the user's data folder, since two computers never use one `.recipebox/`.
"""

import hashlib
import platform
import secrets
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from recipebox.box.errors import BoxError, NoBoxError, not_written, one_line
from recipebox.box.here import Here, computer, differ, read_here, user_data, write_here

HIDDEN = ".recipebox"


@dataclass(frozen=True, slots=True)
class Box:
    """A folder of cards. `hidden` is where this laptop's own state lies, nearly always root/.recipebox."""

    root: Path
    box_id: str
    laptop_id: str
    laptop: str
    hidden: Path


Say = Callable[[str], None]


def create(root: Path, laptop: str | None = None, say: Say = lambda line: None) -> Box:
    """Make a folder a box, making the folder if need be; a box already there stays, renamed if `laptop` is given.

    Without `laptop` the computer's own name is taken. Raises BoxError where the folder lies within another box or
    cannot be written.
    """
    root = _whole(root)
    if (root / HIDDEN / "here.txt").exists():
        box = _open(root, say)
        return box if laptop is None else _rename(box, laptop)
    outer = next((folder for folder in root.parents if (folder / HIDDEN / "here.txt").is_file()), None)
    if outer is not None:
        raise BoxError(f"lies within the box {outer}", str(root), "start a box elsewhere, or use that one")
    hidden = root / HIDDEN
    _make(hidden)
    here = Here(secrets.token_hex(16), secrets.token_hex(8), _clean(laptop), *computer(), one_line(str(root)))
    write_here(hidden, here)
    return _box(root, hidden, here)


def find(start: Path, say: Say = lambda line: None, *, exactly: bool = False) -> Box:
    """The box that a folder is or, unless `exactly`, lies in. `say` gets a line if this computer becomes a new laptop.

    Raises NoBoxError, and BoxError where the box's own note cannot be read or renewed.
    """
    start = _whole(start)
    for folder in (start,) if exactly else (start, *start.parents):
        if (folder / HIDDEN / "here.txt").is_file():
            return _open(folder, say)
    raise NoBoxError("no box here" + ("" if exactly else " or above"), str(start), "type: recipebox start")


def _open(root: Path, say: Say) -> Box:
    hidden = root / HIDDEN
    here = read_here(hidden)
    mine = computer()
    if differ((here.machine, here.account), mine):
        return _open_elsewhere(root, here, mine, say)
    if here.folder == one_line(str(root)):
        return _box(root, hidden, here)
    if _lies_at(Path(here.folder), here.box_id, root):
        say(f"{root} is a copy of the box {here.folder}: from now on it counts as a laptop of its own")
        here = replace(here, laptop_id=secrets.token_hex(8), folder=one_line(str(root)))
        write_here(hidden, here)
    else:
        here = replace(here, folder=one_line(str(root)))
        write_here(hidden, here)
    return _box(root, hidden, here)


def _open_elsewhere(root: Path, theirs: Here, mine: tuple[str, str], say: Say) -> Box:
    hidden = _own_state(root, theirs.box_id)
    if (hidden / "here.txt").is_file():
        here = read_here(hidden)
        if here.folder != one_line(str(root)):
            here = replace(here, folder=one_line(str(root)))
            write_here(hidden, here)
        return _box(root, hidden, here)
    _make(hidden)
    here = Here(theirs.box_id, secrets.token_hex(8), _clean(None), *mine, one_line(str(root)))
    write_here(hidden, here)
    say(
        f"this box was set up on another computer ({theirs.laptop}); "
        f"here it is the laptop {here.laptop!r}, which keeps its history in {hidden}"
    )
    return _box(root, hidden, here)


def _own_state(root: Path, box_id: str) -> Path:
    """Where this computer keeps its state for a box set up on another, also when the folder was moved since."""
    all_states = user_data() / "boxes"
    own = all_states / f"{box_id}-{hashlib.sha256(one_line(str(root)).encode()).hexdigest()[:16]}"
    if own.is_dir():
        return own
    for state in sorted(all_states.glob(f"{box_id}-*/here.txt")):
        was = read_here(state.parent).folder
        if not _lies_at(Path(was), box_id, root):
            return state.parent
    return own


def _lies_at(folder: Path, box_id: str, root: Path) -> bool:
    """Whether a box with this id lies in another folder than `root`."""
    try:
        if not (folder / HIDDEN / "here.txt").is_file() or folder.samefile(root):
            return False
        return read_here(folder / HIDDEN).box_id == box_id
    except (OSError, BoxError):
        return False


def _rename(box: Box, laptop: str) -> Box:
    here = replace(read_here(box.hidden), laptop=_clean(laptop))
    write_here(box.hidden, here)
    return replace(box, laptop=here.laptop)


def _box(root: Path, hidden: Path, here: Here) -> Box:
    return Box(root, here.box_id, here.laptop_id, here.laptop, hidden)


def _whole(folder: Path) -> Path:
    try:
        return folder.expanduser().resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise BoxError("is no folder", str(folder)) from error


def _make(hidden: Path) -> None:
    try:
        hidden.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise not_written(error, str(hidden)) from error


def _clean(laptop: str | None) -> str:
    words = " ".join(one_line((laptop or platform.node() or "laptop").replace("\n", " ")).split())
    if not words:
        raise BoxError("a laptop needs a name", do="give one with --laptop")
    return words[:60]
