"""The lines above a recipe's first section: mail headers, front matter, header lines and loose facts."""

import re
from collections.abc import Sequence
from dataclasses import replace

from recipebox.cards.cells import cells_of
from recipebox.cards.draft import Draft
from recipebox.cards.facts import label, read_facts, read_header, read_makes, read_serves
from recipebox.cards.frontmatter import Entry, FrontMatter, Value, is_listing
from recipebox.cards.inline import plain
from recipebox.cards.layout import rows_of
from recipebox.cards.lists import read_list
from recipebox.cards.model import Role, SourceLine
from recipebox.cards.outline import cut_list, heading_of
from recipebox.cards.rows import Kind, Row
from recipebox.cards.sectionwords import Section, read_heading
from recipebox.cards.steps import read_steps
from recipebox.cards.text import Line
from recipebox.cards.titles import subject_title

_MAIL = frozenset(
    (
        "to",
        "cc",
        "bcc",
        "subject",
        "reply-to",
        "sent",
        "date",
        "from",
        "betreff",
        "datum",
        "an",
        "von",
        "message-id",
        "x-mailer",
        "content-type",
        "mime-version",
    )
)
_MAIL_MARK = re.compile(
    r"[-_=\s]*(?:begin |original |forwarded )(?:message|mail)|[-_=\s]*forwarded message|on .{5,80} wrote:$"
    r"|begin forwarded message",
    re.IGNORECASE,
)
_HASHTAGS = re.compile(r"(?:#[\w-]+[\s,]*)+$")


def read_mail_head(draft: Draft, rows: list[Row]) -> tuple[list[Row], str]:
    """Takes mail headers off the top: the rows left, and the title that the subject is (or "").

    The sender of a forwarded mail is the one furthest down, who wrote it.
    """
    title = ""
    taken: list[Row] = []
    for at, row in enumerate(rows[:60]):
        if row.kind in (Kind.BLANK, Kind.LAYOUT):
            continue
        words = plain(row.text)
        if _MAIL_MARK.match(words) and len(words) < 100:
            draft.note([row])
            taken.append(row)
            continue
        header = read_header(words) if row.kind in (Kind.TEXT, Kind.QUOTE, Kind.HEADING) and ":" in words[:14] else None
        if header is None or header[0] not in _MAIL or not _in_mail(rows, at):
            if row.kind in (Kind.ITEM, Kind.NUMBER) or heading_of(rows, at) is not None:
                break
            continue
        taken.append(row)
        name, value = header
        if name in ("from", "von"):
            draft.headers = [kept for kept in draft.headers if kept.name != "from"]
            draft.header(row, "from", _raw_value(row))
        elif name in ("subject", "betreff"):
            title = subject_title(value)
            draft.mark(row, Role.TITLE)
        elif name in ("sent", "date", "datum"):
            draft.headers = [kept for kept in draft.headers if kept.name != "came"]
            draft.header(row, "came", value)
        else:
            draft.note([row])
    if not taken:
        return rows, ""
    gone = {id(row) for row in taken}
    left = [row for row in rows if id(row) not in gone]
    if left:
        left[0] = replace(left[0], after_blank=True)
    return left, title


def _raw_value(row: Row) -> str:
    """A mail header's value with its address, which reading as Markdown would turn into a bare link."""
    return row.text.partition(":")[2].strip()


def _in_mail(rows: Sequence[Row], at: int) -> bool:
    """A `from:` line alone is a card's own; a subject, a date or a "to" beside it make a mail."""
    names = set()
    for row in rows[max(0, at - 6) : at + 7]:
        if (
            row.kind in (Kind.TEXT, Kind.QUOTE, Kind.HEADING)
            and ":" in row.text[:20]
            and (header := read_header(plain(row.text)))
        ):
            names.add(header[0])
    return bool(names & {"subject", "betreff"}) or (bool(names & {"from", "von"}) and bool(names & {"to", "sent"}))


_BYLINE = re.compile(r"(?:from|[Bb]y) ([A-ZÀ-Þ][\w'’.-]*(?: [A-ZÀ-Þ][\w'’.-]*){0,2})\Z")  # under a title


