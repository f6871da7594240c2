"""Rows under no heading that says what they are: which are ingredients, which steps, which neither."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from recipebox.cards.content import chunks_of, is_thing, items_of, side_by_side, tells_steps
from recipebox.cards.headings import is_heading
from recipebox.cards.inline import plain
from recipebox.cards.outline import is_row_of_things
from recipebox.cards.rows import BOLD, Kind, Row
from recipebox.cards.signs import (
    has_amount,
    is_chat,
    is_greeting,
    is_remark,
    is_sentence,
    looks_ingredient,
    starts_with_amount,
    step_likeness,
)

LIST, STEPS, OTHER = "list", "steps", "other"


@dataclass(slots=True)
class Run:
    """Rows that belong together, and what they are."""

    what: str
    rows: list[Row]


def runs_of(rows: Sequence[Row], want_list: bool, want_steps: bool) -> list[Run]:
    """The rows as runs of ingredients, steps and others, in order. What is not wanted is not looked for."""
    runs: list[Run] = []
    for chunk in chunks_of(rows):
        runs.extend(_told_apart(chunk))
    if want_list:
        _lone_things(runs)
    if want_steps:
        _between_steps(runs)
        _prose_steps(runs, want_list)
        _told_last(runs)
    for run in runs:
        if (run.what == LIST and not want_list) or (run.what == STEPS and not want_steps) or run.what == _THINGS:
            run.what = OTHER
    return _joined(_with_names(runs))


_PAGE = re.compile(r"\[[^\[\]]+\]\((?!\w+:)[^()\s]+\.(?:md|html?|txt)\)|\[\[[^\[\]]+\]\]")  # an index of other cards
_THINGS = "things"
_BREAK = "break"


def _told_apart(chunk: list[Row]) -> list[Run]:
    first = chunk[0]
    if first.kind in (Kind.COMMENT, Kind.QUOTE, Kind.LAYOUT):
        return [Run(_BREAK, chunk)]
    if first.kind is Kind.HEADING:
        words = plain(first.text)
        return [
            Run(
                LIST
                if first.level == BOLD and len(chunk) > 1 and starts_with_amount(words) and looks_ingredient(words)
                else _BREAK,
                chunk,
            )
        ]
    if first.kind is Kind.TEXT:
        return _told_apart_text(chunk)
    items = [plain(" ".join(row.text for row in rows)) for rows in items_of(chunk)]
    if first.kind is Kind.TABLE:
        told = sum(tells_steps(row) for row in chunk if row.kind is Kind.TABLE)
        if told * 2 >= len(items) - 1 and told:
            return [Run(STEPS, chunk)]
        return [
            Run(LIST if sum(any(c.isdigit() for c in words) for words in items) * 2 >= len(items) - 1 else OTHER, chunk)
        ]
    if (within := _lists_within_steps(chunk)) is not None:
        return within
    looks = sum(looks_ingredient(words) for words in items)
    steps = sum(step_likeness(words) >= 0.6 for words in items)
    measured = sum(has_amount(words) and looks_ingredient(words) for words in items)
    if looks * 2 >= len(items) and measured and steps * 2 < len(items):
        return [Run(LIST, chunk)]
    if measured and not steps and all(is_thing(words) or looks_ingredient(words) for words in items):
        return [Run(LIST, chunk)]
    if steps * 2 >= len(items) or (first.kind is Kind.NUMBER and steps and looks == 0):
        return [Run(STEPS, chunk)]
    if all(words.count(" ") < 6 and not is_sentence(words) for words in items):
        pages = all(_PAGE.fullmatch(row.text) for row in chunk if row.kind is Kind.ITEM)
        return [Run(OTHER if pages else _THINGS, chunk)]
    return [Run(STEPS if first.kind is Kind.NUMBER else OTHER, chunk)]


def _lists_within_steps(chunk: list[Row]) -> list[Run] | None:
    """Numbered steps with the things for each as bullets below it."""
    margin = chunk[0].indent
    inner = [row for row in chunk if row.kind is Kind.ITEM and row.indent > margin + 1]
    outer = [row for row in chunk if row.kind is Kind.NUMBER and row.indent <= margin + 1]
    if len(inner) + len(outer) < len(chunk) or len(inner) < 2 or len(outer) < 2:
        return None
    words = [plain(row.text) for row in inner]
    if sum(starts_with_amount(each) and looks_ingredient(each) for each in words) * 3 < len(words) * 2:
        return None
    if any(starts_with_amount(plain(row.text)) for row in outer):
        return None
    runs: list[Run] = []
    for row in chunk:
        what = STEPS if row.kind is Kind.NUMBER else LIST
        if runs and runs[-1].what == what:
            runs[-1].rows.append(row)
        else:
            runs.append(Run(what, [row]))
    return runs


def _told_apart_text(chunk: list[Row]) -> list[Run]:
    """A block of plain lines: its ingredient lines from first to last, what stands before and after them."""
    lines = [plain(row.text) for row in chunk]
    looks = [looks_ingredient(words) and has_amount(words) for words in lines]
    if len(lines) == 1 and is_row_of_things(lines[0]):
        return [Run(LIST, chunk)]
    if not any(looks):
        words = " ".join(lines)
        if (
            len(chunk) == 1
            and words[-1:] not in ":："
            and words.count(" ") < 5
            and not is_sentence(words)
            and step_likeness(words) < 0.6
        ):
            return [Run(_THINGS, chunk)]
        return [Run(STEPS if step_likeness(words) >= 0.6 and not is_greeting(words) else OTHER, chunk)]
    first = looks.index(True)
    last = len(looks) - 1 - looks[::-1].index(True)
    inside = sum(looks[first : last + 1])
    if inside * 2 < last + 1 - first or (inside == 1 and len(chunk) > 2 and _in_prose(lines, first)):
        words = " ".join(lines)
        return [Run(STEPS if step_likeness(words) >= 0.6 else OTHER, chunk)]
    # lines without an amount that still read like things ("salt and pepper") belong to the list they stand in
    while last + 1 < len(lines) and (is_thing(lines[last + 1]) or side_by_side(chunk[last + 1].text)):
        last += 1
    while first and is_thing(lines[first - 1]) and first > 1:
        first -= 1
    runs = []
    # a line right above the first is the list's name
    if first and _names_list(lines[first - 1]):
        first -= 1
    if first:
        runs.append(Run(STEPS if step_likeness(" ".join(lines[:first])) >= 0.6 else OTHER, chunk[:first]))
    runs.append(Run(LIST, chunk[first : last + 1]))
    if last + 1 < len(chunk):
        rest = " ".join(lines[last + 1 :])
        runs.append(Run(STEPS if step_likeness(rest) >= 0.5 else OTHER, chunk[last + 1 :]))
    return runs


def _names_list(words: str) -> bool:
    return (words.endswith(":") and len(words) < 60) or (words.count(" ") < 5 and is_thing(words))


def _in_prose(lines: Sequence[str], at: int) -> bool:
    """A wrapped paragraph may have a line that happens to begin with a number."""
    before = lines[at - 1] if at else ""
    return bool(before) and not before.endswith((".", ":", "!", "?")) and len(before) > 45


def _lone_things(runs: list[Run]) -> None:
    """Short lines without amounts are ingredients beside ingredients, or where there are no others."""
    solid = [run for run in runs if run.what != _BREAK]
    measured = any(run.what == LIST for run in solid)
    for before, run, after in zip([None, *solid], solid, [*solid[1:], None], strict=False):
        if run.what != _THINGS:
            continue
        listed = run.rows[0].kind is not Kind.TEXT
        near_before = before is not None and before.what == LIST
        near_after = after is not None and after.what == LIST
        if measured:
            if (
                (listed and (near_before or near_after))
                or (near_before and near_after and is_thing(plain(run.rows[0].text)))
            ) or (near_before and is_thing(plain(run.rows[0].text)) and _spaced(before, run)):
                run.what = LIST
        elif listed and len(run.rows) >= 2 and not any(r.what == LIST for r in solid):
            run.what = LIST
            measured = False


def _spaced(before: Run | None, run: Run) -> bool:
    """In a list whose lines stand apart, a lone thing is one more of them."""
    return before is not None and len(before.rows) == 1 and len(run.rows) == 1


def _prose_steps(runs: list[Run], want_list: bool) -> None:
    """Prose behind the ingredients is the method, where nothing reads like an order."""
    first = next((at for at, run in enumerate(runs) if run.what == LIST), None)
    if first is None:
        return
    behind = runs[first + 1 :]
    if not any(run.what == STEPS for run in behind):
        if any(run.what == STEPS for run in runs[:first]):
            return
        for run in behind:
            words = " ".join(plain(row.text) for row in run.rows)
            if run.what in (OTHER, _THINGS) and words.count(" ") > 2 and not is_chat(words) and not is_greeting(words):
                run.what = STEPS
    else:
        # an introduction that gives orders is no method when there is one behind the ingredients
        for run in runs[:first]:
            if run.what == STEPS and run.rows[0].kind is Kind.TEXT:
                run.what = OTHER


def _between_steps(runs: list[Run]) -> None:
    """Prose between two steps is one too; prose above numbered steps that gives no order is none."""
    for at, run in enumerate(runs):
        words = " ".join(plain(row.text) for row in run.rows)
        if run.rows[0].kind is not Kind.TEXT:
            continue
        before, after = runs[at - 1] if at else None, runs[at + 1] if at + 1 < len(runs) else None
        if run.what == OTHER and before is not None and after is not None and after.what == STEPS:
            prose = before.what == LIST and after.rows[0].kind is Kind.TEXT and not is_remark(words)
            told = is_chat(words) or is_greeting(words) or not is_sentence(words)
            if (before.what == STEPS or prose) and not told:
                run.what = STEPS
        elif (
            run.what == STEPS
            and (before is None or before.what != STEPS)
            and after is not None
            and after.what == STEPS
            and after.rows[0].kind is Kind.NUMBER
            and step_likeness(words) < 0.9
        ):
            run.what = OTHER


def _told_last(runs: list[Run]) -> None:
    """What stands last, behind steps, and is told rather than ordered, or stands under a rule of its own, is none."""
    steps = [at for at, run in enumerate(runs) if run.what == STEPS]
    if len(steps) < 2 or runs[steps[-1]].rows[0].kind is not Kind.TEXT:
        return
    last = steps[-1]
    words = " ".join(plain(row.text) for row in runs[last].rows)
    ruled = any(row.mark == "rule" for run in runs[steps[-2] + 1 : last] for row in run.rows)
    numbered = runs[steps[-2]].rows[0].kind is Kind.NUMBER
    if is_remark(words) or ((ruled or numbered) and step_likeness(words) < 0.9):
        runs[last].what = OTHER


def _with_names(runs: list[Run]) -> list[Run]:
    """A heading or short line right above a list or steps goes with what it heads."""
    for run, after in pairwise(runs):
        if run.what not in (_BREAK, OTHER) or after.what not in (LIST, STEPS) or len(run.rows) > 1:
            continue
        row = run.rows[0]
        words = plain(row.text)
        if (row.kind is Kind.HEADING and step_likeness(words) < 0.6) or (
            row.kind is Kind.TEXT
            and (after.what == LIST or words.endswith(":"))
            and len(words) < 50
            and words.count(" ") < 7
            and (words.endswith(":") or is_heading(words) or words.isupper())
        ):
            run.what = after.what
    return runs


def _joined(runs: list[Run]) -> list[Run]:
    joined: list[Run] = []
    for run in runs:
        what = OTHER if run.what == _BREAK else run.what
        if joined and joined[-1].what == what:
            joined[-1].rows.extend(run.rows)
        else:
            joined.append(Run(what, list(run.rows)))
    return joined
