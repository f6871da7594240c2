"""One line of a list of ingredients, to data."""

from recipebox.cards.amounts import read_amount
from recipebox.cards.model import Ingredient
from recipebox.cards.unitwords import read_unit


def read_ingredient(text: str, line: int = 1, group: str | None = None, sure_metric: bool = False) -> Ingredient:
    """Read one line as an ingredient, a heading or other text; never raises, whatever the string."""
    words = " ".join(text.lstrip(" \t-*•").split())
    if not words:
        return Ingredient(text=words, line=line, kind="text", group=group)
    if words.endswith(":"):
        return Ingredient(text=words, line=line, kind="heading", group=group, item=words[:-1])
    found = read_amount(words)
    amount, at = found if found else (None, 0)
    rest = words[at:].lstrip()
    measured = read_unit(rest) if amount else None
    unit, rest = (measured[0], rest[measured[1] :].lstrip()) if measured else (None, rest)
    item, _, preparation = rest.partition(",")
    return Ingredient(
        text=words, line=line, group=group, amount=amount, unit=unit, item=item.strip(), items=(item.strip(),),
        preparation=preparation.strip() or None,
    )  # fmt: skip


def ingredient_likeness(text: str) -> float:
    """How much a bare line looks like an ingredient line, 0 to 1."""
    return 0.8 if read_amount(text.lstrip(" -*•")) and len(text) < 120 else 0.2
