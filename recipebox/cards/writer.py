"""The one writer: it changes lines of a text, and nothing else about it."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from recipebox.cards.model import Card, Role, SourceLine
from recipebox.cards.text import Line, Text

SECTIONS = ("some add", "variations", "swaps", "notes", "undecided", "settled", "versions")
_MARKDOWN_HEADING = re.compile(r"\s{0,3}(#{1,6})\s")
_RULE_BELOW = re.compile(r"\s*(=+|-{2,})\s*$")


@dataclass(frozen=True, slots=True)
class Replace:
    """Source lines `first` to `last` become `lines`."""

    first: int
    last: int
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Insert:
    """`lines` stand after source line `after`; 0 is the top."""

    after: int
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Remove:
    """Source lines `first` to `last` go."""

    first: int
    last: int


Change = Replace | Insert | Remove


def apply_changes(text: Text, changes: Iterable[Change]) -> Text:
    """The text with only those lines different; new lines get the file's own line end.

    Changes may come in any order; several inserts after one line stay in the order given. The file's last line keeps
    having no line end if it had none. Raises ValueError if two changes touch one line or a line that is not there.
    """
    instead: dict[int, tuple[str, ...]] = {}
    gone: set[int] = set()
    after: dict[int, list[str]] = {}
    count = len(text.lines)
    for change in changes:
        if isinstance(change, Insert):
            if not 0 <= change.after <= count:
                raise ValueError(f"there is no line {change.after}")
            after.setdefault(change.after, []).extend(change.lines)
            continue
        if not 1 <= change.first <= change.last <= count:
            raise ValueError(f"there are no lines {change.first} to {change.last}")
        touched = set(range(change.first, change.last + 1))
        if touched & gone:
            raise ValueError(f"line {min(touched & gone)} is changed twice")
        gone |= touched
        if isinstance(change, Replace):
            instead[change.first] = change.lines
    return _written(text, gone, instead, after)


def put_section(text: Text, card: Card, section: str, body: Sequence[str]) -> Text:
    """The text with a tool-kept section holding these lines, each indented as the section's lines are.

    `section` is one of SECTIONS. An empty body takes the section out. A new one stands at the end of the card, before
    those that come after it in the fixed order, under a heading of the card's own kind ("## Undecided").
    """
    if section not in SECTIONS:
        raise ValueError(f"{section} is no section the tool keeps")
    headings = [line for line in card.lines if line.role is Role.SECTION and line.key == section]
    if not headings:
        return _add_section(text, card, section, body) if body else text
    heading = headings[0]
    first, last = _extent(text, card, heading.number)
    if not body:
        above = first - 1
        while above >= 1 and not text.lines[above - 1].words.strip():
            above -= 1
        return apply_changes(text, [Remove(above + 1 if above else first, last)])
    old = list(range(_heading_end(text, heading) + 1, last + 1))
    new = [f"{_indent(text, old)}{words}" if words else "" for words in body]
    if old:
        return apply_changes(text, [Replace(old[0], old[-1], tuple(new))])
    return apply_changes(text, [Insert(last, tuple(new))])


def heading_like(text: Text, card: Card, section: str) -> list[str]:
    """A heading of the card's own kind for a section: the way its other sections are headed."""
    name = section.capitalize()
    for line in card.lines:
        if line.role is not Role.SECTION:
            continue
        words = text.lines[line.number - 1].words
        marks = _MARKDOWN_HEADING.match(words)
        if marks:
            return [f"{marks[1]} {name}"]
        stripped = words.strip()
        if stripped.isupper():
            name = name.upper()
        return [name + (":" if stripped.endswith(":") else "")]
    for line in card.lines:
        marks = _MARKDOWN_HEADING.match(text.lines[line.number - 1].words)
        if marks and line.role is Role.TITLE:
            return [f"{marks[1]}# {name}"]
    return [name]


def _add_section(text: Text, card: Card, section: str, body: Sequence[str]) -> Text:
    later = SECTIONS[SECTIONS.index(section) + 1 :]
    place = next((line.number for line in card.lines if line.role is Role.SECTION and line.key in later), None)
    lines = [*heading_like(text, card, section), *(f"  {words}" for words in body)]
    if place is not None and card.kind == "family":
        return apply_changes(text, [Insert(place - 1, (*lines, ""))])
    last = max((line.number for line in card.lines), default=len(text.lines))
    end = last
    while last >= 1 and not text.lines[last - 1].words.strip():
        last -= 1
    below = () if end > last or last == len(text.lines) else ("",)
    return apply_changes(text, [Insert(last, ("", *lines, *below))])


def _extent(text: Text, card: Card, heading: int) -> tuple[int, int]:
    """First and last line of a section: up to the next section, blank lines at its end aside."""
    after = [line.number for line in card.lines if line.role is Role.SECTION and line.number > heading]
    last = min(after) - 1 if after else max(line.number for line in card.lines)
    while last > heading and not text.lines[last - 1].words.strip():
        last -= 1
    return heading, last


def _heading_end(text: Text, heading: SourceLine) -> int:
    below = heading.number
    if below < len(text.lines) and _RULE_BELOW.fullmatch(text.lines[below].words):
        return below + 1
    return heading.number


def _indent(text: Text, numbers: Sequence[int]) -> str:
    for number in numbers:
        words = text.lines[number - 1].words
        if words.strip():
            return words[: len(words) - len(words.lstrip())]
    return "  "


def _written(text: Text, gone: set[int], instead: dict[int, tuple[str, ...]], after: dict[int, list[str]]) -> Text:
    end = text.end
    lines = [Line(words, end) for words in after.get(0, [])]
    for number, line in enumerate(text.lines, start=1):
        if number in instead:
            new = [Line(words, end) for words in instead[number]]
            lines += new
        elif number not in gone:
            lines.append(line)
        lines += [Line(words, end) for words in after.get(number, [])]
    open_end = bool(text.lines) and not text.lines[-1].end
    tidy = [Line(line.words, line.end or end) for line in lines]
    if open_end and tidy:
        tidy[-1] = Line(tidy[-1].words, "")
    return Text(tuple(tidy), text.encoding, text.mark, text.unsure)
