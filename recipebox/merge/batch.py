"""Sides that rescaled a card brought to one batch before their changes are joined."""

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.cards.model import Entry, Role, Wording
from recipebox.cards.text import encode
from recipebox.cards.writer import Change, Replace, apply_changes
from recipebox.merge.algebra import in_byte_order
from recipebox.merge.entries import BATCH
from recipebox.merge.layout import in_line
from recipebox.merge.match import keys_of
from recipebox.merge.sheet import Element, Sheet, read_sheets
from recipebox.merge.wording import scaled, scaled_first

_SHARE = Fraction(3, 5)
"""Share of the amounts that must have grown alike before a card counts as rescaled: common practice, no source."""
_LINES, _LINES_TOLD = 3, 2
"""How many amounts must have: two may be two edits by chance, unless what the card serves grew along."""


def on_one_batch(
    base: bytes | None, sides: Sequence[bytes], path: str
) -> tuple[bytes | None, list[bytes], Entry | None]:
    """Base and sides on one batch, and the question about it where sides rescaled the card differently.

    A side that did not rescale the card is carried over to the batch of the one that did; if several did differently
    all stand on the choice made, else on the wording that sorts first. Exact: no amount is rounded.
    """
    if base is None:
        return base, list(sides), None
    old = read_sheets(base, path)
    parts = [read_sheets(side, path) for side in sides]
    factors = [batch_factor(old, part) for part in parts]
    grown = sorted({factor for factor in factors if factor != 1})
    if not grown:
        return base, list(sides), None
    labels = _labels(grown, factors, parts)
    chosen = _chosen(parts)
    order = sorted(grown, key=lambda factor: in_byte_order(labels[factor]))
    target = next((factor for factor in order if labels[factor] == chosen), order[0])
    question = None
    if len(grown) > 1:
        question = Entry(BATCH, tuple(Wording(labels[factor]) for factor in order))
    texts = [rescaled(side, target / factor, path) for side, factor in zip(sides, factors, strict=True)]
    return rescaled(base, target, path), texts, question


def batch_factor(base: Sequence[Sheet], side: Sequence[Sheet]) -> Fraction:
    """How many times the base one side made the whole card; 1 where its amounts did not grow together."""
    ratios: Counter[Fraction] = Counter()
    for old, new in zip(base, side, strict=False):
        keys = keys_of(old, new)
        for at, element in enumerate(old.elements):
            ratio = _ratio(element, keys.get(("base", at)))
            if ratio is not None:
                ratios[ratio] += 1
    if not ratios:
        return Fraction(1)
    count, factor = max((count, ratio) for ratio, count in ratios.items())
    told = factor in {_serves_ratio(old, new) for old, new in zip(base, side, strict=False)}
    enough = count >= (_LINES_TOLD if told else _LINES) and count >= _SHARE * ratios.total()
    return factor if enough else Fraction(1)


def _serves_ratio(old: Sheet, new: Sheet) -> Fraction | None:
    before, after = old.card.serves or old.card.makes, new.card.serves or new.card.makes
    return after.low / before.low if before and after and before.low else None


def rescaled(data: bytes, factor: Fraction, path: str) -> bytes:
    """The card's text with its ingredient lines, serves and makes times `factor`, exactly; other lines as they are."""
    if factor == 1:
        return data
    sheets = read_sheets(data, path)
    changes: list[Change] = []
    for sheet in sheets:
        for element in sheet.elements:
            words = _times(element, factor)
            if words != element.text and element.first == element.last:
                line = sheet.source(element)[0]
                changes.append(Replace(element.first, element.first, (in_line(line, element, words),)))
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
    changes: list[Change] = []
    for line in sheet.card.lines:
        if line.role not in (Role.UNDECIDED, Role.SETTLED) or line.key in ("undecided", "settled"):
            continue
        words = sheet.text.lines[line.number - 1].words
        head, dash, wording = words.partition("- ")
        if not dash or head.strip():
            continue
        mark, chosen, said = ("", "", wording)
        if wording.startswith("chosen: "):
            mark, said = "chosen: ", wording.removeprefix("chosen: ")
        del chosen
        new = scaled(said, factor)
        if new != said:
            changes.append(Replace(line.number, line.number, (f"{head}- {mark}{new}",)))
    return changes


def _ratio(old: Element, new: Element | None) -> Fraction | None:
    if new is None or old.ingredient is None or new.ingredient is None:
        return None
    a, b = old.ingredient, new.ingredient
    if a.amount is None or b.amount is None or not a.amount.low:
        return None
    if a.unit == b.unit:
        return b.amount.low / a.amount.low
    return None


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
