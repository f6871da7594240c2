"""A card's text, to data: title, header lines, ingredients, steps, notes, and the role of every line."""

import re
from collections.abc import Sequence
from dataclasses import replace

from recipebox.cards.assign import FACTS, GROUP, Span, spans_of
from recipebox.cards.draft import Draft
from recipebox.cards.facts import facts_in_prose
from recipebox.cards.frontmatter import FrontMatter, read_front_matter
from recipebox.cards.heading_facts import read_facts_section, read_head, read_mail_head, take_front_matter
from recipebox.cards.inline import plain
from recipebox.cards.kinds import NotACardError, lies_in_family, stem
from recipebox.cards.layout import mostly_quoted, rows_of
from recipebox.cards.lists import read_list
from recipebox.cards.meaning import facts_of
from recipebox.cards.mixed import LIST, STEPS
from recipebox.cards.model import Card, Header, Passage, Role, SourceLine, Trouble
from recipebox.cards.names import is_closing, sender_name, sign_off, version_name
from recipebox.cards.outline import Piece, pieces_of
from recipebox.cards.parts import parts_of
from recipebox.cards.rows import ITALIC, Kind, Row
from recipebox.cards.sections import (
    ALWAYS_KEPT,
    IN_FAMILY,
    plain_rows,
    read_entries,
    read_some_add,
    read_swaps,
    read_variations,
    read_versions,
)
from recipebox.cards.signs import is_sentence
from recipebox.cards.steps import read_steps
from recipebox.cards.text import Line, NotTextError, Text, decode
from recipebox.cards.things import is_known
from recipebox.cards.titles import find_title, heads_a_list, title_words, words_for_a_title

_BESIDES = re.compile(
    r"\([^()]*\d[^()]*\)\W*\Z|[–—-]\s+[^()]*\d[^()]*\Z"
    r"|\b(?:for|für|pour|para|per|voor|för|till?|na)\s+(?:about )?\d+\b.{0,30}\Z",
    re.IGNORECASE,
)
_ROLES = {
    "some add": Role.SOME_ADD,
    "variations": Role.VARIATION,
    "swaps": Role.SWAP,
    "undecided": Role.UNDECIDED,
    "settled": Role.SETTLED,
    "versions": Role.VERSION,
}


def read_cards(data: bytes, path: str) -> list[Card]:
    """The recipes that a file's bytes hold, in order. Raises NotACardError for what is no card or no text."""
    try:
        text = decode(data)
    except NotTextError as error:
        raise NotACardError(path, 0, str(error)) from error
    return read_text(text, path)


def read_text(text: Text, path: str) -> list[Card]:
    """The recipes of a text, in order; `path` is from the box's root. Raises NotACardError where there is none.

    A text that is not whole as one recipe but has a title and one ingredient line, or two steps, is a card.
    """
    lines = text.lines
    if not any(line.words.strip() for line in lines):
        raise NotACardError(path, 0, "empty")
    front = read_front_matter(lines)
    skip = front.size if front is not None else 0
    quoted = mostly_quoted(lines)
    rows = rows_of(lines[skip:], skip + 1, quoted)
    groups = parts_of(rows)
    cards = _read_groups(groups, front, lines, path)
    if len(groups) > 1 and not all(_is_card(card) for card in cards):  # then they are one, and no line is left out
        cards = _read_groups([rows_of(lines[skip:], skip + 1, quoted)], front, lines, path)
    if not _is_card(cards[0]):
        raise NotACardError(path, 1, _why_not(cards[0]))
    if text.unsure:
        what = "not UTF-8: read as Windows-1252, so accented letters may be wrong"
        cards[0] = replace(cards[0], trouble=(Trouble(1, what), *cards[0].trouble))
    return cards


def _read_groups(groups: list[list[Row]], front: FrontMatter | None, lines: Sequence[Line], path: str) -> list[Card]:
    markdown = path.lower().endswith(".md")
    cards = []
    for part, group in enumerate(groups, 1):
        draft = Draft()
        titled = ""
        if part == 1 and front is not None:
            titled = take_front_matter(draft, front, lines)
        first = 1 if part == 1 else group[0].number
        last = groups[part][0].number - 1 if part < len(groups) else len(lines)
        cards.append(_read_part(draft, group, lines, path, part, titled, (first, last), markdown))
    return cards


