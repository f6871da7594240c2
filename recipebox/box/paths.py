"""Paths of a box: from its root, with "/", and what is carried between laptops."""

import os

from recipebox.box.errors import UnsafePathError

MAX_CARD = 1_000_000  # bytes; what "at most 1 MB" means here and in messages
MAX_FILE = 25_000_000
MAX_FILES = 100_000
MAX_DEEP = 32  # names in a path

_LEFTOVER_ENDS = ("~", ".tmp", ".part", ".swp")


def leftover(name: str) -> bool:
    """Whether a file of this name is what an editor leaves lying about."""
    return name.startswith("~$") or name.lower().endswith(_LEFTOVER_ENDS)


def names_of(path: str) -> list[str]:
    """The names of a path from the box's root. Raises UnsafePathError for one that leads elsewhere."""
    names = path.split("/")
    if not path or any(name in ("", ".", "..") or "\0" in name for name in names) or _drive(names):
        raise UnsafePathError("is no path within a box", path)
    if names[0].casefold() == ".recipebox":
        raise UnsafePathError("is recipebox's own folder", path)
    return names


def _drive(names: list[str]) -> bool:
    return os.sep == "\\" and any("\\" in name or ":" in name for name in names)
