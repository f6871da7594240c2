"""What each piece of a recipe holds, also those whose headings say nothing known: judged by content and place."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from recipebox.cards.content import Content, content_of
from recipebox.cards.inline import plain
from recipebox.cards.likeness import ingredient_likeness
from recipebox.cards.mixed import LIST, OTHER, STEPS, runs_of
from recipebox.cards.outline import Piece
from recipebox.cards.place import name_methods
from recipebox.cards.rows import BOLD, Kind, Row
from recipebox.cards.sectionwords import Section
from recipebox.cards.signs import is_chat, is_sentence, starts_with_amount, step_likeness


@dataclass(slots=True)
class Span:
    """Rows of one meaning. `heading` opens it; `what` is "list", "steps", "other", "facts", "group" (a heading alone)
    or the key of a section the tool keeps."""

    what: str
    heading: Row | None
    rows: list[Row]
    group: str | None = None
    key: str = ""
    known: bool = False  # the heading's words are a known section's


GROUP, FACTS = "group", "facts"


def spans_of(pieces: Sequence[Piece]) -> list[Span]:
    """The pieces as spans of one meaning each, in order."""
    name_methods(pieces)
    # "Icing: 8 oz cream cheese, ..." behind the method is one more part, not the list
    has_list = any(p.section is Section.INGREDIENTS and not (p.run_in and p.group) for p in pieces)
    has_method = any(piece.section is Section.METHOD and _has_words(pieces, at) for at, piece in enumerate(pieces))
    spans: list[Span] = []
    listed, seen = False, 0  # whether ingredients stand above, as far as the spans have been looked at
    context: Section | None = None
    context_level = 0
    outer: tuple[str, int] | None = None
    for at, piece in enumerate(pieces):
        if outer is not None and piece.heading is not None and piece.level <= outer[1]:
            outer = None
        if piece.section is None:
            listed = listed or any(span.what == LIST for span in spans[seen:])
            seen = len(spans)
            new, context = _unknown(pieces, at, context, context_level, has_list, has_method, listed)
            for span in new:
                if span.what in (LIST, STEPS) and span.group is None and outer is not None:
                    span.group = outer[0]
            spans += new
            if len(new) == 1 and new[0].what == GROUP and piece.level < BOLD:
                outer = (piece.words, piece.level)
            continue
        if piece.section is Section.RECIPE:
            spans.append(Span(OTHER, piece.heading, [], None, "recipe", known=True))
            spans += _by_content(piece.rows, None, not has_list, not has_method, None)
            context, context_level = None, 0
            continue
        context, context_level = piece.section, piece.level
        group = piece.group or (outer[0] if outer is not None and outer[1] < piece.level else None)
        spans += _known(piece, group, has_list, has_method)
    return spans


def _known(piece: Piece, group: str | None, has_list: bool, has_method: bool) -> list[Span]:
    heading = None if piece.run_in else piece.heading
    if piece.section is Section.INGREDIENTS:
        if has_method or piece.run_in:
            return [Span(LIST, heading, piece.rows, group, piece.key, known=True)]
        spans = [Span(LIST, heading, [], group, piece.key, known=True)]
        for run in runs_of(piece.rows, True, True):
            behind = any(span.what == STEPS for span in spans)
            spans.append(Span(LIST if run.what == OTHER and not behind else run.what, None, run.rows, group))
        return spans
    if piece.section is Section.METHOD:
        if has_list or content_of(piece.rows).ingredients < 2:
            spans = []
            for named, rows, listed in _lists_within(piece.rows):
                if listed and named is None and not spans:
                    spans.append(Span(STEPS, heading, [], group, piece.key, known=True))
                if listed:
                    name = plain(named.text).strip(" :") if named is not None else group or piece.words
                    spans.append(Span(LIST, named, rows, name))
                elif spans:
                    spans.append(Span(STEPS, None, rows, group))
                else:
                    spans.append(Span(STEPS, heading, rows, group, piece.key, known=True))
            return spans or [Span(STEPS, heading, piece.rows, group, piece.key, known=True)]
        spans = [Span(STEPS, heading, [], group, piece.key, known=True)]
        runs = runs_of(piece.rows, True, True)
        return spans + [Span(STEPS if run.what == OTHER else run.what, None, run.rows, group) for run in runs]
    what = FACTS if piece.section is Section.FACTS else OTHER
    return [Span(what, heading, piece.rows, None, piece.key, known=True)]


def _lists_within(rows: list[Row]) -> list[tuple[Row | None, list[Row], bool]]:
    """A method's rows, cut where a list of measured things stands among the steps, with the line that names it."""
    found: list[tuple[Row | None, list[Row], bool]] = []
    at = start = 0
    while at < len(rows):
        named = rows[at] if _names(rows[at]) else None
        stop = _measured_list(rows, at + 1 if named is not None else at)
        if stop > at + 1 and (at == 0 or rows[at - 1].kind is not Kind.ITEM or named is not None):
            if at > start:
                found.append((None, rows[start:at], False))
            found.append((named, rows[at + 1 if named is not None else at : stop], True))
            at = start = stop
        else:
            at += 1
    if found and start < len(rows):
        found.append((None, rows[start:], False))
    return found


