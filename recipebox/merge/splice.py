"""A merged card written into one side's text, line by line, and read again to see that it says what it should."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card, Role
from recipebox.cards.reader import read_cards
from recipebox.cards.shape import entry_lines
from recipebox.cards.text import Text, encode
from recipebox.cards.writer import Change, Insert, Remove, Replace, apply_changes, put_section
from recipebox.merge.algebra import shortest
from recipebox.merge.entries import in_order, is_settled
from recipebox.merge.errors import UnmergeableError
from recipebox.merge.layout import in_line, places, source_lines
from recipebox.merge.match import Key
from recipebox.merge.part import Part
from recipebox.merge.sheet import Element, Sheet, plain, read_sheets

Keyed = Mapping[Key, Element]
_NUMBERED = re.compile(r"(\s*(?:\*\*)?)(\d{1,3})([.):].*)", re.DOTALL)
_HEADINGS = (Role.SECTION, Role.GROUP)
_IN_ORDER = (Role.TITLE, Role.SECTION, Role.GROUP, Role.HEADER)


def spliced(target: Sequence[Sheet], keys: Sequence[Keyed], parts: Sequence[Part], path: str) -> bytes:
    """The target's text with only those lines different that the merge changes.

    Raises UnmergeableError if what was written does not read back as what was merged.
    """
    changes = [
        change
        for sheet, keyed, part in zip(target, keys, parts, strict=True)
        for change in _changes(sheet, keyed, part)
    ]
    text = apply_changes(target[0].text, changes)
    text = _renumbered(target, text, path)
    for n, part in enumerate(parts):
        text = _with_entries(text, n, part, path)
    result = encode(text)
    _check(result, parts, path)
    return result


def _changes(sheet: Sheet, keys: Keyed, part: Part) -> list[Change]:
    texts = {key: outcome.text for key, outcome in part.outcomes.items() if part.role(key) is not None}
    texts |= {
        key: min((e.text for e in part.elements(key)), key=shortest)
        for key in texts
        if texts[key] is None and part.role(key) in _HEADINGS and _still_heads(key, part, texts)
    }
    added = _additions(sheet, keys, part, texts)
    changes: list[Change] = [Insert(after, tuple(lines)) for after, lines in added.items()]
    gone: set[int] = set()
    for key, element in reversed(list(keys.items())):
        words = texts.get(key)
        if words is None:
            gone |= _removed(sheet, element, gone, added)
        elif words != element.text:
            changes.append(Replace(element.first, element.last, tuple(_reworded(sheet, key, element, words, part))))
    return changes + [Remove(number, number) for number in sorted(gone)]


def _reworded(sheet: Sheet, key: Key, element: Element, words: str, part: Part) -> list[str]:
    """The element's lines with other words: the lines of the side that wrote them, under this text's own marks."""
    if element.first == element.last:
        return [in_line(sheet.source(element)[0], element, words)]
    sources = _sources(part, key, words)
    return sources[0] if sources else [element.prefix + words]


def _sources(part: Part, key: Key, words: str) -> list[list[str]]:
    found = {
        tuple(source_lines(element, sheet, words, None))
        for sheet, keys in part.sides
        if (element := keys.get(key)) is not None and element.text == words
    }
    return [list(lines) for lines in sorted(found, key=lambda lines: (len(lines), lines))]


def _additions(sheet: Sheet, keys: Keyed, part: Part, texts: Mapping[Key, str | None]) -> dict[int, list[str]]:
    new = [key for key, words in texts.items() if words is not None and key not in keys]
    ranks = {key: (0, (texts.get(key) or "").encode("utf-8", "surrogatepass")) for key in texts}
    wanted = set(new)
    orders: list[Keyed] = [{k: e for k, e in side.items() if k in wanted or k in keys} for _, side in part.sides]
    if part.base is not None:
        orders.append({k: e for k, e in part.start.items() if k in wanted or k in keys})
    found: dict[int, list[str]] = {}
    for anchor, run in places(list(keys), orders, ranks).items():
        after = keys[anchor].last if anchor is not None else 0
        lines: list[str] = []
        for key in run:
            lines += _added_lines(sheet, key, texts[key] or "", part)
        found.setdefault(after, []).extend(lines)
    return found


def _added_lines(sheet: Sheet, key: Key, words: str, part: Part) -> list[str]:
    options = []
    for source, keys in [*part.sides, *([(part.base, part.start)] if part.base else [])]:
        element = keys.get(key)
        if element is not None:
            same = element.text != words
            lines = [""] * element.lead + source_lines(element, source, words, _usual_prefix(sheet, element))
            options.append((same, len(lines), lines))
    return min(options)[2]


def _usual_prefix(sheet: Sheet, element: Element) -> str | None:
    """The marks lines of this kind have in the target, if theirs differ from the element's; None to keep its own."""
    if element.role in _IN_ORDER:
        return None
    usual = Counter(re.sub(r"\d+", "1", e.prefix) for e in sheet.elements if e.role is element.role)
    if not usual or re.sub(r"\d+", "1", element.prefix) in usual:
        return None
    return min(usual, key=lambda prefix: (-usual[prefix], prefix))


