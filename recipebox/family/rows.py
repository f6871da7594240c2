"""Rows of ingredients across the versions, as a cook sets them side by side; no line of any version is left out."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from recipebox.cards.model import Card
from recipebox.cards.things import part_in_dish, same_thing, thing
from recipebox.compare import Cell, Kind, Row, align_ingredients
from recipebox.family.model import aside
from recipebox.family.told import told_swaps

# Words that say how a thing is sold or cut, not that it is another thing: common practice, no source.
_LOOSE = frozenset(
    re.split(
        r"\s+",
        "all-purpose all purpose plain white black fresh dried dry large medium small whole semi-skimmed skimmed semi "
        "unsalted salted skinless boneless ripe floury russet chopped diced canned tinned ground fine coarse mature "
        "sharp fillet chunk piece frozen raw extra virgin rolled mild yellow packed softened melted cold",
    )
)


def rows_across(cards: Sequence[Card]) -> tuple[Row, ...]:
    """The rows of `compare`, put right where a thing met another of its kind and its like stands elsewhere."""
    rows = _as_told(cards, _alike_together(_for_serving_apart(align_ingredients(cards))))
    joined = tuple(_said_loosely(rows))
    return joined + _left_over(cards, joined)


def alike(one: str, other: str) -> bool:
    """Whether two things are one, or one is only said more closely ("flour", "all-purpose flour")."""
    if one == other or same_thing(one, other):
        return True
    words, others = set(one.split()), set(other.split())
    extra = words ^ others
    if "from" in extra and (words < others or others < words):
        return True  # "breadcrumbs from a stale loaf"
    return bool(
        (words < others or others < words)
        and extra <= _LOOSE
        and (part_in_dish(one) == part_in_dish(other) or None in (part_in_dish(one), part_in_dish(other)))
    )


def _for_serving_apart(rows: Sequence[Row]) -> list[Row]:
    """Green onions for garnish do not stand in for the leeks."""
    found: list[Row] = []
    for row in rows:
        meant = {called for called, cell in row.cells.items() if all(aside(line) for line in cell.lines)}
        usual = Counter(row.cells[called].thing for called in sorted(row.cells.keys() - meant)).most_common(1)
        apart = [called for called in meant if usual and not alike(row.cells[called].thing, usual[0][0])]
        found.append(_row(row.item, {called: cell for called, cell in row.cells.items() if called not in apart}))
        found += [_row(row.cells[called].thing, {called: row.cells[called]}) for called in sorted(apart)]
    return found


def _alike_together(rows: list[Row]) -> list[Row]:
    """Give a version the cell that is alike in a row where another thing of its kind was set ("hot chilli powder")."""
    for at in range(len(rows)):
        for called in list(rows[at].cells):
            others = [cell.thing for name, cell in rows[at].cells.items() if name != called]
            if not others or any(alike(rows[at].cells[called].thing, other) for other in others):
                continue
            usual = Counter(others).most_common(1)[0][0]
            for beside, row in enumerate(rows):
                if beside == at or called not in row.cells or not alike(row.cells[called].thing, usual):
                    continue
                if any(alike(row.cells[called].thing, c.thing) for name, c in row.cells.items() if name != called):
                    continue
                mine, theirs = rows[at].cells[called], row.cells[called]
                rows[at] = _row(rows[at].item, {**rows[at].cells, called: theirs})
                rows[beside] = _row(mine.thing if len(row.cells) == 1 else row.item, {**row.cells, called: mine})
                break
    return rows


def _as_told(cards: Sequence[Card], rows: list[Row]) -> list[Row]:
    """Set what a cook says she used in place of a thing in that thing's row ("celeriac instead of the celery")."""
    for card in sorted(cards, key=lambda card: card.called):
        others = [line for other in cards if other is not card for line in other.ingredients]
        for told in told_swaps(card, others):
            to = _row_with(rows, told.swap.item, without=card.called)
            at = next((n for n, row in enumerate(rows) if _stands_alone(row, card.called, told.swap.instead)), None)
            if to is None or at is None or to == at:
                continue
            cell = rows[at].cells[card.called]
            rest = {called: other for called, other in rows[at].cells.items() if called != card.called}
            rows[to] = _row(rows[to].item, {**rows[to].cells, card.called: cell})
            rows[at] = _row(rows[at].item, rest)
    return [row for row in rows if row.cells]


def _row_with(rows: Sequence[Row], item: str, without: str) -> int | None:
    """The first row in which versions, but not this one, have a thing."""
    return next(
        (
            at
            for at, row in enumerate(rows)
            if without not in row.cells and any(alike(cell.thing, thing(item)) for cell in row.cells.values())
        ),
        None,
    )


def _stands_alone(row: Row, called: str, item: str) -> bool:
    """Whether a version has a thing in a row in which nobody else has the same."""
    cell = row.cells.get(called)
    others = (other for name, other in row.cells.items() if name != called)
    return (
        cell is not None and alike(cell.thing, thing(item)) and not any(alike(cell.thing, one.thing) for one in others)
    )


def _said_loosely(rows: Sequence[Row]) -> list[Row]:
    """Rows put together that no version has both of, where one says the other's thing with more words about it.

    "breadcrumbs from a stale loaf" and "breadcrumbs"; "salt and white pepper" and "salt, pepper".
    """
    joined = list(rows)
    for one in sorted(rows, key=lambda row: len(row.cells)):
        if not any(other is one for other in joined):
            continue
        fits = [
            other
            for other in joined
            if other is not one and not other.cells.keys() & one.cells.keys() and _loosely(one, other)
        ]
        if fits:
            other = max(fits, key=lambda row: len(row.cells))
            at = next(number for number, row in enumerate(joined) if row is other)
            joined[at] = _row(other.item, {**other.cells, **one.cells})
            joined = [row for row in joined if row is not one]
    return joined


def _loosely(one: Row, other: Row) -> bool:
    """Whether each thing of a row is said by some cell of the other, with words that name no further part of a dish."""
    return all(any(_says(cell, name, other) for name in _things(other)) for cell in one.cells.values())


def _things(row: Row) -> set[str]:
    return {cell.thing for cell in row.cells.values()}


def _says(cell: Cell, name: str, other: Row) -> bool:
    if len(cell.ingredient.items) > 1:
        return _lists_alike(cell, [one for one in other.cells.values() if one.thing == name])
    return alike(cell.thing, name) or _more_words(cell, name)


def _more_words(cell: Cell, name: str) -> bool:
    shorter = set(name.split()) - {"cheese"} or {name}
    return shorter < set(cell.thing.split()) and part_in_dish(cell.thing) is None


def _lists_alike(cell: Cell, others: Iterable[Cell]) -> bool:
    own = [thing(item) for item in cell.ingredient.items]
    return any(
        len(other.ingredient.items) == len(own)
        and all(any(alike(name, thing(item)) for item in other.ingredient.items) for name in own)
        for other in others
    )


def _left_over(cards: Sequence[Card], rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows for lines that no row holds, so that no line of any version is lost."""
    found = []
    for card in cards:
        held = {id(line) for row in rows if card.called in row.cells for line in row.cells[card.called].lines}
        for line in card.ingredients:
            if id(line) not in held:
                common = thing(line.item) or line.text.casefold()
                cell = Cell(line, (line,), common, line.text, line.amount, line.unit)
                found.append(_row(common, {card.called: cell}))
    return tuple(found)


def _row(item: str, cells: dict[str, Cell]) -> Row:
    """A row set anew; nobody here reads its kind."""
    return Row(item, Kind.ONLY, cells)
