"""Household weights: every row of USDA SR26 (2013) as household_weights.csv copies it, asked for as a card would."""

from fractions import Fraction

import pytest

from recipebox.cards.model import Amount, Ingredient
from recipebox.measures import footing, unit, weight_rows
from recipebox.tables.load import rows

VOLUMES = {"cup": "cup", "tbsp": "tablespoon", "tsp": "teaspoon", "quart": "quart", "fl oz": "fluid ounce"}
SIZES = ("small", "medium", "large", "extra large", "jumbo", "extra small")
ROWS = list(enumerate(rows("household_weights"), 2))
BY_VOLUME = [row for _, row in ROWS if row["measure"] in VOLUMES]
# Rows that the table itself contradicts, with what is used in their place and why.
QUARRELS = {
    ("nonfat dry milk, instant", "cup", ""): (69, "a third of a cup is 23 g in the row before; asked alike, it stands"),
    ("cabbage", "leaf", ""): (23, "a leaf of no size has 15 g here, a medium one 23 g: medium is what no size means"),
    ("tortilla, flour", "each", "tortilla"): (30, "47 g of no size, 30 g for a medium one: medium stands"),
    ("taco shells", "each", "shell"): (Fraction("13.3"), "12.9 g of no size, 13.3 g for a medium one: medium stands"),
    ("ground turkey, raw", "lb", ""): (Fraction("453.59237"), "453.6 g printed: NIST Handbook 44 has it exactly"),
    ("ground beef, raw", "lb", ""): (Fraction("453.59237"), "453.6 g printed: NIST Handbook 44 has it exactly"),
}


def asked(row: dict[str, str]) -> Ingredient:
    """The line a card would have for a row: "1 cup cheddar cheese, shredded", "2 large eggs", "1 clove garlic"."""
    amount = Fraction(row["amount"]).limit_denominator(12)  # the table writes a third of a cup as 0.333
    measure, note, item = row["measure"], row["note"] or None, row["ingredient"]
    name: str | None = VOLUMES.get(measure, measure)
    if measure in (*SIZES, "each"):
        name, item = None, item if measure == "each" else f"{measure} {item}"
    known = unit(name) if name else None
    return Ingredient(
        f"{amount} {measure} {row['ingredient']}, {note}", amount=Amount(amount, amount),
        unit=known.name if known else name, item=item, preparation=note,
    )  # fmt: skip


@pytest.mark.parametrize(("number", "row"), ROWS, ids=lambda one: one if isinstance(one, int) else one["ingredient"])
def test_each_row_is_found_when_asked_for(number: int, row: dict[str, str]) -> None:
    """Asked by its own food, measure, amount and note, each row gives its own grams, to the digit.

    The six rows in QUARRELS are contradicted by another source or row; what is used in their place is named there.
    """
    used = QUARRELS.get((row["ingredient"], row["measure"], row["note"]))
    wanted = Fraction(used[0]) if used else Fraction(row["grams"])
    assert footing(asked(row)).grams == wanted, f"line {number} of household_weights.csv"


@pytest.mark.parametrize("food", sorted({row["ingredient"] for _, row in ROWS}))
def test_every_row_of_a_food_is_listed(food: str) -> None:
    """`weight_rows` gives all rows of a food in the table's order, each with the grams printed and its source."""
    printed = [row for _, row in ROWS if row["ingredient"] == food]
    listed = weight_rows(food)
    assert [one.grams * one.stated for one in listed] == [Fraction(row["grams"]) for row in printed]
    assert [one.source for one in listed] == [row["source"] for row in printed]


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
