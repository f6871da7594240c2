"""on-hand.txt: what is in one kitchen's pantry, fridge and freezer, read and changed a line at a time."""

import re
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from unicodedata import normalize

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Ingredient, Trouble
from recipebox.cards.text import Line, Text, decode, encode
from recipebox.cards.things import thing

PLACES = ("pantry", "fridge", "freezer")
_PLACE_WORDS = {
    "pantry": "pantry",
    "cupboard": "pantry",
    "cupboards": "pantry",
    "larder": "pantry",
    "fridge": "fridge",
    "refrigerator": "fridge",
    "freezer": "freezer",
}
_MONTHS = {
    name: number
    for number, names in enumerate(
        [
            "jan january",
            "feb february",
            "mar march",
            "apr april",
            "may",
            "jun june",
            "jul july",
            "aug august",
            "sep sept september",
            "oct october",
            "nov november",
            "dec december",
        ],
        start=1,
    )
    for name in names.split()
}
_DATE = re.compile(
    r"[\s,;(–-]*\b(?P<word>use[ -]?by|best (?:before|by)|bbe?|good until|until|expires?(?: on)?|exp)?\b[.:]?\s*"
    r"(?:(?P<iso>\d{4}-\d{1,2}-\d{1,2})"
    r"|(?P<day>\d{1,2})(?:st|nd|rd|th)?\.? (?P<month>[A-Za-z]{3,9})\.?,? (?P<year>\d{4})"
    r"|(?P<month2>[A-Za-z]{3,9})\.? (?P<day2>\d{1,2})(?:st|nd|rd|th)?,? (?P<year2>\d{4})"
    r"|(?P<numbers>\d{1,2}[/.]\d{1,2}[/.](?:\d{4}|\d{2})|\d{2}/\d{2}"
    r"|(?:(?<=by )|(?<=before ))\d{1,2}/\d{1,2}))\s*\)?\s*$",
    re.IGNORECASE,
)
_BULLET = re.compile(r"\s*(?:[-*•]\s+)?")


class NotOnHandError(LookupError):
    """Nothing of that name is on hand; the message says so for a person."""