def read_head(draft: Draft, rows: list[Row]) -> int:
    """Reads `name: value` lines right under the title; returns how many rows they take."""
    at = 0
    end = 0
    while at < len(rows):
        row = rows[at]
        if row.kind in (Kind.BLANK, Kind.LAYOUT):
            at += 1
            continue
        if row.kind not in (Kind.TEXT, Kind.ITEM, Kind.HEADING) or heading_of(rows, at) is not None:
            break
        words = plain(row.text)
        if row.kind is Kind.TEXT and _HASHTAGS.match(words):
            draft.header(row, "tags", ", ".join(tag.strip("#,") for tag in words.split()))
            at = end = at + 1
            continue
        facts = read_facts(words, free=row.kind is not Kind.HEADING)
        if not facts and row.kind is Kind.HEADING and (credit := _BYLINE.match(words)) is not None:
            facts = [("from", credit[1])]
        if not facts:
            break
        for name, value in facts:
            draft.header(row, name, value)
        at = end = at + 1
    return end


def read_facts_section(draft: Draft, heading: Row | None, rows: list[Row]) -> None:
    """Reads facts out of rows, the rest become notes. A heading that is itself a fact's name takes the words below."""
    name = label(plain(heading.text)) if heading is not None else None
    loose: list[Row] = []
    titles: list[Row] = []
    for at, row in enumerate(rows):
        if row.kind in (Kind.TEXT, Kind.ITEM, Kind.HEADING, Kind.NUMBER):
            words = plain(row.text)
            facts = read_facts(words, free=False) if len(words) < 200 else None
            if not facts and name and row.text:
                facts = _under(name, words)
            if facts and not (row.kind is Kind.TEXT and not row.after_blank and at and _prose(rows[at - 1])):
                draft.loose_notes(loose)
                loose = []
                for key, value in facts:
                    draft.header(row, key, value)
                continue
        elif row.kind is Kind.TABLE:
            titles = _facts_table(draft, rows, at, row, titles)
            if row.number in draft.roles:
                continue
        loose.append(row)
    draft.loose_notes(loose)


def _prose(row: Row) -> bool:
    """Whether a row is a line of running text, of which the next line is a part."""
    return row.kind is Kind.TEXT and not row.hard and len(row.text) > 60


def _under(name: str, words: str) -> list[tuple[str, str]] | None:
    return read_facts(f"{name}: {words}", free=name in ("tags",)) if len(words) < 80 else None


def _facts_table(draft: Draft, rows: Sequence[Row], at: int, row: Row, titles: list[Row]) -> list[Row]:
    """A table of facts: names in its head and values below, or a name and a value in each row."""
    cells = [replace(cell, text=plain(cell.text)) for cell in cells_of(row)]
    below = rows[at + 1] if at + 1 < len(rows) else None
    if not any(cell.text for cell in cells):
        draft.mark(row, Role.LAYOUT)
        return []
    if below is not None and below.kind is Kind.LAYOUT and below.mark == "|":
        if all(label(cell.text) for cell in cells if cell.text) and any(cell.text for cell in cells):
            draft.mark(row, Role.HEADER)
            return cells
        if len(cells) == 2 and (facts := read_facts(f"{cells[0].text}: {cells[1].text}", free=False)):
            for name, value in facts:
                draft.header(row, name, value)
        return []
    if titles and len(titles) == len(cells):
        for title, cell in zip(titles, cells, strict=True):
            for name, value in read_facts(f"{title.text}: {cell.text}", free=True) or []:
                draft.header(row, name, value)
        return titles
    if len(cells) == 2 and (facts := read_facts(f"{cells[0].text}: {cells[1].text}", free=False)):
        for name, value in facts:
            draft.header(row, name, value)
    return titles


