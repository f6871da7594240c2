"""The sections that the tool keeps: Some add, Variations, Swaps, Undecided, Settled, Versions."""

import re
from collections.abc import Sequence
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Entry, SomeAdd, Swap, Variation, VersionLine, Wording
from recipebox.cards.rows import Kind, Row
from recipebox.cards.text import Line

ALWAYS_KEPT = ("undecided", "settled")
IN_FAMILY = ("some add", "variations", "swaps", "undecided", "settled", "versions")

_BATCHES = {"double": Fraction(2), "triple": Fraction(3), "half": Fraction(1, 2), "quarter": Fraction(1, 4)}
_BATCH = re.compile(r"(?P<words>.+?)[\s-]*(?:size )?batch(?:es)?$|(?:times|x)\s*(?P<times>.+)$", re.IGNORECASE)
_CHOSEN = "chosen:"
READ_LABELS = "read the label"  # the last words of a swap that changes allergens


def read_some_add(rows: Sequence[Row]) -> tuple[SomeAdd, ...]:
    """Lines such as "1/2 tsp nutmeg | Ines, Tomasz"."""
    found = []
    for row in _solid(rows):
        words, *rest = _fields(row.text)
        who = tuple(name.strip() for name in rest[0].split(",") if name.strip()) if rest else ()
        found.append(SomeAdd(read_ingredient(words, row.number, None), who))
    return tuple(found)


def read_variations(rows: Sequence[Row]) -> tuple[Variation, ...]:
    """A line "Tomasz: flour, milk, eggs" and deeper lines, an ingredient each."""
    found: list[Variation] = []
    margin: int | None = None
    for row in _solid(rows):
        if margin is None or row.indent <= margin:
            margin = row.indent if margin is None else margin
            found.append(Variation(row.text, ()))
        else:
            name, ingredients = found[-1].name, found[-1].ingredients
            found[-1] = Variation(name, (*ingredients, read_ingredient(row.text, row.number, None)))
    return tuple(found)


def read_swaps(rows: Sequence[Row]) -> tuple[Swap, ...]:
    """Lines such as "leeks -> onions, half the weight | Tomasz | sweeter; brings in milk"."""
    return tuple(swap for row in _solid(rows) if (swap := _swap(row.text)) is not None)


def read_entries(rows: Sequence[Row]) -> tuple[Entry, ...]:
    """Entries: a line that says what it is about, then its wordings, each behind a dash."""
    found: list[tuple[str, list[Wording], int]] = []
    solid = _solid(rows)
    margin = min((row.indent for row in solid), default=0)
    dashed = all(row.kind is Kind.ITEM for row in solid)  # Markdown lists within lists
    for row in solid:
        if found and (row.indent > margin if dashed else row.kind is Kind.ITEM or row.indent > margin):
            chosen = row.text.casefold().startswith(_CHOSEN)
            found[-1][1].append(Wording(row.text[len(_CHOSEN) :].strip() if chosen else row.text, chosen))
        else:
            found.append((row.text, [], row.number))
    return tuple(Entry(about, tuple(wordings), line) for about, wordings, line in found)


def read_versions(rows: Sequence[Row]) -> tuple[VersionLine, ...]:
    """Lines such as "Brigid: versions/brigid-fish-bake.txt | double batch"; others are left out."""
    return tuple(version for row in _solid(rows) if (version := read_version(row.text)) is not None)


def read_version(words: str) -> VersionLine | None:
    """One line of Versions, None if it names no path."""
    first, *rest = _fields(words)
    name, colon, path = first.partition(": ")
    path = path.strip() if colon else first.strip()
    name = name.strip() if colon else ""
    if not re.search(r"\.(?:txt|md)(?:#\d+)?$", path, re.IGNORECASE):
        return None
    batch = Fraction(1)
    gone = False
    for field in rest:
        if field.casefold() == "gone":
            gone = True
        elif (read := _batch(field)) is not None:
            batch = read
    return VersionLine(name, path, batch, gone)


def _batch(words: str) -> Fraction | None:
    match = _BATCH.match(words.strip())
    if match is None:
        return None
    number = (match["words"] or match["times"]).strip()
    if number.casefold() in _BATCHES:
        return _BATCHES[number.casefold()]
    read = read_amount(number)
    return read[0].low if read is not None and not number[read[1] :].strip() and read[0].low > 0 else None


def _swap(words: str) -> Swap | None:
    first, *rest = _fields(words)
    item, arrow, instead = first.partition("->")
    if not arrow:
        item, arrow, instead = first.partition("→")
    if not arrow or not item.strip():
        return None
    instead, _, how = instead.strip().partition(", ")
    who, effect = [*rest, "", ""][:2] if len(rest) < 3 else (rest[0], " | ".join(rest[1:]))
    source = None
    if who.casefold().startswith("published:"):
        who, source = "", who[len("published:") :].strip()
    brings: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()
    kept = []
    for part in effect.split("; "):
        if part.startswith("brings in "):
            named = part.removeprefix("brings in ").strip()
            brings = () if named == "nothing" else _names(named)
        elif part.startswith("takes out "):
            named = part.removeprefix("takes out ").strip()
            takes = () if named == "nothing" else _names(named)
        elif part and part != READ_LABELS:
            kept.append(part)
    return Swap(
        item=item.strip(),
        instead=instead.strip(),
        how=how.strip() or None,
        who=who.strip() or None,
        source=source or None,
        effect="; ".join(kept) or None,
        brings_in=brings,
        takes_out=takes,
    )


def _names(words: str) -> tuple[str, ...]:
    """Names apart; one may have commas in brackets ("cereals ... (rye, barley, oats)")."""
    return tuple(name.strip() for name in re.split(r",(?![^()]*\))", words))


def plain_rows(lines: Sequence[Line], numbers: Sequence[int]) -> list[Row]:
    """Source lines as the tool writes them: an indent, perhaps a dash, and words that are kept to the letter."""
    rows = []
    for number in numbers:
        raw = lines[number - 1].words
        words = raw.strip()
        indent = len(raw.expandtabs(4)) - len(raw.expandtabs(4).lstrip())
        kind = Kind.BLANK if not words else Kind.ITEM if words.startswith(("- ", "* ")) else Kind.TEXT
        text = words[2:].strip() if kind is Kind.ITEM else words
        end = len(raw.rstrip())
        rows.append(Row(number, kind, text, indent, end - len(text), end))
    return rows


def _solid(rows: Sequence[Row]) -> list[Row]:
    return [row for row in rows if row.kind is not Kind.BLANK]


def _fields(words: str) -> list[str]:
    return [part.strip() for part in words.split(" | ")]
