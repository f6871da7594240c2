"""How much a bare line looks like an ingredient line."""

from recipebox.cards.amounts import read_amount


def ingredient_likeness(text: str) -> float:
    """How much a bare line looks like an ingredient line, 0 to 1."""
    return 0.8 if read_amount(text.lstrip(" -*•")) and len(text) < 120 else 0.2
