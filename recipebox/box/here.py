"""The note `here.txt` and the marks of a computer."""

import hashlib
import secrets
from dataclasses import dataclass
from pathlib import Path

from recipebox.box.errors import BoxError, unreadable
from recipebox.box.swap import keep_in
from recipebox.box.system import machine_mark

_FIELDS = ("box", "laptop", "name", "computer", "account", "folder")
_UNKNOWN = "-"


@dataclass(frozen=True, slots=True)
class Here:
    """What stands in here.txt. `machine` and `account` are marks of the computer and of the user's data folder."""

    box_id: str
    laptop_id: str
    laptop: str
    machine: str
    account: str
    folder: str


def read_here(hidden: Path) -> Here:
    """Read the note in a hidden folder. Raises BoxError if it cannot be read or lacks something."""
    path = hidden / "here.txt"
    try:
        text = path.read_text(encoding="utf-8", errors="replace")
    except OSError as error:
        raise unreadable(error, str(path)) from error
    said = dict(line.split(": ", 1) for line in text.split("\n") if ": " in line and not line.startswith("#"))
    if any(not said.get(field) for field in _FIELDS):
        raise BoxError("is damaged", str(path), "remove it and type: recipebox start")
    return Here(*(said[field] for field in _FIELDS))


def write_here(hidden: Path, here: Here) -> None:
    """Write the note. Raises NotWrittenError."""
    values = (here.box_id, here.laptop_id, here.laptop, here.machine, here.account, here.folder)
    lines = ["# where this box lies and which laptop this is; written by recipebox, for this laptop only"]
    lines += [f"{field}: {value}" for field, value in zip(_FIELDS, values, strict=True)]
    keep_in(hidden, "here.txt", ("\n".join(lines) + "\n").encode())


def differ(one: tuple[str, str], other: tuple[str, str]) -> bool:
    """Whether two pairs of marks are of two computers. A mark that is not known says nothing."""
    return any(a != b for a, b in zip(one, other, strict=True) if _UNKNOWN not in (a, b))


def computer() -> tuple[str, str]:
    """The marks of this computer: one from the system, one kept in the user's data folder; "-" where there is none."""
    system = machine_mark()
    machine = hashlib.sha256(f"recipebox {system}".encode()).hexdigest()[:16] if system else _UNKNOWN
    return machine, _account_mark()


def user_data() -> Path:
    """The user's data folder for recipebox."""
    import platformdirs

    return Path(platformdirs.user_data_dir("recipebox", appauthor=False))


def _account_mark() -> str:
    path = user_data() / "computer.txt"
    try:
        if mark := _known(path):
            return mark
        path.parent.mkdir(parents=True, exist_ok=True)
        keep_in(path.parent, path.name, f"{secrets.token_hex(8)}\n".encode(), first=True)
        return _known(path) or _UNKNOWN
    except (OSError, BoxError):
        return _UNKNOWN


def _known(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8", errors="replace").strip()
    except FileNotFoundError:
        return ""
