"""A card's text made from parts that are already known: what a structured page or file says."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card
from recipebox.cards.reader import read_text
from recipebox.cards.text import decode

Group = tuple[str | None, list[str]]  # a heading, or None, and the lines under it


@dataclass(slots=True)
class Parts:
    """What is known of a card; every string is one line."""

    title: str = ""
    headers: list[tuple[str, str]] = field(default_factory=list)
    ingredients: list[Group] = field(default_factory=list)
    steps: list[Group] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def compose(parts: Parts) -> tuple[str, bool]:
    """The card's text, and whether it is Markdown.

    The plain shape of a family recipe is taken if it reads back as these parts; else Markdown, which marks every
    heading and list, if that reads back better.
    """
    best: tuple[int, str, bool] | None = None
    for write, markdown in ((_plain, False), (_markdown, True)):
        text = write(parts)
        faults = _faults(text, markdown, parts)
        if not faults:
            return text, markdown
        if best is None or faults < best[0]:
            best = faults, text, markdown
    assert best is not None
    return best[1], best[2]


def _plain(parts: Parts) -> str:
    blocks = [[parts.title, *_headers(parts)]]
    if parts.ingredients:
        lines = ["Ingredients"]
        for heading, items in parts.ingredients:
            lines += [heading] if heading else []
            lines += [f"  {item}" for item in items]
        blocks.append(lines)
    if parts.steps:
        lines = ["Method"]
        number = 0
        for heading, steps in parts.steps:
            lines += [f"{heading}:"] if heading else []
            for step in steps:
                number += 1
                lines.append(f"  {number}. {step}")
        blocks.append(lines)
    blocks += _notes(parts, "Notes")
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def _markdown(parts: Parts) -> str:
    blocks = [[f"# {parts.title}"]]
    if parts.headers:
        # Two blanks at the end are CommonMark's hard line break.
        blocks.append([f"{line}  " for line in _headers(parts)])
    if parts.ingredients:
        blocks.append(["## Ingredients"])
        for heading, items in parts.ingredients:
            blocks += [[f"### {heading}"]] if heading else []
            blocks.append([f"- {item}" for item in items])
    if parts.steps:
        blocks.append(["## Method"])
        number = 0
        for heading, steps in parts.steps:
            blocks += [[f"### {heading}"]] if heading else []
            blocks.append([f"{number + at}. {step}" for at, step in enumerate(steps, 1)])
            number += len(steps)
    blocks += _notes(parts, "## Notes")
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _headers(parts: Parts) -> list[str]:
    return [f"{name}: {value}" for name, value in parts.headers]


def _notes(parts: Parts, heading: str) -> Iterator[list[str]]:
    if not parts.notes:
        return
    plain = not heading.startswith("#")
    first, *rest = parts.notes
    if plain:
        yield [heading, f"  {first}"]
    else:
        yield [heading]
        yield [first]
    for note in rest:
        yield [f"  {note}" if plain else note]


def _faults(text: str, markdown: bool, parts: Parts) -> int:
    """How many lines of the parts do not come back as what they are."""
    wanted = [("title", parts.title)]
    wanted += [(heading or "", item) for heading, items in parts.ingredients for item in items]
    steps = [step for _, steps in parts.steps for step in steps]
    try:
        cards = read_text(decode(text.encode("utf-8")), "card.md" if markdown else "card.txt")
    except NotACardError:
        return len(wanted) + len(steps) + len(parts.notes) + 1
    card = cards[0]
    found = [("title", card.title), *((one.group or "", one.text) for one in card.ingredients)]
    return (
        10 * (len(cards) - 1)
        + _differ(wanted, found)
        + _differ(steps, [step.text for step in card.steps])
        + _differ(parts.notes, _note_words(card))
    )


def _note_words(card: Card) -> list[str]:
    return [note.text for note in card.notes]


def _differ(wanted: Sequence[object], found: Sequence[object]) -> int:
    if wanted == found:
        return 0
    left = list(found)
    missing = 0
    for one in wanted:
        if one in left:
            left.remove(one)
        else:
            missing += 1
    return missing + len(left) + 1
