"""on-hand.txt: what is in one kitchen's pantry, fridge and freezer, read and changed a line at a time."""

import re
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from unicodedata import normalize

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Ingredient, Trouble
from recipebox.cards.nouns import many, one
from recipebox.cards.text import Line, Text, decode, encode
from recipebox.cards.things import thing
from recipebox.cards.unitwords import system

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
_NO_DATE = re.compile(r"\b(?:use[ -]?by|best (?:before|by)|expires?(?: on)?)\b.*$", re.IGNORECASE)
_PLAIN = 4
"""Up to quarters a metric amount is written as a fraction too ("1 1/2 kg")."""
_BULLET = re.compile(r"\s*(?:[-*•]\s+)?")


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
            return change_amount(data, other, plus(other.amount, entry.amount))
    return insert_lines(data, chosen, [entry.text])


def change_amount(data: bytes, entry: OnHandEntry, amount: Amount) -> bytes:
    """on-hand.txt with another amount in one entry's line; an entry stays at nothing ("0 cans") till it is deleted."""
    text = decode(data)
    lines = list(text.lines)
    old = lines[entry.line - 1]
    new = old.words[: _end_of_bullet(old.words)] + with_amount(entry, amount)
    lines[entry.line - 1] = Line(new, old.end)
    return encode(Text(tuple(lines), text.encoding, text.mark, text.unsure))


def with_amount(entry: OnHandEntry, amount: Amount) -> str:
    """The entry's words with another amount, everything else as it stands ("1 can peas" -> "0 cans peas").

    Exact: a metric amount that is no plain fraction is written as a decimal ("1.76 kg").
    """
    said = _number(amount.low, entry.unit)
    if amount.low != amount.high:
        said += f" to {_number(amount.high, entry.unit)}"
    words = entry.text
    for start in (found.start() for found in re.finditer(r"(?<!\S)\S", words)):
        read = read_amount(words[start:])
        if read and read[0] == entry.amount:
            after = words[start + read[1] :]
            gap = "" if not after or after[0] in " ,;)" else " "
            return f"{words[:start]}{said}{gap}{_numbered(after, entry, amount)}"
    return f"{said} {words}"


def _numbered(after: str, entry: OnHandEntry, amount: Amount) -> str:
    """Words behind an amount, with the unit that is written out, or the thing counted, in the number that fits."""
    found = re.match(r"\s*([A-Za-z]+)", after)
    if entry.unit is None:
        return _counted(after, entry, amount)
    if found is None:
        return after
    unit = entry.unit
    several = unit + ("es" if unit.endswith(("x", "ch", "sh", "s")) else "s")
    wanted, other = (unit, several) if _singly(amount) else (several, unit)
    if found[1].lower() == other:
        return after[: found.start(1)] + wanted + after[found.end(1) :]
    return after


def _counted(after: str, entry: OnHandEntry, amount: Amount) -> str:
    """The noun of what is counted, for one or for more; as it stands where that would be another thing."""
    item = entry.item
    at = after.find(item) if item else -1
    if at < 0 or entry.amount is None:
        return after
    is_one, was_one = _singly(amount), _singly(entry.amount)
    head, *rest = re.split(r"(?= with | in | of | for | and | or )", item, maxsplit=1)
    before, gap, noun = head.rpartition(" ")
    bent = "".join([before, gap, (one if is_one else many)(noun), *rest])
    if is_one == was_one or thing(bent) != thing(item):
        return after
    return after[:at] + bent + after[at + len(item) :]


def _singly(amount: Amount) -> bool:
    return 0 < amount.high <= 1


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
    undated = _NO_DATE.search(without)
    if undated and not use_by:
        without = without[: undated.start()].strip(" ,;(-–")
        worry = worry or f"{undated.group().strip(' ,;()')}: write the date as 2026-12-01"
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


def _number(number: Fraction, unit: str | None) -> str:
    if system(unit)[1] == "metric" and number.denominator > _PLAIN and not 1000 % number.denominator:
        return f"{float(number):.3f}".rstrip("0")
    return write_amount(number)
