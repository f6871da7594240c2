"""Household weights: every row of USDA SR26 (2013) as household_weights.csv copies it, asked for as a card would."""

from fractions import Fraction

import pytest

from recipebox.cards.model import Amount, Ingredient
from recipebox.measures import footing
from recipebox.tables.load import rows

UNITS = {"cup": "cup", "tbsp": "tablespoon", "tsp": "teaspoon", "quart": "quart", "fl oz": "fluid ounce"}
BY_VOLUME = [row for row in rows("household_weights") if row["measure"] in UNITS]


def asked(row: dict[str, str]) -> Ingredient:
    """The line a card would have for a row: "1 cup cheddar cheese, shredded"."""
    amount = Fraction(row["amount"]).limit_denominator(12)
    note = row["note"] or None
    text = f"{amount} {row['measure']} {row['ingredient']}, {note}"
    return Ingredient(
        text, amount=Amount(amount, amount), unit=UNITS[row["measure"]], item=row["ingredient"], preparation=note
    )


def test_asking_for_a_row_finds_that_row() -> None:
    """Asked by its own name, measure and note, at least 97 in 100 rows by volume give their own grams.

    The rest are rows that quarrel with an earlier one of the same name, where the first stands, or whose note only
    says how many there are.
    """
    wrong = [
        (row["ingredient"], row["measure"], row["note"], row["grams"], str(footing(asked(row)).row))
        for row in BY_VOLUME
        if footing(asked(row)).grams != Fraction(row["grams"])
    ]
    assert len(wrong) * 100 <= 3 * len(BY_VOLUME), wrong


def test_synonyms_are_the_same_food() -> None:
    """A cup of a food by one of its synonyms, where no other food has that name, weighs what a row of it says."""
    names: dict[str, set[str]] = {}
    for row in rows("household_weights"):
        for name in (row["ingredient"], *row["synonyms"].split(";")):
            names.setdefault(name.lower(), set()).add(row["ingredient"])
    missed = []
    for row in BY_VOLUME:
        for name in filter(None, row["synonyms"].split(";")):
            if "(" in name or len(names[name.lower()]) > 1:
                continue
            one = Amount(Fraction(1), Fraction(1))
            found = footing(Ingredient(f"1 cup {name}", amount=one, unit="cup", item=name))
            if not found.approximate:
                missed.append(name)
    assert not missed


@pytest.mark.parametrize(
    ("item", "preparation", "grams"),
    [
        ("brown sugar", "packed", 220),  # USDA SR26, food 19334
        ("brown sugar", "unpacked", 145),
        ("powdered sugar", "sifted", 100),  # USDA SR26, food 19336
        ("powdered sugar", "unsifted", 120),
        ("cheddar cheese", "grated", 113),  # USDA SR26, food 01009: shredded
        ("sharp cheddar cheese", "diced", 132),
        ("onions", "chopped", 160),  # USDA SR26, food 11282
        ("onions", "sliced", 115),
    ],
)
def test_how_it_is_cut_or_packed_chooses_the_row(item: str, preparation: str, grams: int) -> None:
    """Packed or not, sifted or not, grated or diced: the row for it is used, and named."""
    one = Amount(Fraction(1), Fraction(1))
    found = footing(Ingredient("", amount=one, unit="cup", item=item, preparation=preparation))
    assert found.grams == grams
    assert found.approximate
    assert found.row is not None
    assert str(grams) in found.row


@pytest.mark.parametrize(
    "item", ["almond flour", "kosher salt", "flourless cake", "cashew butter", "water", "", "cocoa nibs"]
)
def test_no_row_no_conversion(item: str) -> None:
    """What the table has no row for stays a volume: no weight is guessed from a food of a like name."""
    one = Amount(Fraction(1), Fraction(1))
    found = footing(Ingredient("", amount=one, unit="cup", item=item))
    assert found.ml is not None
    assert found.grams is None
    assert not found.approximate
