"""Lines put into a card that was sent, such that all else in it is read as before."""

import re
from collections.abc import Iterator, Sequence

from recipebox.cards.frontmatter import read_front_matter
from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card, Role
from recipebox.cards.reader import read_text
from recipebox.cards.text import Text
from recipebox.cards.writer import Insert, apply_changes

_QUOTE_IN_YAML = re.compile(r"[:#\"'\[\]{}&*!|>%@`,]|^[\s?-]|\s$")


def with_headers(text: Text, markdown: bool, headers: Sequence[tuple[str, str]]) -> Text:
    """The text of one card with these header lines under its title, in front matter where the card has it.

    Of the places where they could stand, the first is taken at which the card is read as before, those headers aside.
    """
    if not headers:
        return text
    if not _sense(text, markdown):  # a title over a picture is no card yet
        return apply_changes(_ended(text), [Insert(1, tuple(f"{name}: {value}" for name, value in headers))])
    return _first_alike(text, markdown, _places(text, markdown, headers), dict(headers))


def with_notes(text: Text, markdown: bool, lines: Sequence[str]) -> Text:
    """The text of one card with lines that belong to no card as notes at its end, all else read as before."""
    words = [line.rstrip() for line in lines]
    if not any(words):
        return text
    indented = [f"  {line}" if line else "" for line in words]
    one = "  " + " ".join(" ".join(words).split())
    heading = "## Notes" if markdown else "Notes"
    end = len(text.lines)
    shapes = ([heading, "", *words], [heading, *indented], indented, [heading, one], [one])
    places = (apply_changes(_ended(text), [Insert(end, ("", *shape))]) for shape in shapes)
    return _first_alike(text, markdown, places, {})


def _places(text: Text, markdown: bool, headers: Sequence[tuple[str, str]]) -> Iterator[Text]:
    front = read_front_matter(text.lines)
    if front is not None:
        sign = text.lines[front.size - 1].words.strip()
        form = "{} = {}" if sign == "+++" else "{}: {}"
        lines = tuple(form.format(name, _yaml(value, sign == "+++")) for name, value in headers)
        yield apply_changes(text, [Insert(front.size - 1, lines)])
    lines = tuple(f"{name}: {value}" for name, value in headers)
    ended = _ended(text)
    after = _title_end(text, markdown)
    if markdown:
        # A blank line keeps the header lines out of the title's paragraph, and hard breaks keep them apart.
        broken = tuple(f"{line}  " for line in lines)
        yield apply_changes(ended, [Insert(after, ("", *broken))])
        yield apply_changes(ended, [Insert(after, ("", *broken, ""))])
    yield apply_changes(ended, [Insert(after, lines)])
    yield apply_changes(ended, [Insert(after, (*lines, ""))])
    yield apply_changes(ended, [Insert(after, ("", *lines, ""))])
    if front is None:
        yield apply_changes(ended, [Insert(0, lines)])
        yield apply_changes(ended, [Insert(0, (*lines, ""))])
        if not after and (cards := _sense(text, markdown)):
            # Without a title line there is nothing to head: the words that stand in for one are written down.
            yield apply_changes(ended, [Insert(0, (cards[0].title, *lines, ""))])
    yield apply_changes(ended, [Insert(len(text.lines), ("", *lines))])


def _first_alike(text: Text, markdown: bool, places: Iterator[Text], headers: dict[str, str]) -> Text:
    wanted = _sense(text, markdown)
    tried = []
    for place in places:
        found = _sense(place, markdown)
        tried.append(place)
        if len(found) == len(wanted) and all(_alike(a, b, headers) for a, b in zip(wanted, found, strict=True)):
            return place
    return tried[-1]


def _alike(before: Card, after: Card, headers: dict[str, str]) -> bool:
    def sense(card: Card) -> object:
        return (
            card.title,
            [(i.group, i.text) for i in card.ingredients],
            [step.text for step in card.steps],
            [(h.name, h.value) for h in card.headers if h.name not in headers],
            (card.serves, card.makes, card.minutes, card.tags, card.pan, card.measures),
        )

    notes = [note.text for note in before.notes]
    kept = all(note in " ".join(other.text for other in after.notes) for note in notes)
    said = {h.name: h.value for h in after.headers}
    return sense(before) == sense(after) and kept and all(said.get(name) == value for name, value in headers.items())


def _sense(text: Text, markdown: bool) -> list[Card]:
    try:
        return read_text(text, "card.md" if markdown else "card.txt")
    except NotACardError:
        return []


def _title_end(text: Text, markdown: bool) -> int:
    """The line after which the title is over, underlined in Markdown's second manner or not; 0 for no title."""
    cards = _sense(text, markdown)
    after = next((line.number for card in cards[:1] for line in card.lines if line.role is Role.TITLE), 0)
    below = text.lines[after].words.strip() if 0 < after < len(text.lines) else ""
    return after + 1 if re.fullmatch(r"=+|-+", below) else after


def _yaml(value: str, always: bool) -> str:
    if not always and not _QUOTE_IN_YAML.search(value):
        return value
    escaped = value.replace("\\", "/").replace('"', "'")
    return f'"{escaped}"'


def _ended(text: Text) -> Text:
    """The text with an end to its last line, which Insert would otherwise leave off the new last one."""
    if not text.lines or text.lines[-1].end:
        return text
    *lines, last = text.lines
    return Text((*lines, type(last)(last.words, text.end)), text.encoding, text.mark, text.unsure)