def _read_part(
    draft: Draft,
    rows: list[Row],
    lines: Sequence[Line],
    path: str,
    part: int,
    titled: str,
    extent: tuple[int, int],
    markdown: bool,
) -> Card:
    body, mail_title = read_mail_head(draft, rows)
    body = _take_title(draft, body, titled, mail_title, path)
    tail = _own_sections(body)
    signed, told, after = _cut_sign_off(body[:tail])
    body = told + body[tail:]
    head_end = read_head(draft, body)
    pieces = pieces_of(body[head_end:])
    family = lies_in_family(path) and any(_names_versions(piece, lines) for piece in pieces)
    kept: dict[str, list[Row]] = {key: [] for key in (IN_FAMILY if family else ALWAYS_KEPT)}
    measures = next((header.value.strip().lower() for header in draft.headers if header.name == "measures"), None)
    for span in spans_of(pieces):
        _take(draft, span, lines, kept, measures, not markdown)
    draft.loose_notes(after)
    roles = _all_roles(draft, lines, extent)
    facts = facts_of([*draft.headers, *_said(draft)], draft.steps)
    sender = next((sender_name(header.value) for header in draft.headers if header.name == "from"), None)
    return Card(
        path=path,
        title=draft.title,
        part=part,
        kind="family" if family else "version",
        sender=sender or None,
        name=version_name(sender, signed, path),
        serves=facts.serves,
        makes=facts.makes,
        pan=facts.pan,
        oven=facts.oven,
        minutes=facts.minutes,
        tags=facts.tags,
        measures=measures or None,
        ingredients=tuple(draft.ingredients),
        steps=tuple(draft.steps),
        notes=tuple(sorted(draft.notes, key=lambda note: note.line)),
        some_add=read_some_add(kept.get("some add", [])),
        variations=read_variations(kept.get("variations", [])),
        swaps=read_swaps(kept.get("swaps", [])),
        undecided=read_entries(kept["undecided"]),
        settled=read_entries(kept["settled"]),
        versions=read_versions(kept.get("versions", [])),
        trouble=tuple(draft.trouble),
        headers=tuple(draft.headers),
        lines=roles,
    )


def _take_title(draft: Draft, rows: list[Row], titled: str, subject: str, path: str) -> list[Row]:
    """Finds the title and gives the rows without it; a title in front matter stands, a mail's subject where the
    body has no better one."""
    row = find_title(rows)
    if subject and not titled and not (row is not None and heads_a_list(rows, row)):
        titled = subject
    if titled:
        draft.title = titled
        if row is None or row.kind is not Kind.HEADING or row.level > 2:
            return rows
        if row.level == 2 and title_words(row).casefold() != titled.casefold():
            return rows
    elif row is None:
        draft.title = words_for_a_title(rows, stem(path))
        draft.trouble.append(Trouble(1, "no title: its first words, or the file's name, stand in"))
        return rows
    else:
        draft.title = title_words(row)
    draft.mark(row, Role.TITLE)
    return [other for other in rows if other is not row]


def _own_sections(rows: list[Row]) -> int:
    """The place of the first section that the tool wrote, which stands below a sign-off."""
    return next((at for at, row in enumerate(rows) if row.text.strip(" #*:_").casefold() in ALWAYS_KEPT), len(rows))


def _cut_sign_off(rows: list[Row]) -> tuple[str | None, list[Row], list[Row]]:
    """The name under a letter, the rows before the sign-off, and those from it on."""
    solid = [row for row in rows if row.kind is not Kind.BLANK]
    texts = [row for row in solid if row.kind is Kind.TEXT or (row.kind is Kind.HEADING and row.level == ITALIC)][-12:]
    dashed = solid[-1] if len(solid) > 3 and _dashed_alone(solid[-2], solid[-1]) else None
    if dashed is not None:
        texts.append(dashed)
    found = sign_off([row.text for row in texts])
    if found is None:
        return None, rows, []
    name, at = found
    if at >= len(texts):
        return name, rows, []
    first = texts[at]
    place = next(index for index, row in enumerate(rows) if row is first)
    if any(row.kind in (Kind.ITEM, Kind.NUMBER, Kind.TABLE) and row is not dashed for row in rows[place + 1 :]):
        return None, rows, []
    return (name or None), rows[:place], rows[place:]


