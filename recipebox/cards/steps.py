"""The rows of a method: what is one step, what names a group of steps, what is a note among them."""

import re
from collections.abc import Sequence
from itertools import pairwise

from recipebox.cards.cells import cells_of
from recipebox.cards.draft import Draft
from recipebox.cards.facts import label, read_facts
from recipebox.cards.inline import plain
from recipebox.cards.model import Role
from recipebox.cards.rows import BOLD, ITALIC, Kind, Row
from recipebox.cards.sectionwords import Section, read_heading
from recipebox.cards.signs import (
    begins_with_verb,
    is_chat,
    is_greeting,
    is_order,
    is_remark,
    is_sentence,
    step_likeness,
)

_STEP_NAME = re.compile(
    r"(?:step|schritt|étape|etape|paso|passo|stap|steg|trin|krok|vaihe|part|teil|day|stage)?\s*(?:\d{1,2}"
    r"|[ivx]{1,4}|one|two|three|four|five|six|seven|eight)\s*[.):-]*$",
    re.IGNORECASE,
)
_LINKS_ONLY = re.compile(r"(?:\[[^\[\]]{1,80}\]\([^()\s]{1,200}\)[\s|·•,/<>«»←→–—-]{0,5})+")
_DEFINITION = re.compile(r"\[\^?[^\[\]]{1,40}\]:\s")
_RUN_IN_NOTE = re.compile(
    r"(?:notes?|tips?|hints?|n\.?b\.?|p\.?s\.?|source|variations?|variants?|serve with|serving suggestions?"
    r"|serving ideas?|keeps|storage|to store|leftovers|make ahead|yield|nutrition|edit|update|pro tip|optional tip"
    r"|chef's tip|cook's (?:tip|note)|warning|tipp|hinweis|astuce|consejo|consiglio|wskazówka)\s*[:—–-]",
    re.IGNORECASE,
)


def read_steps(draft: Draft, rows: Sequence[Row], lines_are_steps: bool) -> None:
    """Reads the rows of a method into the draft.

    A paragraph is one step, a list item is one step. With `lines_are_steps` a row that was not wrapped is a step of
    its own (texts that are no Markdown).
    """
    solid = [row for row in rows if row.kind not in (Kind.BLANK, Kind.LAYOUT, Kind.COMMENT)]
    listed = sum(row.kind in (Kind.ITEM, Kind.NUMBER) for row in solid)
    split = _rows_split(rows, lines_are_steps)
    names = _paragraph_names(rows)
    places = _Places(rows)
    held: list[Row] = []
    after_list = False
    blank = False
    last_item: Row | None = None

    def flush() -> None:
        if held:
            draft.step(list(held))
            held.clear()

    for at, row in enumerate(rows):
        kind = row.kind
        if kind is Kind.BLANK:
            draft.mark(row, Role.BLANK)
            blank = True
            continue
        if kind is Kind.LAYOUT:
            flush()
            draft.mark(row, Role.LAYOUT)
            blank = True
            continue
        picture = row.text.startswith("![") and row.text.endswith(")")
        picture = picture or (kind is Kind.TEXT and row.after_blank and _LINKS_ONLY.fullmatch(row.text) is not None)
        if kind in (Kind.COMMENT, Kind.QUOTE) or picture or _DEFINITION.match(row.text):
            if kind is Kind.QUOTE and held and not row.after_blank and rows[at - 1].kind is not Kind.QUOTE:
                flush()
            if kind is not Kind.TEXT:
                flush()
            draft.note([row])
            continue
        words = plain(row.text)
        if at in names:
            flush()
            draft.mark(row, Role.GROUP, key=words.casefold())
        elif kind is Kind.HEADING:
            flush()
            _heading(draft, rows, at, row, words, listed > 0)
            last_item = None
        elif kind is Kind.TABLE:
            flush()
            _table(draft, rows, at, row)
        elif kind in (Kind.ITEM, Kind.NUMBER):
            flush()
            if _names_steps(rows, at, row, words):
                draft.mark(row, Role.GROUP, key=words.strip(" :").casefold())
            elif facts := read_facts(words, free=False):
                for name, value in facts:
                    draft.header(row, name, value)
            elif _is_labelled_note(words):
                draft.note([row])
            else:
                held.append(row)
            last_item = row
            after_list = True
        elif (held and not row.after_blank and not (split and at in split)) or (
            held
            and last_item is not None
            and row.after_blank
            and row.indent >= 2
            and row.indent > last_item.indent
            and not _is_labelled_note(words)
        ):
            held.append(row)
        else:
            flush()
            if facts := read_facts(words, free=False):
                for name, value in facts:
                    draft.header(row, name, value)
            elif not any(character.isalnum() for character in words):
                draft.note([row])
            elif _text_names_steps(rows, at, row, words):
                draft.mark(row, Role.GROUP, key=words.strip(" :").casefold())
            elif _is_note(words, rows, at, places, after_list and listed * 2 > len(solid) and blank):
                if row.number not in draft.roles:
                    draft.note(list(rows[at : places.ends[at]]))
            elif row.number not in draft.roles:
                held.append(row)
                last_item = None if row.indent < 2 else last_item
        blank = False
    flush()