def _removed(sheet: Sheet, element: Element, gone: set[int], added: Mapping[int, list[str]]) -> set[int]:
    """An element's lines, and the blank lines above it if only blank lines or nothing would follow them."""
    lines = set(range(element.first, element.last + 1))
    after = element.last + 1
    while after in gone:
        after += 1
    ends = after > len(sheet.text.lines) or not sheet.text.lines[after - 1].words.strip()
    if ends and not any(added.get(number) for number in range(element.first, after)):
        lines |= set(range(element.first - element.lead, element.first))
    return lines


def _still_heads(key: Key, part: Part, texts: Mapping[Key, str | None]) -> bool:
    """Whether a heading that one side took out still heads lines which that side did not have."""
    removers = [side for _, side in part.sides if key not in side]
    for side in (part.start, *(side for _, side in part.sides)):
        order = list(side)
        for following in order[order.index(key) + 1 :] if key in side else ():
            if part.role(following) is Role.SECTION or part.role(following) is part.role(key):
                break
            stands = texts.get(following) is not None and part.role(following) not in _HEADINGS
            if stands and any(following not in remover for remover in removers):
                return True
    return False


def _renumbered(target: Sequence[Sheet], text: Text, path: str) -> Text:
    """Steps numbered on where the target numbered all of its steps from 1."""
    if not all(_counts(_numbers(sheet)) for sheet in target):
        return text
    try:
        sheets = read_sheets(encode(text), path)
    except NotACardError:
        return text
    changes: list[Change] = []
    for sheet in sheets:
        steps = [element for element in sheet.elements if element.role is Role.STEP]
        if len(_numbers(sheet)) != len(steps):
            return text
        for number, step in enumerate(steps, start=1):
            line = text.lines[step.first - 1].words
            found = _NUMBERED.fullmatch(line)
            if found and found[2] != str(number):
                changes.append(Replace(step.first, step.first, (f"{found[1]}{number}{found[3]}",)))
    return apply_changes(text, changes)


def _numbers(sheet: Sheet) -> list[int]:
    steps = [sheet.text.lines[e.first - 1].words for e in sheet.elements if e.role is Role.STEP]
    return [int(found[2]) for words in steps if (found := _NUMBERED.fullmatch(words))]


def _counts(numbers: Sequence[int]) -> bool:
    return bool(numbers) and list(numbers) == list(range(1, len(numbers) + 1))


def _with_entries(text: Text, n: int, part: Part, path: str) -> Text:
    wanted = list(part.entries.values())
    for section, settled in (("undecided", False), ("settled", True)):
        card = _read(encode(text), path)[n]
        have = card.settled if settled else card.undecided
        new = in_order([entry for entry in wanted if is_settled(entry) is settled])
        if in_order(have) != new:
            text = put_section(text, card, section, [line for entry in new for line in entry_lines(entry)])
    return text


def _check(result: bytes, parts: Sequence[Part], path: str) -> None:
    try:
        sheets = read_sheets(result, path)
    except NotACardError as error:
        raise _no_card(path, error) from error
    if len(sheets) != len(parts):
        raise UnmergeableError(path, "the merged text would hold another number of recipes")
    for sheet, part in zip(sheets, parts, strict=True):
        roles = {key: part.role(key) for key in part.outcomes}
        wanted: Counter[tuple[Role | None, str]] = Counter(
            (roles[key], plain(outcome.text))
            for key, outcome in part.outcomes.items()
            if outcome.text is not None and roles[key] is not None and roles[key] not in _HEADINGS
        )
        have: Counter[tuple[Role | None, str]] = Counter(
            (e.role, plain(e.text)) for e in sheet.elements if e.role not in _HEADINGS
        )
        if wanted != have:
            odd = next(iter((wanted - have) or (have - wanted)))
            raise UnmergeableError(path, f"the merged text would read differently at {odd[1]!r}")
        entries = in_order([entry for entry, _ in sheet.entries])
        if entries != in_order(list(part.entries.values())):
            raise UnmergeableError(path, "the merged text would ask something else")


def _read(data: bytes, path: str) -> list[Card]:
    try:
        return read_cards(data, path)
    except NotACardError as error:
        raise _no_card(path, error) from error


def _no_card(path: str, error: NotACardError) -> UnmergeableError:
    return UnmergeableError(path, f"the merged text would be no card ({error.why})")
