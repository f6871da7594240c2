"""Sides that rescaled a card brought to one batch before their changes are joined."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.model import Entry, Role, Wording
from recipebox.cards.text import encode
from recipebox.cards.writer import Change, Replace, apply_changes
from recipebox.merge.algebra import in_byte_order
from recipebox.merge.entries import BATCH, WITHOUT_BODY, role_of
from recipebox.merge.layout import in_line
from recipebox.merge.match import keys_of
from recipebox.merge.sheet import Element, Sheet, ingredient_meaning, read_sheets
from recipebox.merge.wording import scaled, scaled_first

_SHARE = Fraction(3, 5)
"""Share of the amounts that must have grown alike before a card counts as rescaled: common practice, no source."""
_LINES, _LINES_TOLD = 3, 2
"""How many amounts must have: two may be two edits by chance, unless what the card serves grew along."""
_SHORT_CARD = 3
"""A card of no more amounts than this counts as rescaled if two grew alike and none was left as it was."""


def on_one_batch(
    base: bytes | None, sides: Sequence[bytes], path: str, ask: bool = False
) -> tuple[bytes | None, list[bytes], Entry | None]:
    """Base and sides on one batch, and the question about it where sides rescaled the card differently.

    A side that did not rescale the card is carried over to the batch of the one that did; if several did differently,
    or `ask`, all stand on the choice made, else on the wording that sorts first. A line that a side brought to the
    very amount it has on that batch is there already. Exact: no amount is rounded.
    """
    if base is None:
        return base, list(sides), None
    old = read_sheets(base, path)
    parts = [read_sheets(side, path) for side in sides]
    factors = [batch_factor(old, part) for part in parts]
    grown = {factor for factor in factors if factor != 1}
    if not grown:
        return base, list(sides), None
    in_question = grown | ({Fraction(1)} if ask else set())
    asked = _asked_before(old, parts)
    labels = asked if in_question <= asked.keys() else _labels(sorted(in_question), factors, parts) | asked
    chosen = _chosen(parts)
    order = sorted(labels, key=lambda factor: in_byte_order(labels[factor]))
    target = next((factor for factor in order if labels[factor] == chosen), order[0])
    question = None
    if len(labels) > max(len(asked), 1):
        question = Entry(BATCH, tuple(Wording(labels[factor]) for factor in order))
    texts = [
        _on_batch(old, part, side, factor, target, path)
        for part, side, factor in zip(parts, sides, factors, strict=True)
    ]
    return rescaled(base, target, path), texts, question


def stands_on(base: bytes | None, before: bytes | None, merged: bytes, path: str) -> bool:
    """Whether a merge carried over to another batch (`before`: the base on it) can be seen to stand on it.

    If not, meeting one of its sides once more would rescale it again.
    """
    if base is None or before is None or before == base:
        return True
    old = read_sheets(base, path)
    return batch_factor(old, read_sheets(before, path)) == batch_factor(old, read_sheets(merged, path))


def batch_factor(base: Sequence[Sheet], side: Sequence[Sheet]) -> Fraction:
    """How many times the base one side made the whole card; 1 where its amounts did not grow together."""
    told_by_entry = _by_entry(base, side)
    if told_by_entry is not None:
        return told_by_entry
    ratios: Counter[Fraction] = Counter()
    amounts = []
    for old, new in zip(base, side, strict=False):
        keys = keys_of(old, new)
        amounts += [sum(1 for e in sheet.elements if e.ingredient and e.ingredient.amount) for sheet in (old, new)]
        for at, element in enumerate(old.elements):
            ratio = _ratio(element, keys.get(("base", at)))
            if ratio is not None:
                ratios[ratio] += 1
    if not ratios:
        return Fraction(1)
    count, factor = max((count, ratio) for ratio, count in ratios.items())
    told = factor in {_serves_ratio(old, new) for old, new in zip(base, side, strict=False)}
    all_seen = set(amounts) == {ratios.total()}
    short = all_seen and ratios.total() <= _SHORT_CARD and not ratios[Fraction(1)]
    enough = count >= (_LINES_TOLD if told or short else _LINES) and count >= _SHARE * ratios.total()
    return factor if enough else Fraction(1)


def _by_entry(base: Sequence[Sheet], side: Sequence[Sheet]) -> Fraction | None:
    """The side's batch by its question about it; None where it has none, or stands where the base's question does."""
    entry, before = _entry(side), _entry(base)
    if entry is None:
        return None
    now, was = _current(entry), _current(before) if before is not None else None
    return None if now == was else _said_factor(now, was, base)


def _entry(sheets: Sequence[Sheet]) -> Entry | None:
    return next((entry for entry, _ in sheets[0].entries if entry.about == BATCH), None)


def _current(entry: Entry) -> str:
    """The wording that the body stands on."""
    chosen = [wording.text for wording in entry.wordings if wording.chosen]
    return chosen[0] if len(chosen) == 1 else min((wording.text for wording in entry.wordings), key=in_byte_order)


def _said_factor(words: str, was: str | None, base: Sequence[Sheet]) -> Fraction | None:
    """How many times the base a wording ("times 2", "serves 12") is; `was` is the wording the base stands on."""
    kind, _, number = words.partition(" ")
    found = read_amount(number)
    if found is None or kind not in ("times", "serves"):
        return None
    if was is not None:
        start = read_amount(was.partition(" ")[2])
        return found[0].low / start[0].low if start and start[0].low and was.startswith(kind) else None
    if kind == "times":
        return found[0].low
    serves = base[0].card.serves
    return found[0].low / serves.low if serves is not None and serves.low else None


def _asked_before(base: Sequence[Sheet], parts: Sequence[Sequence[Sheet]]) -> dict[Fraction, str]:
    """The batches that sides' own questions are about, against the base."""
    before = _entry(base)
    was = _current(before) if before is not None else None
    found: dict[Fraction, str] = {}
    for part in parts:
        entry = _entry(part)
        for wording in entry.wordings if entry is not None else ():
            factor = _said_factor(wording.text, was, base)
            if factor:
                found[factor] = min(wording.text, found.get(factor, wording.text), key=in_byte_order)
    return found


