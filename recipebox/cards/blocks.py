"""Rows that only their neighbours explain: underlined headings, tables, definitions, lines behind little pictures."""

import re
from collections.abc import Sequence

from recipebox.cards.cells import MOST_CELLS
from recipebox.cards.inline import plain
from recipebox.cards.rows import BOLD, Kind, Row, narrow
from recipebox.cards.sectionwords import Section, read_heading
from recipebox.cards.signs import looks_ingredient, starts_with_amount
from recipebox.cards.text import Line

_SETEXT = re.compile(r" {0,3}(=+|-+)[ \t]*$")
_TABLE_RULE = re.compile(r"[ \t]*\|?[ \t]*:?-+:?[ \t]*(?:\|[ \t]*:?-+:?[ \t]*)*\|?[ \t]*$")
_ASIDE = re.compile(
    r"(?::{3,}|!!!|\?\?\?\+?)\s*\{?\.?(?:tip|note|warning|info|danger|caution|important|hint|aside|attention|success|question|quote)\b",
    re.IGNORECASE,
)
_DEFINED = re.compile(r":[ \t]+\S")
_PICTOGRAM = re.compile(
    r"(?:[\U0001F000-\U0001FAFF\u2300-\u23ff\u2600-\u27bf\u2b00-\u2bff][\ufe0f\u200d]*)+[ \t]+(?=\S)"
)


def join_rows(rows: list[Row], lines: Sequence[Line], first: int) -> None:
    """Gives rows the kind that the rows around them say; `first` is the number of the first line."""
    _underlines(rows, lines, first)
    _tables(rows, lines, first)
    _definitions(rows)
    _pictograms(rows)
    _bold_numbers(rows)
    _asides(rows)
    _quoted_recipes(rows)


def _underlines(rows: list[Row], lines: Sequence[Line], first: int) -> None:
    """A short line over a row of === or --- is a heading."""
    for before, row, under in zip([None, *rows], rows, rows[1:], strict=False):
        if under.kind is not Kind.LAYOUT or row.number == under.number:
            continue
        if not (row.kind is Kind.TEXT or (row.kind is Kind.HEADING and row.level >= BOLD)):
            continue
        match = _SETEXT.match(lines[under.number - first].words)
        if match is None or (before is not None and before.kind is Kind.TEXT and not row.after_blank):
            continue
        if match[1][0] == "=" or (len(row.text) <= 70 and not row.text.endswith((".", ",", ";"))):
            row.kind, row.level = Kind.HEADING, 1 if match[1][0] == "=" else 2
            under.mark = ""


def _tables(rows: list[Row], lines: Sequence[Line], first: int) -> None:
    """Rows around a table's border line are table rows, also without outer strokes; the border is layout."""
    inside = False
    for at, row in enumerate(rows):
        words = "" if row.kind is Kind.BLANK or row.quoted else lines[row.number - first].words
        if "|" not in words or words.count("|") >= MOST_CELLS:
            inside = False
        elif "-" in words and _TABLE_RULE.match(words):
            row.kind, row.mark = Kind.LAYOUT, "|"
            inside = True
            above = rows[at - 1]
            if (
                at
                and above.number == row.number - 1
                and above.kind is not Kind.BLANK
                and 0 < above.text.count("|") < MOST_CELLS
            ):
                _as_table(above, lines, first)
        elif inside:
            _as_table(row, lines, first)


def _definitions(rows: list[Row]) -> None:
    """A name with what is said of it on the next lines, each behind a colon."""
    at = 0
    while at < len(rows):
        row = rows[at]
        stop = at
        while stop < len(rows) and rows[stop].kind is Kind.TEXT and _DEFINED.match(rows[stop].text):
            stop += 1
        name = rows[at - 1] if at else None
        if stop > at and name is not None and name.kind in (Kind.TEXT, Kind.HEADING) and len(name.text) < 60:
            for told in rows[at:stop]:
                shift = len(told.text) - len(told.text[1:].lstrip())
                narrow(told, shift, len(told.text))
                told.text = told.text[shift:]
                told.kind, told.mark = Kind.ITEM, ":"
            if stop == at + 1 and row.text[:1].isdigit() and len(row.text) < 40:
                name.kind, name.mark = Kind.ITEM, ":"
                row.kind, row.mark, row.indent = Kind.TEXT, "", name.indent + 4
            else:
                name.kind, name.level = Kind.HEADING, min(name.level, BOLD) or BOLD
        at = max(stop, at + 1)


