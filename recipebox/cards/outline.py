"""A recipe's rows cut into sections by its headings, and what each section holds."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from recipebox.cards.cells import broken_lines, cells_of
from recipebox.cards.facts import read_facts
from recipebox.cards.inline import plain
from recipebox.cards.measured import only_measure
from recipebox.cards.rows import BOLD, ITALIC, Kind, Row
from recipebox.cards.sectionwords import Heading, Section, read_heading
from recipebox.cards.signs import has_amount, is_sentence, starts_with_amount, step_likeness


@dataclass(slots=True)
class Piece:
    """A heading and the rows below it. `section` is None where the words of the heading say nothing known."""

    section: Section | None
    heading: Row | None
    rows: list[Row] = field(default_factory=list)
    group: str | None = None
    key: str = ""
    level: int = 0
    run_in: bool = False

    @property
    def words(self) -> str:
        """The heading's words, without a colon."""
        return plain(self.heading.text).strip(" :") if self.heading is not None else ""


_RUN_IN = re.compile(r"\W*([^\W\d_][^:.!?]{2,40}?)\s*[*_]*\s*:[*_]*\s+(\S.*)$")
_DOTTED = re.compile(r"\W*([^\W\d_][^:.!?·•|]{2,30}?)\s*[*_]*\s+[·•|]\s+(\S.*)$")
_NEED_RUN_IN = re.compile(
    r"((?:you|we)(?:'ll|’ll| will)? need|you(?:'ll|’ll| will)? want|zutaten|il (?:vous )?faut)\s+(?=\d|an? |some "
    r"|½|¼|¾)(.*)$",
    re.IGNORECASE,
)
_NOTE_RUN_IN = frozenset(("notes", "note", "tips", "tip", "source", "sources", "variation", "variations"))


def pieces_of(rows: Sequence[Row], keep: Sequence[str] = ()) -> list[Piece]:
    """The pieces of one recipe's rows, the first without a heading. `keep` names sections believed also in plain
    words whatever stands around them (the tool's own)."""
    pieces = [Piece(None, None)]
    passed = 0
    for at, row in enumerate(rows):
        if at < passed:
            continue
        if row.kind is Kind.TEXT and row.after_blank and (found := _need_in_prose(rows, at)) is not None:
            before, listed, after, passed = found
            pieces[-1].rows += before
            pieces += [Piece(Section.INGREDIENTS, None, listed, run_in=True), Piece(None, None, after)]
            continue
        if row.kind is Kind.TABLE and (columns := _columns(rows, at)) is not None:
            found_pieces, passed = columns
            pieces += [*found_pieces, Piece(None, None)]
            continue
        piece = _opened(rows, at, row, keep) or _labelled_list(row, pieces[-1])
        last = pieces[-1]
        if piece is not None:
            pieces.append(piece)
        elif last.run_in and last.section is Section.INGREDIENTS and row.after_blank and row.kind in _PROSE:
            pieces.append(Piece(None, None, [row]))
        else:
            pieces[-1].rows.append(row)
    return pieces


_PROSE = (Kind.TEXT, Kind.NUMBER)


def _columns(rows: Sequence[Row], at: int) -> tuple[list[Piece], int] | None:
    """A table that has ingredients in one column and the method in another, as pieces; the place behind it."""
    heads = [read_heading(plain(cell.text)) for cell in cells_of(rows[at])]
    sections = [head.section for head in heads if head is not None]
    if Section.INGREDIENTS not in sections or Section.METHOD not in sections:
        return None
    stop = at + 1
    while stop < len(rows) and (rows[stop].kind is Kind.TABLE or rows[stop].mark == "|"):
        stop += 1
    pieces = []
    for place, head in enumerate(heads):
        if head is None:
            continue
        piece = Piece(head.section, None, [], head.group, head.key, run_in=True)
        for row in rows[at + 1 : stop]:
            cells = cells_of(row) if row.kind is Kind.TABLE else []
            if place < len(cells):
                piece.rows += [
                    replace(part, kind=Kind.ITEM, after_blank=True, mark="-") for part in broken_lines(cells[place])
                ]
        pieces.append(piece)
    return pieces, stop


