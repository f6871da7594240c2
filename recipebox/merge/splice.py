"""A merged card written into one side's text, line by line, and read again to see that it says what it should."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import pairwise

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Role
from recipebox.cards.shape import entry_lines
from recipebox.cards.text import Text, encode
from recipebox.cards.writer import Change, Insert, Remove, Replace, apply_changes, put_section
from recipebox.merge.algebra import shortest
from recipebox.merge.checking import cards_in, checked
from recipebox.merge.entries import in_order, is_settled
from recipebox.merge.layout import in_line, source_lines
from recipebox.merge.match import Key
from recipebox.merge.part import Part
from recipebox.merge.placing import places
from recipebox.merge.sheet import Element, Sheet, read_sheets

Keyed = Mapping[Key, Element]
_DIGITS = re.compile(r"\d+")
_LIST_MARKS = re.compile(r"\s*(?:[-*+•]|\d{1,3}[.):])?\s*")
_NUMBERED = re.compile(r"(\s*(?:\*\*)?)(\d{1,3})([.):].*)", re.DOTALL)
_HEADINGS = (Role.SECTION, Role.GROUP)
_IN_ORDER = (Role.TITLE, Role.SECTION, Role.GROUP, Role.HEADER, Role.LAYOUT)


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
    checked(result, parts, path)
    return result


def _changes(sheet: Sheet, keys: Keyed, part: Part) -> list[Change]:
    texts = {key: outcome.text for key, outcome in part.outcomes.items() if part.role(key) is not None}
    texts |= {
        key: min((e.text for e in part.elements(key)), key=shortest)
        for key in texts
        if texts[key] is None and part.role(key) in _HEADINGS and _still_heads(key, part, texts)
    }
    if sheet is not part.base:  # rules and borders belong to the layout
        texts |= {key: e.text if (e := keys.get(key)) else None for key in texts if part.role(key) is Role.LAYOUT}
    runs = _runs(keys, part, texts)
    added = {_end(keys, anchor): _added(keys, run, texts, part) for anchor, run in runs.items()}
    changes: list[Change] = []
    gone: set[int] = set()
    for key, element in reversed(list(keys.items())):
        words = texts.get(key)
        if words is None:
            gone |= _removed(sheet, element, gone, added)
        elif words != element.text:
            changes.append(Replace(element.first, element.last, tuple(_reworded(sheet, key, element, words, part))))
    for anchor, run in runs.items():
        _space_below(sheet, keys, part, texts, (anchor, run), runs, added, gone)
    changes += [Insert(after, tuple(lines)) for after, lines in added.items()]
    return changes + [Remove(number, number) for number in sorted(gone)]


def _end(keys: Keyed, anchor: Key | None) -> int:
    return keys[anchor].last if anchor is not None else 0


def _space_below(
    sheet: Sheet,
    keys: Keyed,
    part: Part,
    texts: Mapping[Key, str | None],
    placed: tuple[Key | None, list[Key]],
    runs: Mapping[Key | None, list[Key]],
    added: dict[int, list[str]],
    gone: set[int],
) -> None:
    """Between a new line and the one it comes before, as many blank lines as where somebody wrote the two so."""
    anchor, run = placed
    order = list(keys)
    for following in order[order.index(anchor) + 1 if anchor is not None else 0 :]:
        if texts.get(following) is not None:
            break
        if following in runs:
            return
    else:
        return
    between = [n for n in range(_end(keys, anchor) + 1, keys[following].first) if n not in gone]
    if any(sheet.text.lines[n - 1].words.strip() for n in between):
        return
    leads = []
    for _, side in part.sides:
        standing = [key for key in side if texts.get(key) is not None]
        if (run[-1], following) in pairwise(standing):
            leads.append(side[following].lead)
    if leads:
        wanted = min(leads)
        gone.update(between[: max(len(between) - wanted, 0)])
        added[_end(keys, anchor)] += [""] * (wanted - len(between))


def _reworded(sheet: Sheet, key: Key, element: Element, words: str, part: Part) -> list[str]:
    """The element's lines with other words: the lines of the side that wrote them, under this text's own marks."""
    sources = _sources(part, key, words)
    if element.first == element.last and not any(len(lines) > 1 for _, lines in sources):
        return [in_line(sheet.source(element)[0], element, words)]
    if not sources:
        return [element.prefix + words]
    prefix, lines = sources[0]
    return [element.prefix + lines[0].removeprefix(prefix), *lines[1:]]


def _sources(part: Part, key: Key, words: str) -> list[tuple[str, tuple[str, ...]]]:
    """How sides wrote these words: what stands before them, and their lines."""
    found = {
        (element.prefix, tuple(source_lines(element, sheet, words, None)))
        for sheet, keys in part.sides
        if (element := keys.get(key)) is not None and element.text == words
    }
    return sorted(found, key=lambda source: (len(source[1]), source))


def _runs(keys: Keyed, part: Part, texts: Mapping[Key, str | None]) -> dict[Key | None, list[Key]]:
    """New elements by the element of the target that they follow."""
    wanted = {key for key, words in texts.items() if words is not None and key not in keys}
    ranks = {key: (0, (texts.get(key) or "").encode("utf-8", "surrogatepass")) for key in texts}
    orders: list[Keyed] = [{k: e for k, e in side.items() if k in wanted or k in keys} for _, side in part.sides]
    if part.base is not None:
        orders.append({k: e for k, e in part.start.items() if k in wanted or k in keys})
    return places(keys, orders, ranks)


def _added(target: Keyed, run: Sequence[Key], texts: Mapping[Key, str | None], part: Part) -> list[str]:
    return [line for key in run for line in _added_lines(target, key, texts[key] or "", part)]


def _added_lines(target: Keyed, key: Key, words: str, part: Part) -> list[str]:
    options = []
    for source, keys in [*part.sides, *([(part.base, part.start)] if part.base else [])]:
        element = keys.get(key)
        if element is not None:
            same = element.text != words
            lines = [""] * element.lead + source_lines(element, source, words, _marks_there(target, keys, element))
            options.append((same, len(lines), lines))
    return min(options)[2]


def _marks_there(target: Keyed, source: Keyed, element: Element) -> str | None:
    """The marks of such lines in the target where its layout is another than the element's own text's; else None."""
    if element.role in _IN_ORDER or not _LIST_MARKS.fullmatch(element.prefix):
        return None
    both = [key for key, other in source.items() if other.role is element.role and key in target]
    there, own = _usual([target[key] for key in both]), _usual([source[key] for key in both])
    if there == own or own != _DIGITS.sub("1", element.prefix) or there is None or not _LIST_MARKS.fullmatch(there):
        return None
    return there


def _usual(elements: Sequence[Element]) -> str | None:
    """What most lines have before their words."""
    found = Counter(_DIGITS.sub("1", element.prefix) for element in elements)
    return min(found, key=lambda prefix: (-found[prefix], prefix), default=None)


def _removed(sheet: Sheet, element: Element, gone: set[int], added: Mapping[int, list[str]]) -> set[int]:
    """An element's lines, and the blank lines above it if only blank lines or nothing would follow them."""
    lines = set(range(element.first, element.last + 1))
    after = element.last + 1
    while after in gone:
        after += 1
    ends = after > len(sheet.text.lines) or not sheet.text.lines[after - 1].words.strip()
    instead = next((added[number] for number in range(element.first, after) if added.get(number)), None)
    if ends if instead is None else not instead[0]:
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
        card = cards_in(encode(text), path)[n]
        have = card.settled if settled else card.undecided
        new = in_order([entry for entry in wanted if is_settled(entry) is settled])
        if in_order(have) != new:
            text = put_section(text, card, section, [line for entry in new for line in entry_lines(entry)])
    return text
