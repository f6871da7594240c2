"""Cards for tests, made from plain lists of lines."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Card, Ingredient, Passage


def version(name: str, ingredients: Sequence[str], steps: Sequence[str], serves: int | None = 6, **fields: Any) -> Card:
    """A version by NAME: its ingredient lines (a line ending in ":" heads a group) and its steps."""
    lines: list[Ingredient] = []
    group = None
    for number, text in enumerate(ingredients, start=3):
        if text.endswith(":"):
            group = text[:-1]
            continue
        lines.append(replace(read_ingredient(text, line=number, group=group), line=number))
    passages = tuple(Passage(text, number, number) for number, text in enumerate(steps, start=len(lines) + 10))
    fields.setdefault("title", "Tray Supper")
    return Card(
        path=fields.pop("path", f"versions/{name.lower().replace(' ', '-')}.txt"),
        name=name,
        sender=name,
        serves=None if serves is None else Amount(Fraction(serves), Fraction(serves)),
        ingredients=tuple(lines),
        steps=passages,
        **fields,
    )