def _is_labelled_note(words: str) -> bool:
    """ "Tip: ...", "Macros: 420 kcal", "Tags: #quick": what the name before the colon says is no step."""
    if _RUN_IN_NOTE.match(words):
        return True
    name, colon, behind = words[:40].partition(":")
    if not colon or not behind or name.count(" ") > 3:
        return False
    found = read_heading(name)
    return label(name) in ("tags", "picture", "came") or (
        found is not None and found.sure and found.section is Section.NOTES
    )


def _heading(draft: Draft, rows: Sequence[Row], at: int, row: Row, words: str, listed: bool) -> None:
    if facts := read_facts(words, free=False):
        for name, value in facts:
            draft.header(row, name, value)
        return
    below = next((r for r in rows[at + 1 : at + 40] if r.kind not in (Kind.BLANK, Kind.LAYOUT, Kind.COMMENT)), None)
    alone = below is None or (below.kind is Kind.HEADING and below.level <= row.level)
    if _is_labelled_note(words) or (
        row.level == ITALIC and (is_chat(words) or (is_sentence(words) and (listed or step_likeness(words) < 0.6)))
    ):
        draft.note([row])
    elif _STEP_NAME.match(words):
        draft.mark(row, Role.GROUP, key=words.casefold())
    elif (alone and step_likeness(words) >= 0.6) or (
        row.level >= BOLD and is_sentence(words) and step_likeness(words) >= 0.6
    ):
        draft.step([row])
    elif alone and is_chat(words):
        draft.note([row])
    else:
        draft.mark(row, Role.GROUP, key=words.strip(" :").casefold())


def _table(draft: Draft, rows: Sequence[Row], at: int, row: Row) -> None:
    below = rows[at + 1] if at + 1 < len(rows) else None
    if below is not None and below.kind is Kind.LAYOUT and below.mark == "|":
        draft.mark(row, Role.LAYOUT)
        return
    cells = [cell for cell in cells_of(row) if plain(cell.text) and not _STEP_NAME.match(plain(cell.text))]
    if cells:
        draft.step(cells)
    else:
        draft.mark(row, Role.LAYOUT)


def _names_steps(rows: Sequence[Row], at: int, row: Row, words: str) -> bool:
    """A list item that heads the items below it: "For the sauce:", "**Dough**"."""
    below = next((r for r in rows[at + 1 : at + 12] if r.kind not in (Kind.BLANK, Kind.LAYOUT)), None)
    if below is None or below.kind not in (Kind.ITEM, Kind.NUMBER) or below.indent <= row.indent + 1:
        return False
    whole_bold = row.text.startswith("**") and row.text.rstrip(":").endswith("**") and row.text.count("**") == 2
    if words.count(" ") > 7:
        return False
    bare = words.count(" ") < 3 and not is_sentence(words) and not is_order(words) and "," not in words
    return whole_bold or bare or (words.endswith(":") and words.count(" ") < (4 if is_order(words) else 6))


def _text_names_steps(rows: Sequence[Row], at: int, row: Row, words: str) -> bool:
    if len(words) > 60 or words.endswith((".", "!", "?", ",")):
        return False
    below = next((r for r in rows[at + 1 : at + 40] if r.kind not in (Kind.BLANK, Kind.LAYOUT)), None)
    if below is None:
        return False
    if _STEP_NAME.match(words):
        return True
    if words.endswith(":"):
        return words.count(" ") < 4 or not is_order(words)
    if words.isupper() and below.text != below.text.upper():
        return True
    short = words.count(" ") < 5 and step_likeness(words) < 0.6
    return short and below.kind in (Kind.ITEM, Kind.NUMBER) and row.after_blank and not words[:1].islower()


