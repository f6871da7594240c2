"""Several cards side by side."""

from collections.abc import Sequence
from typing import Any

from recipebox.cards.data import amount_data, bake_data
from recipebox.cards.model import Card
from recipebox.compare.ingredients import rows_and_batches
from recipebox.compare.method import compare_methods
from recipebox.compare.model import Comparison
from recipebox.compare.oven import compare_ovens
from recipebox.compare.pan import compare_pans


def compare(cards: Sequence[Card]) -> Comparison:
    """What truly differs between cards once all are on the batch of the first.

    `same_dish` is left True: the dishes room judges it. Raises ValueError for no card, or a card named twice.
    """
    called = tuple(card.called for card in cards)
    if not called or len(set(called)) < len(called):
        raise ValueError("compare at least one card, each once")
    rows, batches = rows_and_batches(cards)
    batch = dict(zip(called, batches, strict=True))
    return Comparison(
        cards=called,
        batch=batch,
        ingredients=tuple(rows),
        steps=tuple(compare_methods(cards, rows)),
        oven=compare_ovens(cards),
        pan=compare_pans(cards, batch),
    )


def comparison_data(comparison: Comparison) -> dict[str, Any]:
    """The comparison in the shape of schema/compare.schema.json; amounts as {"low", "high"} of exact fractions."""
    return {
        "cards": list(comparison.cards),
        "same_dish": comparison.same_dish,
        "batch": {called: str(batch) for called, batch in comparison.batch.items()},
        "ingredients": [
            {
                "item": row.item,
                "kind": row.kind.value,
                "cells": {
                    called: {"text": cell.text, "amount": amount_data(cell.amount), "unit": cell.unit}
                    for called, cell in row.cells.items()
                },
            }
            for row in comparison.ingredients
        ],
        "steps": [
            {
                "kind": row.kind.value,
                "cells": {called: list(steps) for called, steps in row.cells.items()},
                "added": list(row.added),
                "removed": list(row.removed),
                "texts": dict(row.texts),
            }
            for row in comparison.steps
        ],
        "oven": {
            "kind": comparison.oven.kind.value,
            "cells": {called: [bake_data(bake) for bake in bakes] for called, bakes in comparison.oven.cells.items()},
        },
        "pan": {
            "kind": comparison.pan.kind.value,
            "cells": {called: pan.text for called, pan in comparison.pan.cells.items()},
        },
    }
