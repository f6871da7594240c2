"""The rows of a list of ingredients: lines, groups, notes to a line, tables."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from recipebox.cards.cells import cells_of
from recipebox.cards.columns import has_amount_column, line_of_cells
from recipebox.cards.content import side_by_side
from recipebox.cards.draft import Draft
from recipebox.cards.facts import read_facts
from recipebox.cards.headings import is_group_word, is_heading
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.inline import plain
from recipebox.cards.measured import only_measure
from recipebox.cards.model import Role
from recipebox.cards.outline import cut_list, is_row_of_things
from recipebox.cards.rows import BOLD, Kind, Row
from recipebox.cards.signs import (
    has_amount,
    is_chat,
    is_sentence,
    is_staple,
    looks_ingredient,
    starts_with_amount,
    step_likeness,
)

# "375 for 30-35 min.": the oven and how long, in a hurry.
_HEAT_AND_TIME = re.compile(
    r"\d{3}\s*(?:°\s*)?[FC]?\s*(?:,|for|-)?\s*\d+[\s\d–-]*(?:mins?|minutes?|hours?|hrs?)\b", re.IGNORECASE
)
_COMPONENT = re.compile(
    r"(?:for|to make|fur|für|pour|para|per|voor|til|na) (?:the|a|each|den|die|das|la|le|les|el|il|de|het)?\b.{2,40}$",
    re.IGNORECASE,
)
_PICTOGRAM = re.compile(r"^(?:[\U0001F000-\U0001FAFF\u2600-\u27bf][\ufe0f\u200d]*\s*)+")
_DOING = re.compile(
    r"\b(?:chopped|sliced|diced|drained|minced|grated|peeled|melted|beaten|softened|optional)\b", re.IGNORECASE
)
_OR = re.compile(
    r"(?:or|and|plus|note|tip|use|i |you |if |see|such as|like|e\.g|preferably|ideally|substitute|sub |optional|\()\b",
    re.IGNORECASE,
)


def read_list(draft: Draft, rows: Sequence[Row], group: str | None, measures: str | None) -> None:
    """Reads the rows of an ingredients section into the draft, under `group` until a row names another."""
    _List(draft, group, measures, list(rows)).read()


@dataclass(slots=True)
class _Open:
    """The ingredient whose continuation lines may still come."""

    rows: list[Row]
    group: str | None


class _List:
    def __init__(self, draft: Draft, group: str | None, measures: str | None, rows: list[Row]) -> None:
        self.draft = draft
        self.group = group
        self.outer = group
        self.measures = measures
        self.rows = rows
        self.open: _Open | None = None
        self.parent: Row | None = None
        self.parent_is_group = False
        solid = [row for row in rows if row.kind is not Kind.BLANK]
        self.following = _following(rows)
        self.has_items = any(row.kind in (Kind.ITEM, Kind.NUMBER) for row in solid)
        texts = [row for row in solid if row.kind is Kind.TEXT]
        self.shaped = bool(texts) and not self.has_items and any(row.indent >= 1 for row in texts)
        self.amounts = sum(starts_with_amount(plain(row.text)) for row in texts) if texts else 0
        self.texts = len(texts)
        numbers = [row for row in solid if row.kind is Kind.NUMBER]
        self.counted = _are_counts(numbers)
        self.columns: list[str] | None = None
        # where groups are named in so many words, a bare word is none
        self.named = any(
            row.kind is Kind.HEADING or (row.text.rstrip("*_ ").endswith(":") and not starts_with_amount(row.text))
            for row in solid
        ) or any(_COMPONENT.match(row.text) for row in texts)
        self.blocks = sum(row.after_blank for row in texts)

    def read(self) -> None:
        for at, row in enumerate(self.rows):
            kind = row.kind
            if kind is Kind.BLANK:
                self.draft.mark(row, Role.BLANK)
                continue
            if kind is Kind.LAYOUT:
                self._close()
                self.draft.mark(row, Role.LAYOUT)
                continue
            if kind is not Kind.TABLE:
                self.columns = None
            if kind in (Kind.COMMENT, Kind.QUOTE) or row.text.startswith("[^"):
                self._close()
                self.draft.note([row])
            elif kind is Kind.TABLE:
                self._close()
                self._table(at, row)
            elif kind is Kind.HEADING:
                self._heading(at, row)
            elif kind is Kind.TEXT:
                self._text(at, row)
            else:
                self._item(at, row)
        self._close()

    def _heading(self, at: int, row: Row) -> None:
        words = plain(row.text)
        self._close()
        if facts := read_facts(words, free=False):
            for name, value in facts:
                self.draft.header(row, name, value)
        elif row.level >= BOLD and looks_ingredient(words) and starts_with_amount(words):
            self._begin(row)
        elif row.level >= BOLD and (is_sentence(words) or is_chat(words) or step_likeness(words) >= 0.6):
            self.draft.note([row])
        else:
            self._name_group(row, words)

    def _item(self, at: int, row: Row) -> None:
        words = plain(row.text)
        if row.kind is Kind.NUMBER and self.counted:
            row = replace(row, start=row.begin, text=row.mark + " " + row.text)
            words = plain(row.text)
        nested = self.parent is not None and row.indent > self.parent.indent + 1
        if not nested:
            if self.parent_is_group:
                self.group = self.outer if row.indent == (self.parent.indent if self.parent else 0) else self.group
                if not (words.endswith(":") or self._deeper_next(at, row)):
                    self.parent_is_group = False
            self.parent = row
        if facts := read_facts(words, free=False):
            self._close()
            for name, value in facts:
                self.draft.header(row, name, value)
            return
        names = not starts_with_amount(words) and (words.endswith(":") or self._names_group(row, words, at))
        if names and self._more_below(at):
            self._name_group(row, words)
            self.parent, self.parent_is_group = row, True
            return
        if nested and not self.parent_is_group and not (starts_with_amount(words) and not _OR.match(words)):
            self._close()
            self.draft.note([row])
            return
        self._begin(row)

    def _text(self, at: int, row: Row) -> None:
        words = plain(row.text)
        before = self.open
        if before is not None and not row.after_blank and before.rows[-1].number == row.number - 1:
            first = before.rows[0]
            if first.kind in (Kind.ITEM, Kind.NUMBER):
                if not (
                    starts_with_amount(words) and row.indent <= first.indent and len(words) > 3
                ) and not words.endswith(":"):
                    before.rows.append(row)
                    return
            elif self._continues(before.rows[-1], row, words):
                before.rows.append(row)
                return
        if facts := read_facts(words, free=False):
            self._close()
            for name, value in facts:
                self.draft.header(row, name, value)
            return
        if row.text.startswith("!["):
            self._close()
            self.draft.note([row])
        elif not starts_with_amount(words) and self._text_names_group(at, row, words):
            self._name_group(row, words)
        elif self._is_prose(at, row, words):
            self._close()
            self.draft.note([row])
        else:
            self.parent = None
            self._begin(row)

    def _continues(self, before: Row, row: Row, words: str) -> bool:
        if before.hard or starts_with_amount(words):
            return before.text.rstrip().endswith("(") or _open_bracket(before.text)
        if row.indent > before.indent and not self.shaped:
            return True
        if row.indent > before.indent + 1 and before.indent > 0:
            return True
        return (before.text.rstrip().endswith(",") and words[:1].islower()) or _open_bracket(before.text)

    def _text_names_group(self, at: int, row: Row, words: str) -> bool:
        if len(words) > 60 or not self._more_below(at):
            return False
        if words.endswith(":"):
            return True
        if self.shaped and row.indent == 0 and not self.has_items:
            below = self.following[at]
            return below is not None and below.kind is Kind.TEXT and below.indent > 0
        if is_sentence(words):
            return False
        if _COMPONENT.match(words) or is_heading(words):
            return True
        below = self.following[at]
        if below is None:
            return False
        if self.has_items:
            return below.kind in (Kind.ITEM, Kind.NUMBER) and words.count(" ") < 6 and not is_staple(words)
        if words.isupper() and words.count(" ") < 5 and below.text != below.text.upper():
            return True
        tight = below.number == row.number + 1
        if (
            is_group_word(words)
            and tight
            and starts_with_amount(plain(below.text))
            and self.amounts * 10 >= self.texts * 5
        ):
            return True  # "Sauce" over its own amounts
        return (
            row.after_blank
            and tight
            and (bool(self.draft.ingredients) or self.blocks > 1)
            and not self.named
            and not is_staple(words)
            and words.count(" ") < 4
            and self.amounts * 10 >= self.texts * 5
            and starts_with_amount(plain(below.text))
            and words[:1].isupper()
            and "," not in words
        )

    def _names_group(self, row: Row, words: str, at: int) -> bool:
        """A list item that heads the deeper items below it, or the items beside it."""
        if self._deeper_next(at, row):
            below = self.following[at]
            bold = row.text.startswith(("**", "__"))
            return (
                bold
                or is_group_word(words)
                or (below is not None and starts_with_amount(plain(below.text)) and not _OR.match(plain(below.text)))
            )
        return bool(re.match(r"(?:for|to make) (?:the|each|a) [\w' -]{2,40}$", words, re.IGNORECASE)) or (
            row.text.startswith(("**", "__")) and row.text.endswith(("**", "__")) and is_heading(words)
        )

    def _deeper_next(self, at: int, row: Row) -> bool:
        below = self.following[at]
        return below is not None and below.kind in (Kind.ITEM, Kind.NUMBER) and below.indent > row.indent + 1

    def _more_below(self, at: int) -> bool:
        return self.following[at] is not None

    def _is_prose(self, at: int, row: Row, words: str) -> bool:
        if starts_with_amount(words):
            return _HEAT_AND_TIME.match(words) is not None or (len(words) > 160 and is_sentence(words))
        if is_chat(words):
            return True
        if is_row_of_things(words):
            return False
        return (words.count(" ") >= 5 and is_sentence(words) and not looks_ingredient(words)) or len(words) > 160

    def _name_group(self, row: Row, words: str) -> None:
        self._close()
        self.group = words.strip(" :*_-–—#") or self.group
        self.draft.mark(row, Role.GROUP, key=(self.group or "").casefold())

    def _begin(self, row: Row) -> None:
        self._close()
        self.open = _Open([row], self.group)

    def _close(self) -> None:
        if self.open is None:
            return
        rows, group = self.open.rows, self.open.group
        self.open = None
        for column in (columns := side_by_side(rows[0].text) if len(rows) == 1 else []):  # two lists side by side
            self._add(rows, plain(column), group)
        if columns:
            return
        words = " ".join(text for text in (plain(row.text) for row in rows) if text)
        parts = cut_list(words) if rows[0].kind is Kind.TEXT and max(words.count(","), words.count(";")) > 1 else []
        amounts = sum(has_amount(part) for part in parts)
        if len(parts) > 2 and self.texts <= 2 and (amounts > 2 or (self.texts == 1 and not _DOING.search(words))):
            for part in parts:  # all of them typed one after another
                self._add(rows, part, group)
            return
        self._add(rows, words, group)

    def _add(self, rows: list[Row], words: str, group: str | None) -> None:
        words = _PICTOGRAM.sub("", words)
        if not any(character.isalnum() for character in words):
            self.draft.loose_notes(rows)
            return
        read = read_ingredient(words, rows[0].number, group, sure_metric=self.measures == "metric")
        if read.kind != "ingredient" or read.line != rows[0].number or read.group != group:
            # the place in the card says that it is an ingredient, whatever its words look like alone
            read = replace(read, kind="ingredient", line=rows[0].number, group=group)
        if not read.item:
            read = replace(read, item=words, items=(words,))
        self.draft.ingredients.append(read)
        for row in rows:
            self.draft.mark(row, Role.INGREDIENT, rows[0].number)

    def _table(self, at: int, row: Row) -> None:
        cells = [replace(cell, text=plain(cell.text)) for cell in cells_of(row)]
        below = self.rows[at + 1] if at + 1 < len(self.rows) else None
        if self.columns is None:
            headed = row.mark == "th" or (below is not None and below.kind is Kind.LAYOUT and below.mark == "|")
            self.columns = [cell.text.casefold().strip(" :") for cell in cells] if headed else []
            if (
                headed
                and cells
                and not (starts_with_amount(cells[0].text) or (cells[0].text and only_measure(cells[-1].text)))
            ):
                self.draft.mark(row, Role.LAYOUT)
                return
        filled = [cell for cell in cells if cell.text]
        if not filled:
            self.draft.mark(row, Role.LAYOUT)
            return
        whole = [cell for cell in filled if starts_with_amount(cell.text) and only_measure(cell.text) is None]
        if len(filled) > 1 and len(whole) == len(filled) and not has_amount_column(self.columns):
            for cell in cells:
                if cell.text:
                    name = (
                        self.columns[cells.index(cell)]
                        if self.columns and cells.index(cell) < len(self.columns)
                        else ""
                    )
                    group = self.group if not name or "ingredient" in name else name.capitalize()
                    self._add([cell], cell.text, group)
            return
        if len(filled) == 1 and not starts_with_amount(filled[0].text) and row.text.count("**") >= 2:
            self._name_group(row, filled[0].text)
            return
        self._add([row], line_of_cells(cells, self.columns), self.group)


def _following(rows: Sequence[Row]) -> list[Row | None]:
    """For each row the next one with words."""
    found: list[Row | None] = [None] * len(rows)
    below: Row | None = None
    for at in range(len(rows) - 1, -1, -1):
        found[at] = below
        if rows[at].kind not in (Kind.BLANK, Kind.LAYOUT, Kind.COMMENT):
            below = rows[at]
    return found


def _are_counts(numbers: Sequence[Row]) -> bool:
    """Numbers before ingredients that do not count up are amounts ("2 - small onions"), not places in the list."""
    values = [re.sub(r"\D", "", row.mark) for row in numbers]
    if not values or not all(value.isdigit() for value in values) or any(row.mark[-1] in ".)" for row in numbers):
        return False
    return [int(value) for value in values] != list(range(1, len(values) + 1))


def _open_bracket(words: str) -> bool:
    return words.count("(") > words.count(")")