def heading_of(rows: Sequence[Row], at: int) -> Heading | None:
    """The section that the row at this place opens by known words, run-in headings aside."""
    row = rows[at]
    if row.kind is Kind.HEADING:
        words = plain(row.text)
        found = read_heading(words)
        if found is None or (row.level == ITALIC and not found.sure):
            return None
        if found.section is Section.FACTS and row.level == ITALIC:
            return None
        return found
    size = len(row.text)
    if size > 70 or row.kind not in (Kind.TEXT, Kind.ITEM, Kind.NUMBER):
        return None
    last = row.text[-1:]
    if last in ".,;!?" and last != "":
        return None
    words = plain(row.text)
    colon = words.endswith((":", ":-", "："))
    if row.kind is not Kind.TEXT:
        return _item_heading(rows, at, row, words, colon)
    if not colon and (words.count(" ") > 5 or (words[:1].islower() and words.count(" ") > 1)):
        return None
    found = read_heading(words)
    if found is None or (found.section is Section.RECIPE and not colon):
        return None
    if found.section is Section.FACTS:
        return None
    if colon:
        return found if found.sure or found.section is not Section.NOTES else None
    if not found.sure and not (words.isupper() and row.after_blank):
        return None
    below = rows[at + 1] if at + 1 < len(rows) else None
    stands_alone = below is None or below.kind is not Kind.TEXT or below.after_blank or below.indent > row.indent
    return found if row.after_blank or stands_alone or words.isupper() else None


def _item_heading(rows: Sequence[Row], at: int, row: Row, words: str, colon: bool) -> Heading | None:
    below = next((r for r in rows[at + 1 : at + 4] if r.kind is not Kind.BLANK), None)
    if below is None:
        return None
    deeper = below.kind in (Kind.ITEM, Kind.NUMBER, Kind.TEXT) and below.indent > row.indent + 1
    bold = row.text.startswith(("**", "__"))
    if not (deeper or ((colon or bold) and row.kind is Kind.NUMBER)):
        return None
    found = read_heading(words)
    if found is None or not found.sure or found.section in (Section.FACTS, Section.RECIPE):
        return None
    return found


def _opened(rows: Sequence[Row], at: int, row: Row, keep: Sequence[str]) -> Piece | None:
    if row.kind in (Kind.BLANK, Kind.LAYOUT, Kind.TABLE, Kind.COMMENT, Kind.QUOTE):
        return None
    found = heading_of(rows, at)
    if found is not None:
        level = row.level if row.kind is Kind.HEADING else BOLD + 1
        return Piece(found.section, row, [], found.group, found.key, level)
    if row.kind is Kind.HEADING:
        words = plain(row.text)
        if read_facts(words, free=False) or row.level == ITALIC or (row.level == BOLD and starts_with_amount(words)):
            return _run_in(row) if row.level < BOLD else None
        return _run_in(row) or Piece(None, row, [], None, words.casefold().strip(" :"), row.level)
    return _run_in(row)


def _run_in(row: Row) -> Piece | None:
    """A heading with its text on the same line: "Ingredients: 2 eggs, 1 cup milk"."""
    match = _RUN_IN.match(row.text) if ":" in row.text[:50] else _DOTTED.match(row.text)
    if match is not None:
        if row.kind is Kind.HEADING and row.level < BOLD:
            return None
        found = read_heading(plain(match[1]))
        if found is None or found.section not in (Section.INGREDIENTS, Section.METHOD):
            return None
        if read_facts(plain(row.text), free=False) or not (found.sure or _bears_out(found.section, row.text, match[2])):
            return None
    else:
        match = _NEED_RUN_IN.match(row.text)
        if match is None or row.text.count(",") < 1:
            return None
        found = Heading(Section.INGREDIENTS, "ingredients")
    rest = replace(row, kind=Kind.TEXT, text=match[2], start=row.start + match.start(2), after_blank=True)
    rows = [rest]
    if found.section is Section.INGREDIENTS:
        rows = _cut_list(rest)
    return Piece(found.section, row, rows, found.group, found.key, BOLD + 1, run_in=True)


def _bears_out(section: Section, words: str, behind: str) -> bool:
    """Whether what stands behind a bold name that may mean a section ("**You want:** ...") is that section's."""
    if words[:2] not in ("**", "__"):
        return False
    return is_row_of_things(behind) if section is Section.INGREDIENTS else step_likeness(plain(behind)) >= 0.9


def _labelled_list(row: Row, before: Piece) -> Piece | None:
    """A bold name with its things behind it on one line: "**Dry**: 2 cups flour, 1 tsp salt"."""
    match = _LABELLED.match(row.text) if row.kind is Kind.TEXT else None
    if match is None:
        return None
    name = match[1] or match["bare"]
    named = read_heading(plain(name))
    if named is not None and named.section is not Section.INGREDIENTS:
        return None
    things = cut_list(match["things"])
    amounts = sum(starts_with_amount(thing) and len(thing) < 60 for thing in things)
    if match["bare"] and (amounts < len(things) or is_sentence(match["things"].rstrip("."))):
        return None
    more = before.run_in and before.section is Section.INGREDIENTS
    if amounts < (1 if more else 2) or amounts * 2 < len(things) or read_facts(plain(row.text), free=False):
        return None
    rest = replace(row, text=match["things"], start=row.start + match.start("things"), after_blank=True)
    return Piece(Section.INGREDIENTS, row, _cut_list(rest), plain(name).strip(" :"), "ingredients", run_in=True)


