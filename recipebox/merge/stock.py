"""What is on hand, merged: amounts add up what each side changed."""

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction

from recipebox.cards.model import Amount
from recipebox.cards.onhand import OnHandEntry, insert_lines, read_on_hand, with_amount
from recipebox.cards.text import decode, encode
from recipebox.cards.writer import Change, Insert, Remove, Replace, apply_changes
from recipebox.merge.algebra import merged_set, shortest
from recipebox.merge.sheet import plain

Key = tuple[str, ...]
_NOTHING = Amount(Fraction(0), Fraction(0))


def merge_on_hand(base: bytes | None, sides: Sequence[bytes]) -> bytes:
    """on-hand.txt after all sides' changes. Each side counts, also those that made the same change.

    3 cans; one side used 1, the other 2: none left, "0 cans" till a person deletes the line. The changes of all sides
    are added up together and only then kept from going below nothing. An entry's other words, and lines that are no
    entries, merge as in a set. Raises NotTextError where one of them is no text.
    """
    changed = sorted(side for side in sides if side != base)
    if len(changed) < 2:
        return changed[0] if changed else base or b""
    start = _entries(base or b"")
    maps = [_entries(side) for side in changed]
    target = base if base is not None else changed[0]
    there = _entries(target)
    changes: list[Change] = []
    new: dict[str, list[str]] = {}
    for key in sorted({key for entries in (start, *maps) for key in entries}):
        words = _merged(start.get(key), [entries.get(key) for entries in maps])
        if key in there:
            changes += _line_changes(target, there[key], words)
        elif words is not None:
            new.setdefault(key[0], []).append(words)
    changes += _remark_changes(base or b"", target, changed)
    result = encode(apply_changes(decode(target), changes))
    for place, lines in sorted(new.items(), key=lambda item: ("pantry", "fridge", "freezer").index(item[0])):
        result = insert_lines(result, place, sorted(lines, key=str.encode))
    return result


def _remark_changes(base: bytes, target: bytes, sides: Sequence[bytes]) -> list[Change]:
    """Lines behind a "#" as a set: new ones stand at the top."""
    kept = merged_set(frozenset(_remarks(base)), [frozenset(_remarks(side)) for side in sides])
    there = _remarks(target)
    new = tuple(sorted(kept - there.keys(), key=lambda words: words.encode("utf-8", "surrogatepass")))
    gone: list[Change] = [Remove(number, number) for words, number in there.items() if words not in kept]
    return [*gone, Insert(0, new)] if new else gone


def _remarks(data: bytes) -> dict[str, int]:
    lines = enumerate(decode(data).lines, start=1)
    return {plain(line.words): number for number, line in lines if line.words.lstrip().startswith("#")}


def _entries(data: bytes) -> Mapping[Key, OnHandEntry]:
    """Entries by what they are known by; a second of the same kind is known by its count too."""
    counts: Counter[Key] = Counter()
    found: dict[Key, OnHandEntry] = {}
    for entry in read_on_hand(data).entries:
        counts[entry.key] += 1
        found[*entry.key, str(counts[entry.key])] = entry
    return found


def _merged(start: OnHandEntry | None, sides: Sequence[OnHandEntry | None]) -> str | None:
    """The words of an entry after all sides; None where it goes."""
    present = [entry for entry in sides if entry is not None]
    if not present:
        return None
    missing = start is not None and len(present) < len(sides)
    counted = [entry for entry in ([start] if start else []) + present if entry.amount is None]
    if counted:
        return None if missing and all(e.text == start.text for e in present if start) else _words(start, present)
    before = start.amount if start and start.amount else _NOTHING
    total = before
    for entry in sides:
        after = entry.amount if entry and entry.amount else _NOTHING
        if entry is not None or start is not None:
            total = Amount(total.low + after.low - before.low, total.high + after.high - before.high)
    total = Amount(max(total.low, Fraction(0)), max(total.high, Fraction(0)))
    if missing and not total.high:
        return None
    chosen = _wordings(start, present)
    if chosen.amount == total:
        return chosen.text
    return with_amount(chosen, total)


def _words(start: OnHandEntry | None, present: Sequence[OnHandEntry]) -> str:
    changed = {entry.text for entry in present if start is None or entry.text != start.text}
    return min(changed, key=shortest) if changed or start is None else start.text


def _wordings(start: OnHandEntry | None, present: Sequence[OnHandEntry]) -> OnHandEntry:
    """The entry whose words, amount aside, stand: the base's unless a side changed them, then the shortest."""
    zero = Amount(Fraction(0), Fraction(0))
    bare = {entry: with_amount(entry, zero) for entry in ([start] if start else []) + list(present)}
    changed = [entry for entry in present if start is None or bare[entry] != bare[start]]
    if not changed:
        return start or present[0]
    return min(changed, key=lambda entry: (shortest(bare[entry]), shortest(entry.text)))


def _line_changes(target: bytes, entry: OnHandEntry, words: str | None) -> list[Change]:
    if words is None:
        return [Remove(entry.line, entry.line)]
    if words == entry.text:
        return []
    line = decode(target).lines[entry.line - 1].words
    at = line.find(entry.text)
    return [Replace(entry.line, entry.line, ((line[:at] if at >= 0 else "  ") + words,))]
