"""Many sides of one card joined into one text, by its facts."""

from collections.abc import Mapping, Sequence

from recipebox.cards.model import Entry
from recipebox.merge.batch import on_one_batch, stands_on
from recipebox.merge.errors import UnmergeableError
from recipebox.merge.layout import chosen_layout
from recipebox.merge.match import Key, base_keys, keys_of_all
from recipebox.merge.part import merged_part
from recipebox.merge.sense import made_sense
from recipebox.merge.sheet import Element, Sheet, read_sheets
from recipebox.merge.splice import spliced

Keyed = Mapping[Key, Element]


def merge_card(base: bytes | None, sides: Sequence[bytes], path: str) -> bytes:
    """The card after all sides' changes; the same bytes in whatever order the sides come, each counted once.

    What one side alone changed is that side's bytes. Lines merge by what they mean; what only a person can choose
    between is written in as Undecided entries. `base` None: the sides were made apart.

    Raises NotACardError or NotTextError where one of them is no card, UnmergeableError where the files hold different
    numbers of recipes or no merged text reads back as what it should say: the caller then keeps both files.
    """
    changed = sorted(set(sides) - {base})
    if len(changed) < 2:
        return changed[0] if changed else base or b""
    before, texts, batch = on_one_batch(base, changed, path)
    merged = _merged(before, texts, batch, path)
    if not stands_on(base, before, merged, path):
        merged = _merged(*on_one_batch(base, changed, path, ask=True), path)
    return merged


def _merged(before: bytes | None, texts: Sequence[bytes], batch: Entry | None, path: str) -> bytes:
    sheets = [read_sheets(text, path) for text in texts]
    old = read_sheets(before, path) if before is not None else None
    if len({len(parts) for parts in (*sheets, *([old] if old else []))}) != 1:
        raise UnmergeableError(path, "the sides hold different numbers of recipes")
    starts, keyed = _keyed(old, sheets)
    at = chosen_layout(starts if old else None, keyed, [side[0].text for side in sheets], old[0].text if old else None)
    target, target_keys = (old, starts) if at is None and old else (sheets[at or 0], keyed[at or 0])
    parts = [
        merged_part(
            old[n] if old else None,
            starts[n],
            [(side[n], keys[n]) for side, keys in zip(sheets, keyed, strict=True)],
            batch if n == 0 else None,
        )
        for n in range(len(target))
    ]
    for part in parts:
        made_sense(part)
    return spliced(target, target_keys, parts, path)


def _keyed(
    old: Sequence[Sheet] | None, sheets: Sequence[Sequence[Sheet]]
) -> tuple[list[dict[Key, Element]], list[list[dict[Key, Element]]]]:
    """The base's and each side's elements by key, a recipe each. Without a base the first side lends its places."""
    if old:
        return [base_keys(part) for part in old], _side_keys(old, sheets)
    first = sheets[0]
    return [{} for _ in first], [[base_keys(part) for part in first], *_side_keys(first, sheets[1:])]


def _side_keys(old: Sequence[Sheet], sheets: Sequence[Sequence[Sheet]]) -> list[list[dict[Key, Element]]]:
    by_part = [keys_of_all(part, [side[n] for side in sheets]) for n, part in enumerate(old)]
    return [[keyed[at] for keyed in by_part] for at in range(len(sheets))]
