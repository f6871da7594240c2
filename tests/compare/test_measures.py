"""Amounts compared in each card's own cups, spoons and pints."""

import pytest

from recipebox.cards.reader import read_cards
from recipebox.compare import compare

CARD = "Custard\n{header}\nIngredients\n{milk} milk\n3 eggs\n100 g sugar\n{own}\nMethod\n1. Boil the milk.\n"


def milk_row(one: tuple[str, str, str], other: tuple[str, str, str]) -> str:
    """How the milk of two cards stands; each is a header, an amount and a further line."""
    cards = []
    for path, (header, milk, own) in zip(("a.txt", "b.txt"), (one, other), strict=True):
        cards += read_cards(CARD.format(header=header and f"{header}\n", milk=milk, own=own).encode(), path)
    (row,) = [row for row in compare(cards).ingredients if row.item == "milk"]
    return str(row.kind)


@pytest.mark.parametrize(
    ("one", "other", "kind"),
    [
        # 1 UK pint = 568.26125 ml: UK Weights and Measures Act 1985; 1 US pint = 473.176473 ml: NIST Handbook 44
        (("measures: UK", "1 pint", ""), ("", "568 ml", ""), "same"),
        (("measures: US", "1 pint", ""), ("", "568 ml", ""), "amount"),
        (("measures: UK", "1 pint", ""), ("measures: US", "1 pint", ""), "amount"),
        # an Australian tablespoon holds 20 ml (kitchen_units.csv)
        (("measures: AU", "2 tablespoons", ""), ("", "40 ml", ""), "same"),
        (("measures: metric", "2 tablespoons", ""), ("", "40 ml", ""), "amount"),
    ],
)
def test_each_card_in_its_own_measures(one: tuple[str, str, str], other: tuple[str, str, str], kind: str) -> None:
    """A header says whose pint and spoon they are, and the amounts are compared so."""
    assert milk_row(one, other) == kind


def test_a_guess_makes_no_difference_where_the_words_are_the_same() -> None:
    """A British word makes a pint 568 ml, a guess: it equals 568 ml, and also somebody else's pint."""
    british = ("", "1 pint", "1 tbsp golden syrup")
    assert milk_row(british, ("", "568 ml", "1 tbsp golden syrup")) == "same"
    assert milk_row(british, ("measures: US", "1 pint", "1 tbsp golden syrup")) == "same"
