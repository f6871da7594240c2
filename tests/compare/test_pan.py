"""Comparing pans."""

from fractions import Fraction

import pytest

from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.compare.model import Kind
from recipebox.compare.pan import compare_pans


def card(path: str, pan: str) -> Card:
    """A card with a pan, or none where the words are empty."""
    said = f"pan: {pan}\n" if pan else ""
    return read_cards(f"Leek bake\n{said}\nIngredients\n3 leeks\n2 eggs\n\nMethod\nBake.\n".encode(), path)[0]


@pytest.mark.parametrize(
    ("one", "other", "batch", "kind"),
    [
        ("8 x 8", "8 x 8", "1", Kind.SAME),
        ("8 x 8", "9 x 13", "1", Kind.DIFFERS),
        ("8 x 8", "9 x 13", "2", Kind.SAME),
        ("9 x 13", "8 x 8", "1/2", Kind.SAME),
        ("9 x 13", "13 x 9", "1", Kind.SAME),
        ("9 inch round", "9 x 5 loaf", "1", Kind.DIFFERS),
        ("8 x 8", "", "1", Kind.SAME),
        ("9 x 13", "a deep dish", "1", Kind.SAME),
    ],
)
def test_pans_are_compared_by_what_they_hold_of_the_batch(one: str, other: str, batch: str, kind: Kind) -> None:
    """Twice the batch in twice the pan is the same; another pan for the same batch is not; silence is no difference."""
    cards = [card("a.txt", one), card("b.txt", other)]
    assert compare_pans(cards, {"a.txt": Fraction(1), "b.txt": Fraction(batch)}).kind is kind
    assert compare_pans(cards[::-1], {"a.txt": Fraction(1), "b.txt": Fraction(batch)}).kind is kind