def _names(row: Row) -> bool:
    return len(row.text) < 50 and (
        row.kind is Kind.HEADING or (row.kind is Kind.TEXT and row.text.rstrip("*_ ")[-1:] == ":")
    )


def _measured_list(rows: Sequence[Row], at: int) -> int:
    """The place behind a list with bullets, nearly all with amounts, that begins here; 0 where there is none."""
    stop = at
    things = measured = 0
    while stop < len(rows) and rows[stop].kind in (Kind.BLANK, Kind.ITEM):
        if rows[stop].kind is Kind.ITEM:
            line = plain(rows[stop].text)
            if step_likeness(line) >= 0.6 or is_sentence(line) or ingredient_likeness(line) < 0.5:
                return 0
            things += 1
            measured += starts_with_amount(line)
        stop += 1
    if measured == things == 1:  # one thing alone, and then what to do with it
        return stop if _prose_alone(rows, stop) else 0
    return stop if measured > 1 and measured * 3 >= things * 2 else 0


def _prose_alone(rows: Sequence[Row], at: int) -> bool:
    """Whether nothing but prose stands from here on, and some does."""
    found = False
    while at < len(rows) and rows[at].kind in (Kind.BLANK, Kind.TEXT):
        found = found or rows[at].kind is Kind.TEXT
        at += 1
    return found and at == len(rows)