def _serves_ratio(old: Sheet, new: Sheet) -> Fraction | None:
    before, after = old.card.serves or old.card.makes, new.card.serves or new.card.makes
    return after.low / before.low if before and after and before.low else None


def _on_batch(
    base: Sequence[Sheet], part: Sequence[Sheet], side: bytes, factor: Fraction, target: Fraction, path: str
) -> bytes:
    words: dict[tuple[int, int], str] = {}
    for n, (old, new) in enumerate(zip(base, part, strict=False)):
        keys = keys_of(old, new)
        for at, element in enumerate(old.elements):
            other = keys.get(("base", at))
            if other is None:
                continue
            ratio = _header_ratio(element, other) or _ratio(element, other)
            if ratio == target:
                words[n, other.first] = other.text
            elif ratio == factor and _alike_but_for_the_amount(element, other):
                words[n, other.first] = _times(element, target)
    return rescaled(side, target / factor, path, words)


def rescaled(data: bytes, factor: Fraction, path: str, words: Mapping[tuple[int, int], str] | None = None) -> bytes:
    """The card's text with its ingredient lines, serves and makes times `factor`, exactly; other lines as they are.

    `words` has what lines (number of the recipe, source line) become instead.
    """
    if factor == 1:
        return data
    sheets = read_sheets(data, path)
    changes: list[Change] = []
    for n, sheet in enumerate(sheets):
        for element in sheet.elements:
            new = (words or {}).get((n, element.first)) or _times(element, factor)
            if new != element.text and element.first == element.last:
                line = sheet.source(element)[0]
                changes.append(Replace(element.first, element.first, (in_line(line, element, new),)))
        changes += _entry_changes(sheet, factor)
    return encode(apply_changes(sheets[0].text, changes))


