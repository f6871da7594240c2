"""What the rows of a piece look like: blocks, the items of lists, and how many are ingredients, steps or things."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from recipebox.cards.cells import cells_of
from recipebox.cards.inline import plain
from recipebox.cards.rows import Kind, Row
from recipebox.cards.signs import (
    has_amount,
    has_amount_within,
    is_greeting,
    is_sentence,
    looks_ingredient,
    step_likeness,
)


@dataclass(slots=True)
class Content:
    """How many of a piece's elements look like ingredients, like steps, like short things, like neither; how many are
    list items, how many of these have numbers, and how many lines begin or end with an amount."""

    ingredients: int = 0
    steps: int = 0
    things: int = 0
    others: int = 0
    listed: int = 0
    ordered: int = 0
    measured: int = 0

    @property
    def empty(self) -> bool:
        """Whether there is nothing at all."""
        return not (self.ingredients or self.steps or self.things or self.others)


def content_of(rows: Sequence[Row]) -> Content:
    """Counts what the elements of these rows look like; a paragraph is one element."""
    found = Content()
    for chunk in chunks_of(rows):
        first = chunk[0]
        if first.kind in (Kind.COMMENT, Kind.QUOTE, Kind.HEADING, Kind.LAYOUT) or first.text.startswith("!["):
            continue
        if first.kind in (Kind.ITEM, Kind.NUMBER, Kind.TABLE):
            for item in items_of(chunk):
                _count(found, item[0], plain(" ".join(row.text for row in item)))
            continue
        lines = [plain(row.text) for row in chunk]
        looks = [looks_ingredient(words) for words in lines]
        measured = sum(has_amount(words) for words in lines)
        if sum(looks) * 2 >= len(looks) and measured:
            found.ingredients += sum(looks)
            found.measured += measured
            continue
        if len(lines) > 1 and all(is_thing(words) or likely for words, likely in zip(lines, looks, strict=True)):
            found.ingredients += sum(looks)
            found.things += len(lines) - sum(looks)
            continue
        words = " ".join(lines)
        if step_likeness(words) >= 0.6:
            found.steps += 1
        elif len(chunk) == 1 and words.count(" ") < 5 and not is_sentence(words):
            found.things += 1
        else:
            found.others += 1
    return found


def items_of(chunk: Sequence[Row]) -> list[list[Row]]:
    """The items of a list, each with the lines that go on below it."""
    found: list[list[Row]] = []
    for row in chunk:
        if row.kind in (Kind.ITEM, Kind.NUMBER, Kind.TABLE):
            found.append([row])
        elif row.kind is Kind.TEXT and found:
            found[-1].append(row)
    return found


def _count(found: Content, row: Row, words: str) -> None:
    found.listed += 1
    found.ordered += row.kind is Kind.NUMBER
    if row.kind is Kind.TABLE and tells_steps(row):
        found.steps += 1
        return
    found.measured += has_amount(words)
    if looks_ingredient(words):
        found.ingredients += 1
    elif step_likeness(words) >= 0.6:
        found.steps += 1
    elif words.count(" ") < 6 and not is_sentence(words):
        found.things += 1
    else:
        found.others += 1


def tells_steps(row: Row) -> bool:
    """Whether a cell of a table's row reads like a step."""
    words = [plain(cell.text) for cell in cells_of(row)]
    return any(each.count(" ") > 1 and step_likeness(each) >= 0.6 for each in words)


def chunks_of(rows: Sequence[Row]) -> list[list[Row]]:
    """Blocks: rows of one kind with no blank line between them; a list takes its continuation lines along."""
    chunks: list[list[Row]] = []
    ended = True
    for row in rows:
        if row.kind is Kind.BLANK:
            ended = True
            if chunks:
                continue
            continue
        before = chunks[-1] if chunks else None
        new = ended or before is None
        if before is not None and not new:
            listed = before[0].kind in (Kind.ITEM, Kind.NUMBER)
            if row.kind is not before[0].kind and not (listed and row.kind is Kind.TEXT and not before[-1].hard):
                new = not (listed and row.kind in (Kind.ITEM, Kind.NUMBER) and row.indent > before[0].indent + 1)
            if (row.kind is Kind.LAYOUT and row.mark == "|" and before[0].kind is Kind.TABLE) or (
                before[0].kind is Kind.TABLE and row.kind is Kind.TABLE
            ):
                new = False
        if new:
            chunks.append([row])
        elif before is not None:
            before.append(row)
        ended = False
    return chunks


_TO_SERVE = re.compile(
    r",\s*(?:to (?:serve|garnish|decorate|finish)|for (?:serving|garnish(?:ing)?))\.?$", re.IGNORECASE
)


def side_by_side(text: str) -> list[str]:
    """The things of a line that has two or more with wide gaps between: "225g butter      4 eggs"; none otherwise."""
    columns = [column for column in _GAP.split(text.strip()) if column]
    whole = [column for column in columns if " " in column and has_amount_within(column) and looks_ingredient(column)]
    return columns if len(columns) > 1 and len(whole) == len(columns) else []


_GAP = re.compile(r"[ \t]{3,}|\t+")


def is_thing(words: str) -> bool:
    """Whether words may be the bare name of a thing: short, no sentence, no order."""
    return (
        _TO_SERVE.sub("", words).count(" ") < 6
        and not is_sentence(words)
        and step_likeness(words) < 0.6
        and not is_greeting(words)
        and words[-1:] not in ",:"
    )