@dataclass(frozen=True, slots=True)
class OnHandEntry:
    """One line of what is on hand. `line` is its source line, `place` pantry, fridge or freezer, `text` its words.

    `amount` is None where the line does not say how much there is; `reading` is the line as an ingredient.
    """

    line: int
    place: str
    item: str
    amount: Amount | None
    unit: str | None
    use_by: date | None
    text: str
    reading: Ingredient

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What an entry is known by: place, thing, unit (with the container's size) and date."""
        container = self.reading.container
        size = "" if container is None else f" of {container.amount.low} {container.unit}"
        return self.place, thing(self.item), (self.unit or "") + size, str(self.use_by or "")


@dataclass(frozen=True, slots=True)
class OnHand:
    """All entries of one kitchen, in the order of the file."""

    entries: tuple[OnHandEntry, ...] = ()
    trouble: tuple[Trouble, ...] = ()


def read_on_hand(data: bytes) -> OnHand:
    """Read on-hand.txt. Lines before the first place count as pantry. Raises NotTextError for what is no text."""
    entries: list[OnHandEntry] = []
    trouble: list[Trouble] = []
    place = "pantry"
    for number, line in enumerate(decode(data).lines, start=1):
        heading = _place_heading(line.words)
        if heading:
            place = heading
            continue
        entry, worry = _read_entry(line.words, number, place)
        if entry:
            entries.append(entry)
        if worry:
            trouble.append(Trouble(number, worry))
    return OnHand(tuple(entries), tuple(trouble))


def add_entry(data: bytes, place: str, words: str) -> bytes:
    """on-hand.txt with a line under its place; an entry of the same place, thing, unit and date grows instead.

    Raises ValueError for an unknown place, words that hold no thing, or a date that can be read two ways.
    """
    chosen = _PLACE_WORDS.get(place.strip().casefold())
    if chosen is None:
        raise ValueError(f"{place}: the places are pantry, fridge and freezer")
    if len(words.strip().splitlines()) != 1:
        raise ValueError("an entry is one line")
    entry, worry = _read_entry(words, 1, chosen)
    if worry:
        raise ValueError(worry)
    if entry is None:
        raise ValueError(f"{words.strip()!r} names nothing")
    for other in read_on_hand(data).entries:
        if other.key == entry.key and other.amount and entry.amount:
            return _replace_line(data, other, plus(other.amount, entry.amount))
    return insert_lines(data, chosen, [entry.text])


def use_entry(data: bytes, item: str, amount: Amount | Fraction | None = None) -> bytes:
    """on-hand.txt after some of a thing was used, what must be used soonest first; None uses all of the first entry.

    `amount` counts in the entry's own unit. An entry stays at nothing ("0 cans") till a person deletes its line.
    Raises NotOnHandError where there is none of it, or less than that.
    """
    left = Fraction(0) if amount is None else amount.high if isinstance(amount, Amount) else amount
    wanted = thing(item)
    having = [e for e in read_on_hand(data).entries if thing(e.item) == wanted and not is_nothing(e)]
    having.sort(key=lambda entry: (entry.use_by or date.max, entry.line))
    if not having:
        raise NotOnHandError(f"no {item} on hand")
    if amount is None:
        return _replace_line(data, having[0], Amount(Fraction(0), Fraction(0)))
    alike = [e for e in having if e.amount is not None and e.key[2] == having[0].key[2]]
    there = sum((e.amount.high for e in alike if e.amount), Fraction(0))
    if there < left:
        unit = f" {having[0].unit}" if having[0].unit else ""
        raise NotOnHandError(f"only {write_amount(there)}{unit} of {item} on hand")
    for entry in alike:
        if entry.amount is None or not left:
            continue
        take = min(left, entry.amount.high)
        data = _replace_line(data, entry, plus(entry.amount, Amount(-take, -take)))
        left -= take
    return data


def with_amount(entry: OnHandEntry, amount: Amount) -> str:
    """The entry's words with another amount, everything else as it stands ("1 can peas" -> "0 cans peas")."""
    said = write_amount(amount.low) if amount.low == amount.high else _range(amount)
    words = entry.text
    for start in (found.start() for found in re.finditer(r"(?<!\S)\S", words)):
        read = read_amount(words[start:])
        if read and read[0] == entry.amount:
            after = words[start + read[1] :]
            gap = "" if not after or after[0] in " ,;)" else " "
            return f"{words[:start]}{said}{gap}{_numbered(after, entry.unit, amount)}"
    return f"{said} {words}"


def _numbered(after: str, unit: str | None, amount: Amount) -> str:
    """Words behind an amount whose unit is written out, in the number that goes with it."""
    found = re.match(r"\s*([A-Za-z]+)", after)
    if unit is None or found is None:
        return after
    many = unit + ("es" if unit.endswith(("x", "ch", "sh", "s")) else "s")
    one = amount.low == amount.high and amount.low == 1
    for old, new in ((unit, many), (many, unit)):
        if found[1].lower() == old and one == (new == unit):
            return after[: found.start(1)] + new + after[found.end(1) :]
    return after


def plus(a: Amount, b: Amount) -> Amount:
    """Two amounts added, never below nothing."""
    return Amount(max(a.low + b.low, Fraction(0)), max(a.high + b.high, Fraction(0)))


def is_nothing(entry: OnHandEntry) -> bool:
    """Whether an entry says that none is left."""
    return entry.amount is not None and entry.amount.high == 0


def insert_lines(data: bytes, place: str, new: list[str]) -> bytes:
    """on-hand.txt with whole lines at the end of a place's list, whose heading is written if it lacks one."""
    text = decode(data)
    lines = list(text.lines)
    current, last, indent = "pantry", None, "  "
    headed = False
    for at, line in enumerate(lines):
        heading = _place_heading(line.words)
        current = heading or current
        headed = headed or bool(heading and heading == place)
        if current == place and line.words.strip() and (heading or headed):
            last = at
            if not heading:
                indent = line.words[: len(line.words) - len(line.words.lstrip())]
    end = text.end
    if last is None:
        opening = [Line("", end)] if lines and lines[-1].words.strip() else []
        addition = [*opening, Line(place.capitalize(), end), *(Line(f"  {words}", end) for words in new)]
        last = len(lines) - 1
    else:
        addition = [Line(f"{indent}{words}", end) for words in new]
    if lines and last >= 0 and not lines[last].end:
        lines[last] = replace(lines[last], end=end)
    lines[last + 1 : last + 1] = addition
    return encode(Text(tuple(lines), text.encoding, text.mark, text.unsure))


def _read_entry(words: str, number: int, place: str) -> tuple[OnHandEntry | None, str | None]:
    text = normalize("NFC", words[_end_of_bullet(words) :].strip())
    if not text or text.startswith("#"):
        return None, None
    found = _DATE.search(text)
    use_by, worry, without = None, None, text
    if found:
        use_by, worry = _read_date(found)
        if use_by or worry:
            without = text[: found.start()].strip(" ,;(-–")
    reading = read_ingredient(without, line=number)
    if reading.kind != "ingredient" or not reading.item:
        if not without:
            return None, worry
        reading = replace(reading, kind="ingredient", item=reading.item or without)
    entry = OnHandEntry(number, place, reading.item, reading.amount, reading.unit, use_by, text, reading)
    return entry, worry


def _read_date(found: re.Match[str]) -> tuple[date | None, str | None]:
    words = found.group().strip(" ,;()")
    if found["numbers"]:
        return _read_numbers(found["numbers"], words)
    try:
        if found["iso"]:
            year, month, day = map(int, found["iso"].split("-"))
        else:
            name = (found["month"] or found["month2"]).casefold()
            if name not in _MONTHS:
                return None, None
            year, month = int(found["year"] or found["year2"]), _MONTHS[name]
            day = int(found["day"] or found["day2"])
        return date(year, month, day), None
    except ValueError:
        return None, f"{words}: there is no such day"


def _read_numbers(numbers: str, words: str) -> tuple[date | None, str | None]:
    parts = [int(part) for part in re.split(r"[/.]", numbers)]
    if len(parts) == 2:
        return None, f"{words}: write the date with its year, as 2026-12-01"
    first, second, year = parts
    year += 2000 if year < 100 else 0
    days = set()
    for day, month in ((first, second), (second, first)):
        try:
            days.add(date(year, month, day))
        except ValueError:
            continue
    if len(days) == 1:
        return days.pop(), None
    if not days:
        return None, f"{words}: there is no such day"
    either = " or ".join(str(day) for day in sorted(days))
    return None, f"{words} can be read as {either}: write it as {min(days)}"


def _place_heading(words: str) -> str | None:
    return _PLACE_WORDS.get(words.strip().lstrip("#").strip().rstrip(":").strip().casefold())


def _end_of_bullet(words: str) -> int:
    found = _BULLET.match(words)
    return found.end() if found else 0


def _range(amount: Amount) -> str:
    return f"{write_amount(amount.low)} to {write_amount(amount.high)}"


def _replace_line(data: bytes, entry: OnHandEntry, amount: Amount) -> bytes:
    text = decode(data)
    lines = list(text.lines)
    old = lines[entry.line - 1]
    new = old.words[: _end_of_bullet(old.words)] + with_amount(entry, amount)
    lines[entry.line - 1] = Line(new, old.end)
    return encode(Text(tuple(lines), text.encoding, text.mark, text.unsure))