_LABELLED = re.compile(
    r"(?:(?:\*\*|__)([^*_]{2,40})(?:\*\*|__)\s*:?|(?P<bare>[A-ZÀ-Þ][\w &'-]{2,30}):)\s*(?P<things>\d.*|[½¼¾⅓⅔].*)$"
)


def _need_in_prose(rows: Sequence[Row], at: int) -> tuple[list[Row], list[Row], list[Row], int] | None:
    """A paragraph that says within a sentence what is needed: the rows before it, a row for each thing, the rows
    after it, and the place behind the paragraph."""
    stop = at + 1
    while stop < len(rows) and rows[stop].kind is Kind.TEXT and not rows[stop].after_blank and stop < at + 40:
        stop += 1
    paragraph = rows[at:stop]
    words = " ".join(row.text for row in paragraph)
    match = _NEED_SENTENCE.search(words)
    if match is None:
        return None
    things = _with_measures(cut_list(match[1]))
    if len(things) < 3 or sum(starts_with_amount(thing) for thing in things) < 2:
        return None
    listed = []
    place = match.start(1)
    for thing in things:
        place = words.find(thing, place)
        first = _cut(paragraph, place, place + len(thing))[0]
        listed.append(replace(first, kind=Kind.ITEM, text=thing))
        place += len(thing)
    return _cut(paragraph, 0, match.start()), listed, _cut(paragraph, match.end(), len(words)), stop


def _with_measures(things: list[str]) -> list[str]:
    """Things, each with a measure that stands behind it by itself: "whatever cheese is going, maybe 4 oz"."""
    joined: list[str] = []
    for thing in things:
        if joined and only_measure(_MAYBE.sub("", thing)) is not None:
            joined[-1] += f", {thing}"
        else:
            joined.append(thing)
    return joined


_MAYBE = re.compile(r"\A(?:maybe|perhaps|say)\s+", re.IGNORECASE)


def _cut(paragraph: Sequence[Row], start: int, end: int) -> list[Row]:
    """The rows that letters `start` to `end` of a joined paragraph come from, each with its share."""
    cut: list[Row] = []
    place = 0
    for row in paragraph:
        first, last = max(start - place, 0), min(end - place, len(row.text))
        if first < last and (text := row.text[first:last].strip()):
            at = row.start + row.text.index(text, first)
            cut.append(replace(row, text=text, start=at, end=at + len(text), after_blank=not cut))
        place += len(row.text) + 1
    return cut


_NEED_SENTENCE = re.compile(
    r"(?:(?<=[.!?:] )|^)(?:so |for (?:it|this|that|one) )?(?:you(?:'ll|’ll| will)?(?: also)? (?:need|want|take)"
    r"|take|i use)\s+"
    r"(?=\d|an? |some |half |½|¼|¾|two |three |four |about |around )((?:[^.!?]|\.(?=\d))+)[.!?]",
    re.IGNORECASE,
)
_LIST_CUT = re.compile(r"\s*;\s*|,\s+(?:and\s+)?(?![^()]*\))|\s+and\s+(?=\d|an? |some |half |½|¼|¾|two |three |four )")


_LONGEST_LIST = 5000  # letters; nobody types more things on a line
_DOTS = re.compile(r"\s+[·•|]\s+")


def cut_list(words: str) -> list[str]:
    """Things typed one after another, by dots, semicolons or else commas outside brackets."""
    words = words[:-1] if words.endswith(".") else words
    if len(words) > _LONGEST_LIST:
        return [words.strip()] if words.strip() else []
    cuts = _DOTS.split(words) if _DOTS.search(words) else words.split(";") if ";" in words else _LIST_CUT.split(words)
    return [cut.strip() for cut in cuts if cut.strip()]


def _cut_list(row: Row) -> list[Row]:
    """Ingredients typed one after another, each a row of its own."""
    words = row.text.rstrip()
    rows = []
    at = 0
    for cut in cut_list(words):
        found = words.find(cut, at)
        rows.append(
            replace(row, text=cut.strip(), start=row.start + found, end=row.start + found + len(cut), hard=True)
        )
        at = found + len(cut)
    return rows or [row]


def is_row_of_things(words: str) -> bool:
    """Things typed one after another on one line, at least half of them with amounts: "prawns (300 g), garlic"."""
    things = cut_list(words)
    if len(things) < 3 or is_sentence(words.rstrip(".")) or any(len(thing) > 40 for thing in things):
        return False
    measured = sum(has_amount(thing) for thing in things)
    return measured * 2 >= len(things) and not any(step_likeness(thing) >= 0.6 for thing in things)
