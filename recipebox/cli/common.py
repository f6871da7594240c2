"""Options that every command has, and opening the box that a command works on."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.progress import progress

if TYPE_CHECKING:
    from recipebox.box import Box
    from recipebox.index import Index

BoxOption = Annotated[
    Path | None, typer.Option("--box", metavar="FOLDER", help="The box, if not the folder you are in.")
]
JsonOption = Annotated[bool, typer.Option("--json", help="Answer as JSON.")]
YesOption = Annotated[bool, typer.Option("--yes", help="Accept what is shown without being asked.")]
DryRunOption = Annotated[bool, typer.Option("--dry-run", help="Show what would happen; write nothing.")]

ANSWERED = 0
FAILED = 1
WRONG_CALL = 2
PERSON_NEEDED = 3


@dataclass(frozen=True)
class Opened:
    """A box with its index brought up to date, and the files that are in trouble."""

    box: "Box"
    index: "Index"
    trouble: list[dict[str, Any]]


def find_box(folder: Path | None) -> "Box":
    """The box at `folder`, or the one around the folder we are in. Raises recipebox.box.NoBoxError."""
    from recipebox.box import find

    return find(folder or Path.cwd(), say=say.warn)


@contextmanager
def opened(folder: Path | None, *, name_trouble: bool = False) -> Iterator[Opened]:
    """Open the box, bring its index up to date, and close it again."""
    from recipebox.index import open_index

    box = find_box(folder)
    index = open_index(box, say=say.warn)
    try:
        with progress("reading cards") as step:
            index.refresh(progress=step)
        found = trouble_of(index)
        if name_trouble:
            say.trouble_again(found)
        yield Opened(box, index, found)
    finally:
        index.close()


def trouble_of(index: "Index") -> list[dict[str, Any]]:
    """The files of a box that are in trouble, in the shape that answers have."""
    return [{"path": t.path, "line": t.line, "what": t.what} for t in index.trouble()]


def wrong_call(words: str) -> typer.Exit:
    """Say what is wrong with a call; raise what this returns."""
    say.warn(words)
    return typer.Exit(WRONG_CALL)