def _pictograms(rows: list[Row]) -> None:
    """Little pictures before several lines of a block are their bullets."""
    at = 0
    while at < len(rows):
        stop = at
        while stop < len(rows) and rows[stop].kind is Kind.TEXT and (stop == at or not rows[stop].after_blank):
            stop += 1
        marks = [(row, match) for row in rows[at:stop] if (match := _PICTOGRAM.match(row.text)) is not None]
        if len(marks) > 1:
            for row, match in marks:
                row.kind, row.mark = Kind.ITEM, "-"
                narrow(row, match.end(), len(row.text))
                row.text = row.text[match.end() :]
        at = max(stop, at + 1)


def _bold_numbers(rows: list[Row]) -> None:
    """Paragraphs that begin with a bold number, counting up from one, are a numbered list: "**1. Toast** the rice"."""
    found = [
        (row, match)
        for row in rows
        if row.kind is Kind.TEXT and row.after_blank and (match := _BOLD_NUMBER.match(row.text))
    ]
    if len(found) < 2 or [int(match["number"]) for _, match in found] != list(range(1, len(found) + 1)):
        return
    rest = [_unnumbered(row.text, match) for row, match in found]
    behind = [plain(words) for words in rest]
    if sum(looks_ingredient(words) for words in behind) * 2 >= len(behind):
        return
    for (row, match), words in zip(found, rest, strict=True):
        row.kind, row.mark, row.text = Kind.NUMBER, f"{match['number']}.", words


def _unnumbered(words: str, match: re.Match[str]) -> str:
    """The words behind a bold number, their bold kept open where the number stood within it."""
    whole = match.group().rstrip().rstrip(".):")
    return words[match.end() :] if whole.endswith(match["mark"]) else match["mark"] + words[match.end() :]


_BOLD_NUMBER = re.compile(r"(?P<mark>\*\*|__)(?P<number>\d{1,2})[.):]?(?:(?P=mark)[.):]?\s+|\s+)(?=\S)")


def _asides(rows: list[Row]) -> None:
    """What stands in a box for tips and warnings (":::tip", "!!! note") is as good as quoted."""
    at = 0
    while at < len(rows):
        row = rows[at]
        at += 1
        if row.kind is not Kind.COMMENT or _ASIDE.match(row.text) is None:
            continue
        indented = row.text[0] != ":"
        while at < len(rows) and (rows[at].kind is Kind.BLANK or rows[at].indent >= 2 or not indented):
            if rows[at].kind is Kind.COMMENT and rows[at].text.startswith(":::"):
                break
            if rows[at].kind is Kind.HEADING and not indented:
                break
            if rows[at].kind is not Kind.BLANK:
                rows[at].kind = Kind.QUOTE
            at += 1


def _quoted_recipes(rows: list[Row]) -> None:
    """A quote that holds a list of ingredients or a method is taken as typed: some programs fold a section so.

    The name of a fold ("> [!note]- Ingredients") heads what is in it.
    """
    at = 0
    while at < len(rows):
        stop = at
        while stop < len(rows) and rows[stop].quoted:
            stop += 1
        block = rows[at:stop]
        if block and (folded := _FOLD.match(block[0].text)) is not None:
            narrow(block[0], folded.end(), len(block[0].text))
            block[0].text = block[0].text[folded.end() :]
            block[0].level = BOLD
            block[0].within = Kind.HEADING if block[0].text else Kind.LAYOUT
        if block and _holds_a_recipe(block):
            for row in block:
                row.kind = row.within or row.kind
        at = max(stop, at + 1)


def _holds_a_recipe(block: Sequence[Row]) -> bool:
    headings = [read_heading(plain(row.text)) for row in block if row.within is Kind.HEADING]
    if any(found and found.sure and found.section in (Section.INGREDIENTS, Section.METHOD) for found in headings):
        return True
    items = [plain(row.text) for row in block if row.within is Kind.ITEM]
    measured = sum(starts_with_amount(words) and looks_ingredient(words) for words in items)
    return measured > 1 and measured * 3 >= len(items) * 2


_FOLD = re.compile(r"\[!\w+\][+-]?[ \t]*")


def _as_table(row: Row, lines: Sequence[Line], first: int) -> None:
    raw = lines[row.number - first].words
    row.kind = Kind.TABLE
    row.start = len(raw) - len(raw.lstrip())
    row.end = len(raw.rstrip())
    row.text = raw[row.start : row.end]