class _Places:
    """Where each row's paragraph ends, the last row with words, the last list item, and the row with words above."""

    def __init__(self, rows: Sequence[Row]) -> None:
        self.ends = list(range(1, len(rows) + 1))
        self.above: list[Row | None] = []
        self.last = self.last_item = -1
        before: Row | None = None
        for at, row in enumerate(rows):
            self.above.append(before)
            before = before if row.kind is Kind.BLANK else row
            if row.kind not in (Kind.BLANK, Kind.LAYOUT, Kind.COMMENT):
                self.last = at
            if row.kind in (Kind.ITEM, Kind.NUMBER):
                self.last_item = at
        for at in range(len(rows) - 2, -1, -1):
            if rows[at + 1].kind is Kind.TEXT and not rows[at + 1].after_blank:
                self.ends[at] = self.ends[at + 1]


def _is_note(words: str, rows: Sequence[Row], at: int, places: _Places, after_list: bool) -> bool:
    if _is_labelled_note(words) or is_greeting(words):
        return True
    last = places.ends[at]
    if after_list:
        if places.last_item >= at:
            return step_likeness(words) < 0.5
        return step_likeness(words) < 0.7 or is_remark(_words(rows[at : min(last, at + _MOST_LINES)]))
    if is_chat(words) and step_likeness(words) < 0.5:
        return True
    if places.last >= last or not at:
        return False
    paragraph = _words(rows[at : min(last, at + _MOST_LINES)])
    above = places.above[at]
    ruled = above is not None and above.mark == "rule" and step_likeness(paragraph) < 0.8
    return ruled or is_remark(paragraph)


_MOST_LINES = 30  # of a paragraph, to tell a remark by


def _words(rows: Sequence[Row]) -> str:
    return " ".join(plain(row.text) for row in rows)


def _paragraph_names(rows: Sequence[Row]) -> set[int]:
    """Places of lines that name the paragraph they open ("Shaping", then what to do), where most paragraphs do so."""
    starts = [at for at, row in enumerate(rows) if row.kind is Kind.TEXT and row.after_blank]
    named = {
        at
        for at in starts
        if at + 1 < len(rows)
        and rows[at + 1].kind is Kind.TEXT
        and not rows[at + 1].after_blank
        and rows[at].text.count(" ") < 3
        and rows[at].text[:1].isupper()
        and rows[at].text[-1:].isalpha()
        and is_sentence(plain(rows[at + 1].text))
    }
    return named if len(named) > 1 and len(named) * 2 > len(starts) else set()


_SENTENCE_END = re.compile(r"[.!?:;)…][\"')\]”’*_]*$")
_NUMBERED = re.compile(r"[\w]")


def _rows_split(rows: Sequence[Row], lines_are_steps: bool) -> set[int]:
    """Places of rows inside paragraphs that begin a step of their own: behind a hard break, or where a line that
    had room for the next word ends a sentence."""
    texts = [row for row in rows if row.kind is Kind.TEXT]
    if not texts:
        return set()
    widest = max(row.end for row in texts)
    paragraphs = sum(row.after_blank for row in texts)
    deliberate = lines_are_steps or (paragraphs <= 1 and not any(r.kind in (Kind.ITEM, Kind.NUMBER) for r in rows))
    found: set[int] = set()
    candidates: set[int] = set()
    refused = False
    for at, (before, row) in enumerate(pairwise(rows), start=1):
        if row.kind is not Kind.TEXT or row.after_blank or before.kind is not Kind.TEXT:
            continue
        starts = row.text[:1].isupper() or row.text[:1].isdigit() or not row.text[:1].isalnum()
        ends = _SENTENCE_END.search(before.text.rstrip()) is not None
        if before.hard and starts and (ends or row.text[:1].isupper()):
            found.add(at)
            continue
        word = row.text.split(" ", 1)[0]
        room = before.end + 1 + len(word) <= widest
        if starts and (ends or (row.text[:1].isupper() and room)) and (room or ends):
            candidates.add(at)
        else:
            refused = True
    if deliberate and not refused:
        found |= candidates
    elif deliberate and len(texts) > 1 and all(len(row.text) < 60 and _orders(row) for row in texts):
        found |= {at for at, row in enumerate(rows) if row.kind is Kind.TEXT and not row.after_blank}
    return found


def _orders(row: Row) -> bool:
    """Whether a line is an order of its own, though nobody typed a capital or a full stop."""
    return row.text[-1:] not in ",;" and begins_with_verb(plain(row.text))