def _dashed_alone(before: Row, last: Row) -> bool:
    """ "- Carol-Ann" under a letter, which looks like a list of one."""
    if last.kind is not Kind.ITEM or last.mark not in "-–—" or before.kind is not Kind.TEXT:
        return False
    told = is_sentence(before.text) and not is_known(last.text.strip(" -–—.,"))
    return last.after_blank or is_closing(before.text) or told


def _names_versions(piece: Piece, lines: Sequence[Line]) -> bool:
    return piece.key == "versions" and bool(read_versions(plain_rows(lines, _numbers(piece.rows))))


def _numbers(rows: Sequence[Row]) -> list[int]:
    return sorted({row.number for row in rows})


def _take(
    draft: Draft, span: Span, lines: Sequence[Line], kept: dict[str, list[Row]], measures: str | None, bare: bool
) -> None:
    if span.heading is not None:
        if span.known:
            draft.mark(span.heading, Role.SECTION, key=span.key)
            said = _BESIDES.search(plain(span.heading.text))
            facts = facts_in_prose(said.group().strip("() :–—-"), head=False) if said is not None else []
            draft.asides += [Header(name, value, span.heading.number) for name, value in facts]
        elif span.what in (LIST, STEPS, GROUP):
            if span.group is not None and span.group.casefold() == draft.title.casefold():
                span.group = None
            draft.mark(span.heading, Role.GROUP, key=(span.group or "").casefold())
        else:
            draft.note([span.heading])
    if span.known and span.key in kept:
        rows = plain_rows(lines, _numbers(span.rows))
        kept[span.key] += rows
        for row in rows:
            if row.kind is not Kind.BLANK:
                draft.mark(row, _ROLES[span.key])
    elif span.what == LIST:
        read_list(draft, span.rows, span.group, measures)
    elif span.what == STEPS:
        if span.heading is not None and not span.known and not any(r.text for r in span.rows):
            draft.roles.pop(span.heading.number, None)
            draft.step([span.heading])
        read_steps(draft, span.rows, bare)
    elif span.what == FACTS:
        read_facts_section(draft, span.heading, span.rows)
    else:
        read_loose(draft, span.rows)


def _said(draft: Draft) -> list[Header]:
    """What notes and the last steps say in whole sentences, for facts that no header line states."""
    numbers = [i.line for i in draft.ingredients] + [step.line for step in draft.steps]
    first = min(numbers, default=0)
    said = [Header(name, value, 1) for name, value in facts_in_prose(draft.title, head=False)] + draft.asides
    for passage in [*sorted(draft.notes, key=lambda note: note.line), *draft.steps[-2:]]:
        for name, value in facts_in_prose(plain(passage.text), head=passage.line < first):
            said.append(Header(name, value, passage.line))
    return said


def read_loose(draft: Draft, rows: Sequence[Row]) -> None:
    """Rows that are neither ingredients nor steps: facts among them count, the rest are notes."""
    read_facts_section(draft, None, list(rows))


def _all_roles(draft: Draft, lines: Sequence[Line], extent: tuple[int, int]) -> tuple[SourceLine, ...]:
    """A role for every line of the part; what nothing claimed is a note, so that nothing is dropped."""
    roles = []
    for number in range(extent[0], extent[1] + 1):
        role = draft.roles.get(number)
        if role is None:
            words = lines[number - 1].words
            stripped = words.strip()
            if not stripped:
                role = SourceLine(number, Role.BLANK, number)
            elif not any(character.isalnum() for character in stripped):
                role = SourceLine(number, Role.LAYOUT, number)
            else:
                start = len(words) - len(words.lstrip())
                role = SourceLine(number, Role.NOTE, number, "", start, start + len(stripped))
                draft.notes.append(Passage(" ".join(stripped.split()), number, number))
        roles.append(role)
    return tuple(roles)


def _is_card(card: Card) -> bool:
    return bool(card.title) and (len(card.ingredients) >= 1 or len(card.steps) >= 2)


def _why_not(card: Card) -> str:
    if not card.notes and not card.steps:
        return "only a title"
    if card.steps:
        return "no ingredients, and only one step"
    return "no ingredients and no steps were found"
