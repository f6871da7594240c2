"""Tables: the cells of a row, the lines of a cell, and rows that HTML sets out over several lines."""

import re
from collections.abc import Sequence
from dataclasses import replace

from recipebox.cards.rows import BULLET, NUMBER, Kind, Row
from recipebox.cards.text import Line

MOST_CELLS = 200  # a row with more is no table
BREAK = re.compile(r"<br[ \t]*/?>", re.IGNORECASE)
_NOTHING = " \t\u00a0\u200b\u200c\u200d\u2060\ufeff\x0b\x0c\u3000"
_CELL_START = re.compile(r"<t[dh](?:[ \t][^<>]*)?>")
_ROW_START = re.compile(r"[ \t]*<tr[ >]", re.IGNORECASE)


def table_row(lines: Sequence[Line], at: int) -> tuple[str, int] | None:
    """A table's row whose cells stand on lines of their own, as one line, and the place behind it."""
    if _ROW_START.match(lines[at].words) is None:
        return None
    words = []
    for place in range(at, min(len(lines), at + 60)):
        words.append(lines[place].words.strip())
        if place > at and _ROW_START.match(lines[place].words):
            return None
        if "</tr" in words[-1].lower():
            whole = " ".join(words)
            return (whole, place + 1) if place > at and _CELL_START.search(whole) else None
    return None


def broken_lines(cell: Row) -> list[Row]:
    """The lines of a table's cell, which `<br>` parts, a row each without bullet or number."""
    found = []
    at = 0
    for words in BREAK.split(cell.text):
        body = words.strip()
        mark = NUMBER.match(body) or BULLET.match(body)
        kept = body[mark.end() :].strip() if mark is not None else body
        if kept:
            start = cell.start + cell.text.index(kept, at)
            found.append(replace(cell, text=kept, start=start, end=start + len(kept)))
        at += len(words)
    return found


def cells_of(row: Row) -> list[Row]:
    """The cells of a table row, a row each with its own columns."""
    cells = []
    at = row.start
    body = row.text
    pieces = body.replace("\\|", "\x00\x00").split("|")
    for place, piece in enumerate(pieces):
        words = piece.strip()
        outer = (place == 0 and body.startswith("|")) or (place == len(pieces) - 1 and body.endswith("|"))
        if not outer:
            start = at + len(piece) - len(piece.lstrip()) if words else at
            start = min(start, row.end)
            end = min(start + len(words), row.end)
            cells.append(replace(row, kind=Kind.TEXT, text=words.replace("\x00\x00", "|"), start=start, end=end))
        at += len(piece) + 1
    return cells