def take_front_matter(draft: Draft, front: FrontMatter, lines: Sequence[Line]) -> str:
    """Reads a front matter's entries into the draft; returns the title it names, or ""."""
    title = ""
    for number in front.borders:
        draft.roles[number] = SourceLine(number, Role.LAYOUT, number)
    for entry in front.entries:
        row = _row(entry.line, lines)
        words = " ".join(value.text for value in entry.values if value.text).strip()
        section = _listing(entry) if len(entry.values) <= _MOST_LISTED else None
        if entry.key in _TITLES and words and not title:
            title = words
            draft.mark(row, Role.TITLE)
        elif section is Section.INGREDIENTS and (entry.values or entry.block):
            draft.mark(row, Role.SECTION, key="ingredients")
            _listed(draft, entry, lines, steps=False)
        elif section is Section.METHOD and (entry.block or (entry.values and _is_method(entry))):
            draft.mark(row, Role.SECTION, key="method")
            _listed(draft, entry, lines, steps=True)
        else:
            _header_entry(draft, entry, row, words, lines)
    return title


_MOST_LISTED = 1000
_TITLES = ("title", "name", "recipe", "recipe name", "recipename", "titel", "titre", "titulo", "título", "titolo")


def _listing(entry: Entry) -> Section | None:
    """Whether an entry lists ingredients or steps."""
    key = entry.key.replace("_", " ").replace("-", " ")
    found = read_heading(key)
    if found is not None and found.section in (Section.INGREDIENTS, Section.METHOD):
        return found.section
    if label(key) or found is not None or not is_listing(key):
        return None
    return Section.INGREDIENTS if _BOUGHT.search(key) else Section.METHOD


_BOUGHT = re.compile(r"ingredient|zutat", re.IGNORECASE)


def _is_method(entry: Entry) -> bool:
    return entry.listed or sum(len(value.text) for value in entry.values) > 40


def _listed(draft: Draft, entry: Entry, lines: Sequence[Line], steps: bool) -> None:
    if entry.block is not None:
        first, stop = entry.block
        rows = rows_of(lines[first:stop], first + 1)
        if steps:
            read_steps(draft, rows, lines_are_steps=entry.listed)
        else:
            read_list(draft, rows, None, None)
        return
    group: str | None = None
    for value in entry.values:
        row = _value_row(value, lines)
        if value.group and value.group != group:
            group = value.group
        if not value.text:
            draft.mark(row, Role.GROUP)
        elif steps:
            read_steps(draft, [row], lines_are_steps=True)
        elif entry.listed:
            read_list(draft, [row], group, None)
        else:
            read_list(draft, [replace(row, text=part) for part in cut_list(value.text)], group, None)


def _header_entry(draft: Draft, entry: Entry, row: Row, words: str, lines: Sequence[Line]) -> None:
    key = entry.key.replace("_", " ").replace("-", " ")
    name = label(key) or _SPELLED.get(key.replace(" ", ""))
    if name == "tags":
        tags = [value.text for value in entry.values if value.text]
        draft.header(row, "tags", ", ".join(tags))
    elif name == "serves" and read_makes(words) is not None and read_serves(words) is None:
        draft.header(row, "makes", words)
    elif name is not None and words:
        draft.header(row, name, words)
    elif words or not (entry.values or entry.block):
        draft.note([replace(row, text=f"{entry.key}: {words}".strip())])
    else:
        draft.mark(row, Role.LAYOUT)
    if entry.block is not None:
        draft.loose_notes(rows_of(lines[entry.block[0] : entry.block[1]], entry.block[0] + 1))
    for value in entry.values:
        if value.line != entry.line:
            draft.mark(_value_row(value, lines), Role.HEADER if name else Role.NOTE, entry.line, name or "")


_SPELLED = {
    "preptime": "prepare",
    "cooktime": "cook",
    "totaltime": "all",
    "recipeyield": "makes",
    "author": "from",
    "by": "from",
    "recipecategory": "tags",
    "recipecuisine": "tags",
    "baketime": "cook",
}


def _row(number: int, lines: Sequence[Line]) -> Row:
    raw = lines[number - 1].words
    start = len(raw) - len(raw.lstrip())
    return Row(number, Kind.TEXT, raw.strip(), 0, start, len(raw.rstrip()), after_blank=True)


def _value_row(value: Value, lines: Sequence[Line]) -> Row:
    raw = lines[value.line - 1].words
    return Row(
        value.line, Kind.ITEM, value.text, 0, min(value.start, len(raw)), len(raw.rstrip()), after_blank=True, mark="-"
    )
