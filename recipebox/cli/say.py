"""What a command puts on the terminal: one look for all of them, 80 columns wide."""

import json
import os
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

_WIDEST = 80
INTERRUPTED = 130  # what a shell expects of a program that Ctrl-C ended
_MARKS = {"bold": "\x1b[1m", "dim": "\x1b[2m", "changed": "\x1b[33m"}


def width() -> int:
    """Columns to write in: the terminal's, at most 80, at least 40."""
    return max(40, min(_WIDEST, shutil.get_terminal_size((_WIDEST, 24)).columns))


def line(words: str = "", *, first: str = "", rest: str | None = None) -> None:
    """Print a paragraph, wrapped; `first` opens it and `rest` (else as many blanks) its further lines."""
    if not words:
        print(first.rstrip())
        return
    blanks = " " * len(first) if rest is None else rest
    wrapped = textwrap.wrap(
        words, width(), initial_indent=first, subsequent_indent=blanks, break_long_words=False, break_on_hyphens=False
    )
    print("\n".join(wrapped))


def heading(words: str) -> None:
    """Print a heading with a blank line above it."""
    print()
    line(paint(words, "bold"))


def as_json(data: Any) -> None:
    """Print one JSON value on one line."""
    print(json.dumps(data, ensure_ascii=False))


def warn(words: str) -> None:
    """Print one line on stderr; wrapped where a person reads it on a terminal."""
    told = f"recipebox: {words}"
    if sys.stderr.isatty():
        told = textwrap.fill(told, width(), subsequent_indent="  ", break_long_words=False, break_on_hyphens=False)
    print(told, file=sys.stderr)


def trouble(found: Sequence[dict[str, Any]]) -> None:
    """Name files in trouble on stderr: ten, then a count."""
    for one in found[:10]:
        where = f"{one['path']}, line {one['line']}: " if one.get("line") else f"{one['path']}: " if one["path"] else ""
        warn(f"{where}{one['what']}")
    if len(found) > 10:
        warn(f"and {len(found) - 10} more files like these")


def trouble_again(found: Sequence[dict[str, Any]]) -> None:
    """The same files, told with every answer: a person at a terminal has seen them named, and a count will do."""
    if found and sys.stderr.isatty():
        warn(f"{count(len(found), 'file')} to look at; recipebox start names {'it' if len(found) == 1 else 'them'}")
    else:
        trouble(found)


def paint(words: str, mark: str) -> str:
    """Words in bold, dim or the colour of a change, where the terminal shows it and NO_COLOR is not set."""
    if os.environ.get("NO_COLOR") or not sys.stdout.isatty():
        return words
    return f"{_MARKS[mark]}{words}\x1b[0m"


def columns(rows: Iterable[Sequence[str]], widths: Sequence[int], gap: str = "  ") -> None:
    """Print rows of cells, each cell wrapped in its column."""
    for row in rows:
        cells = [
            textwrap.wrap(cell, size, break_on_hyphens=False) or [""] for cell, size in zip(row, widths, strict=True)
        ]
        for at in range(max(map(len, cells))):
            parts = [cell[at] if at < len(cell) else "" for cell in cells]
            print(gap.join(part.ljust(size) for part, size in zip(parts, widths, strict=True)).rstrip())


def count(number: int, one: str, many: str | None = None) -> str:
    """ "1 card", "3 cards"."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def when(stamp: str) -> str:
    """A moment as history has it, to the minute and in this computer's own time: "2026-11-25 17:15"."""
    try:
        return datetime.fromisoformat(stamp).astimezone().strftime("%Y-%m-%d %H:%M")
    except ValueError:
        return stamp


def on_terminal() -> bool:
    """Whether a person can be asked."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def ask(question: str, answers: str = "yn") -> str:
    """Ask until one of the letters in `answers` is typed; end of input counts as the last of them."""
    while True:
        try:
            typed = input(f"{question} [{'/'.join(answers)}] ").strip().lower()
        except EOFError:
            print()
            return answers[-1]
        except KeyboardInterrupt:
            print()
            warn("broken off; nothing more is written")
            sys.exit(INTERRUPTED)
        if typed[:1] and typed[:1] in answers:
            return typed[:1]
