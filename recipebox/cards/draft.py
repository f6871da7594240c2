"""A card while it is being read: what was found, and the role of every source line."""

import re
from dataclasses import dataclass, field

from recipebox.cards.inline import plain
from recipebox.cards.model import Header, Ingredient, Passage, Role, SourceLine, Trouble
from recipebox.cards.rows import Kind, Row

_NUMBER = re.compile(r"^\d{1,2}(?:\s*[.):])?\s+(?=\S)")
_BOLD_NUMBER = re.compile(r"(\*\*|__)\d{1,2}(?:[.):]?\1\s|[.)]\s)")


@dataclass(slots=True)
class Draft:
    """Filled row by row; a source line keeps the first role that is not layout."""

    title: str = ""
    ingredients: list[Ingredient] = field(default_factory=list)
    steps: list[Passage] = field(default_factory=list)
    notes: list[Passage] = field(default_factory=list)
    headers: list[Header] = field(default_factory=list)
    asides: list[Header] = field(default_factory=list)  # facts that headings say besides: "Ingredients (serves 6)"
    trouble: list[Trouble] = field(default_factory=list)
    roles: dict[int, SourceLine] = field(default_factory=dict)

    def mark(self, row: Row, role: Role, of: int = 0, key: str = "") -> None:
        """Says what a row is; `of` is the line where its element begins."""
        known = self.roles.get(row.number)
        if known is None or known.role in (Role.LAYOUT, Role.BLANK):
            self.roles[row.number] = SourceLine(row.number, role, of or row.number, key, row.start, row.end)

    def step(self, rows: list[Row]) -> None:
        """One step of one or several rows, its words on one line."""
        words = " ".join(text for text in (plain(row.text) for row in rows) if text)
        if rows[0].kind is Kind.HEADING or _BOLD_NUMBER.match(rows[0].text):
            words = _NUMBER.sub("", words)
        if not words:
            for row in rows:
                self.mark(row, Role.LAYOUT)
            return
        self.steps.append(Passage(words, rows[0].number, rows[-1].number))
        for row in rows:
            self.mark(row, Role.STEP, rows[0].number)

    def note(self, rows: list[Row], key: str = "") -> None:
        """One note of one or several rows, as written but for bullets."""
        words = " ".join(" ".join(row.text.split()) for row in rows if row.text.strip())
        if not words:
            for row in rows:
                self.mark(row, Role.LAYOUT)
            return
        self.notes.append(Passage(words, rows[0].number, rows[-1].number))
        for row in rows:
            self.mark(row, Role.NOTE, rows[0].number, key)

    def header(self, row: Row, name: str, value: str) -> None:
        """A header line."""
        self.headers.append(Header(name, value, row.number))
        self.mark(row, Role.HEADER, key=name)

    def loose_notes(self, rows: list[Row]) -> None:
        """Rows that nothing else claimed: a paragraph or list item is a note each."""
        held: list[Row] = []
        for row in rows:
            if row.kind in (Kind.BLANK, Kind.LAYOUT):
                self._flush(held)
                self.mark(row, Role.BLANK if row.kind is Kind.BLANK else Role.LAYOUT)
                continue
            if held and row.after_blank:
                self._flush(held)
            if held and not _goes_on(held[-1], row):
                self._flush(held)
            held.append(row)
        self._flush(held)

    def _flush(self, held: list[Row]) -> None:
        if held:
            self.note(list(held))
            held.clear()


def _goes_on(before: Row, row: Row) -> bool:
    """Whether a row continues the note that the row before it belongs to."""
    if row.kind in (Kind.QUOTE, Kind.COMMENT):
        return before.kind is row.kind
    return row.kind is Kind.TEXT and before.kind not in (Kind.HEADING, Kind.TABLE) and not before.hard