def _has_words(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a method's heading is followed by anything of its own."""
    if any(row.kind not in (Kind.BLANK, Kind.LAYOUT) for row in pieces[at].rows):
        return True
    return at + 1 < len(pieces) and pieces[at + 1].section is None


def _unknown(
    pieces: Sequence[Piece],
    at: int,
    context: Section | None,
    context_level: int,
    has_list: bool,
    has_method: bool,
    listed: bool,
) -> tuple[list[Span], Section | None]:
    piece = pieces[at]
    if piece.heading is None:
        return _by_content(piece.rows, None, at > 0 or not has_list, at > 0 or not has_method, None), context
    content = content_of(piece.rows)
    words = piece.words
    deeper = piece.level > context_level or piece.level >= BOLD
    heading = piece.heading
    if content.empty and not any(row.kind in (Kind.COMMENT, Kind.QUOTE, Kind.TABLE) for row in piece.rows):
        return _bare(pieces, at, context, deeper)
    if context is Section.NOTES and deeper:
        return [Span(OTHER, heading, piece.rows)], context
    if context is Section.METHOD:
        if content.ingredients > content.steps and content.ingredients >= 2 and content.ingredients > content.others:
            if content.steps or content.others:
                return _by_content(piece.rows, heading, True, True, words), context
            return [Span(LIST, heading, piece.rows, words)], context if deeper else Section.INGREDIENTS
        if deeper or content.ordered or _mostly_steps(content) or _goes_on(words, content):
            return [Span(STEPS, heading, piece.rows, words)], context
        return [Span(OTHER, heading, piece.rows)], context
    if context is Section.INGREDIENTS:
        if content.steps and not has_method:
            if content.ingredients:
                return _by_content(piece.rows, heading, True, True, words), context
            return [Span(STEPS, heading, piece.rows, words)], context
        if content.ingredients and content.steps and _ends_in_orders(piece.rows):
            return _by_content(piece.rows, heading, True, True, words), context
        if (content.ingredients >= content.steps + content.others and content.ingredients) or (
            deeper and not content.steps and (content.listed or not content.others)
        ):
            return [Span(LIST, heading, piece.rows, words)], context
        if content.things and not content.others and not content.steps:
            return [Span(LIST, heading, piece.rows, words)], context
        if content.ingredients and content.steps:
            return _by_content(piece.rows, heading, True, True, words), context
        if content.steps and (content.listed or content.steps > content.others) and not is_chat(words):
            return [Span(STEPS, heading, piece.rows, words)], context
        return [Span(OTHER, heading, piece.rows)], context
    if listed and context is None and content.steps > content.others and not content.ingredients:
        return [Span(STEPS, heading, piece.rows, words)], context
    return _out_of_context(piece, content.ingredients, content.steps, content.others, has_list, has_method), context


def _ends_in_orders(rows: Sequence[Row]) -> bool:
    """Whether a list is followed by what to do with it, in prose of its own."""
    last = next((at for at in range(len(rows) - 1, -1, -1) if rows[at].kind is not Kind.BLANK), 0)
    first = last
    while first and rows[first].kind is Kind.TEXT and not rows[first].after_blank:
        first -= 1
    if not first or rows[first].kind is not Kind.TEXT:
        return False
    return step_likeness(" ".join(plain(row.text) for row in rows[first : last + 1])) >= 0.9


_DOING = re.compile(
    r"(?:\w{3,}ing|assembly|finish|to \w+|day|the next|next (?:day|morning)|later|then|day \w+)\b", re.IGNORECASE
)


def _mostly_steps(content: Content) -> bool:
    others = content.others + content.things + content.ingredients if content.listed else content.others
    return content.steps > 0 and content.steps >= others


def _goes_on(words: str, content: Content) -> bool:
    """Whether a heading beside the method's own, with prose below it, is one more part of the method."""
    return bool(content.others and not content.listed and _DOING.match(words) and not is_chat(words))


def _out_of_context(
    piece: Piece, ingredients: int, steps: int, others: int, has_list: bool, has_method: bool
) -> list[Span]:
    """An unknown heading before any known one, or behind notes."""
    heading, words = piece.heading, piece.words
    if ingredients and (steps or others):
        return _by_content(piece.rows, heading, ingredients > 1 or not has_list, steps > 0 or not has_method, words)
    if ingredients > 1 or (ingredients and not has_list):
        return [Span(LIST, heading, piece.rows, words)]
    numbered = any(row.kind is Kind.NUMBER for row in piece.rows)
    if steps > others and (not has_method or numbered):
        return [Span(STEPS, heading, piece.rows, words)]
    if steps and not has_method:
        return _by_content(piece.rows, heading, False, True, words)
    if not has_list or not has_method:
        return _by_content(piece.rows, heading, not has_list, not has_method, words)
    return [Span(OTHER, heading, piece.rows)]


def _bare(pieces: Sequence[Piece], at: int, context: Section | None, deeper: bool) -> tuple[list[Span], Section | None]:
    """A heading with nothing of its own below it."""
    piece = pieces[at]
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    heads = after is not None and (after.level > piece.level or after.section in (Section.INGREDIENTS, Section.METHOD))
    words = piece.words
    if context is Section.METHOD and not is_chat(words) and (step_likeness(words) >= 0.6 or (deeper and not heads)):
        if not heads or after is None or (after.section is None and after.level <= piece.level):
            return [Span(STEPS, piece.heading, piece.rows, words)], context
        return [Span(GROUP, piece.heading, piece.rows, words)], context
    if heads:
        return [Span(GROUP, piece.heading, piece.rows, words)], None if not deeper else context
    if context is Section.INGREDIENTS and deeper:
        return [Span(LIST, piece.heading, piece.rows, words)], context
    return [Span(OTHER, piece.heading, piece.rows)], context


def _by_content(
    rows: list[Row], heading: Row | None, want_list: bool, want_steps: bool, group: str | None
) -> list[Span]:
    runs = runs_of(rows, want_list, want_steps)
    spans = [Span(run.what, None, run.rows, group) for run in runs]
    if heading is not None:
        named = any(span.what in (LIST, STEPS) for span in spans)
        spans.insert(0, Span(GROUP if named else OTHER, heading, [], group))
    return spans
