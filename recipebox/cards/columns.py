"""An ingredient line out of a table's row, by what its columns are named."""

import re
from collections.abc import Sequence

from recipebox.cards.rows import Row
from recipebox.cards.signs import starts_with_amount


def has_amount_column(columns: Sequence[str]) -> bool:
    """Whether a column is named for amounts."""
    return any(_AMOUNT_COLUMN.match(name) for name in columns)


_AMOUNT_COLUMN = re.compile(
    r"(?:amount|quantit[yéeà]|quantité|qty|how much|measure|menge|cantidad|hoeveelheid|m[æä]n[dg]+e?|mængde|mängd|ilość"
    r"|quantidade|volume|weight|(?:us|metric|imperial|grams?|cups?|no|oz|ml|g)\b|#)",
    re.IGNORECASE,
)
_COLUMN_UNIT = re.compile(
    r"(?:[(\[]|^|\bin )\s*(g|grams?|kg|ml|l|oz|lbs?|cups?|tbsp|tsp|gramm)\s*[)\]]?$", re.IGNORECASE
)
_UNIT_COLUMN = re.compile(r"(?:unit|einheit|unité|unidad|unità|eenheid|enhed|enhet|jednostka|unidade)", re.IGNORECASE)
_ITEM_COLUMN = re.compile(
    r"(?:ingredient|item|zutat|ingrédient|ingredi|what|name|product|składnik|thing)", re.IGNORECASE
)


def line_of_cells(cells: Sequence[Row], columns: Sequence[str]) -> str:
    """The cells of a row as an ingredient line: amount, unit, thing, then what else is said of it."""
    amounts, units, items, others = [], [], [], []
    for place, cell in enumerate(cells):
        name = columns[place] if place < len(columns) else ""
        if not cell.text or cell.text in ("-", "–", "—") or (name in ("%", "percent") and len(cells) > 2):
            continue
        if _AMOUNT_COLUMN.match(name):
            unit = _COLUMN_UNIT.search(name) if cell.text[-1:].isdigit() else None
            amounts.append(f"{cell.text} {unit[1]}" if unit else cell.text)
        elif _UNIT_COLUMN.match(name):
            units.append(cell.text)
        elif _ITEM_COLUMN.match(name):
            items.append(cell.text)
        else:
            others.append(cell.text)
    if not items and not amounts:
        measured = [text for text in others if starts_with_amount(text)]
        rest = [text for text in others if not starts_with_amount(text)]
        if measured and rest and others.index(measured[0]) > 0:
            return " ".join([*measured[:1], rest[0]]) + "".join(f", {text}" for text in [*rest[1:], *measured[1:]])
        head = 2 if measured and others[0] == measured[0] else 1
        if (
            head == 2
            and len(others) > 2
            and others[0].replace("/", "").replace(" ", "").isdigit()
            and others[1].count(" ") == 0
        ):
            head = 3
        return " ".join(others[:head]) + "".join(f", {text}" for text in others[head:])
    if not items and others:
        items = [others.pop(0)]
    lead = amounts[:1] + ([f"({text})" for text in amounts[1:]] if not units else amounts[1:])
    return " ".join([*lead, *units, *items]) + "".join(f", {text}" for text in others)