def _times(element: Element, factor: Fraction) -> str:
    if element.role is Role.INGREDIENT and element.ingredient is not None:
        return scaled(element.text, factor)
    if element.role is Role.HEADER and element.name in ("serves", "makes"):
        return scaled_first(element.text, factor)
    if element.role is Role.SOME_ADD:
        line, bar, who = element.text.partition("|")
        return scaled(line.rstrip(), factor) + line[len(line.rstrip()) :] + bar + who
    return element.text


def _entry_changes(sheet: Sheet, factor: Fraction) -> list[Change]:
    """Wordings that are amounts, on the other batch too."""
    changes: list[Change] = []
    begins = {entry.line: entry for entry, _ in sheet.entries}
    times: Callable[[str, Fraction], str] | None = None
    for line in sheet.card.lines:
        if line.role not in (Role.UNDECIDED, Role.SETTLED):
            continue
        if line.number in begins:
            times = _growing(begins[line.number], sheet)
            continue
        head, dash, wording = sheet.text.lines[line.number - 1].words.partition("- ")
        if times is None or not dash or head.strip():
            continue
        mark = "chosen: " if wording.startswith("chosen: ") else ""
        new = times(wording.removeprefix(mark), factor)
        if mark + new != wording:
            changes.append(Replace(line.number, line.number, (f"{head}- {mark}{new}",)))
    return changes


def _growing(entry: Entry, sheet: Sheet) -> Callable[[str, Fraction], str] | None:
    """How the wordings of an entry grow with the batch; None where they do not."""
    if entry.about in ("serves", "makes"):
        return scaled_first
    return scaled if entry.about not in WITHOUT_BODY and role_of(entry, sheet) is Role.INGREDIENT else None


def _ratio(old: Element, new: Element | None) -> Fraction | None:
    if new is None or old.ingredient is None or new.ingredient is None:
        return None
    a, b = old.ingredient, new.ingredient
    if a.amount is None or b.amount is None or not a.amount.low:
        return None
    if a.unit == b.unit:
        return b.amount.low / a.amount.low
    if a.unit is None or b.unit is None:
        return None
    from recipebox.measures import MeasureError, convert

    try:
        return convert(b.amount.low, b.unit, a.unit) / a.amount.low
    except MeasureError:
        return None


def _alike_but_for_the_amount(old: Element, new: Element) -> bool:
    if old.ingredient is None or new.ingredient is None:
        return False
    return ingredient_meaning(old.ingredient)[1:] == ingredient_meaning(new.ingredient)[1:]


def _header_ratio(old: Element, new: Element) -> Fraction | None:
    if old.role is not Role.HEADER or old.name not in ("serves", "makes"):
        return None
    before, after = read_amount(old.text), read_amount(new.text)
    return after[0].low / before[0].low if before and after and before[0].low else None


def _labels(
    grown: Sequence[Fraction], factors: Sequence[Fraction], parts: Sequence[Sequence[Sheet]]
) -> dict[Fraction, str]:
    serves: dict[Fraction, set[str]] = {factor: set() for factor in grown}
    for factor, part in zip(factors, parts, strict=True):
        said = part[0].card.serves
        if factor in serves:
            serves[factor].add(f"serves {write_amount(said.low)}" if said is not None and said.low == said.high else "")
    clear = all(len(words) == 1 and "" not in words for words in serves.values())
    if clear and len(frozenset().union(*serves.values())) == len(grown):
        return {factor: next(iter(words)) for factor, words in serves.items()}
    return {factor: f"times {write_amount(factor)}" for factor in grown}


def _chosen(parts: Sequence[Sequence[Sheet]]) -> str | None:
    said = {
        wording.text
        for part in parts
        for entry, settled in part[0].entries
        if settled and entry.about == BATCH
        for wording in entry.wordings
        if wording.chosen
    }
    return next(iter(said)) if len(said) == 1 else None
