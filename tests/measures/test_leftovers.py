"""Half an egg and part of a can."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Amount, Ingredient, Measure
from recipebox.measures import awkward


def line(
    low: str, item: str, unit: str | None = None, high: str | None = None, ounces: str | None = None
) -> Ingredient:
    """So many of an item, in cans of so many ounces."""
    size = Measure(Amount(Fraction(ounces), Fraction(ounces)), "ounce") if ounces else None
    return Ingredient("", amount=Amount(Fraction(low), Fraction(high or low)), unit=unit, container=size, item=item)


@pytest.mark.parametrize(
    ("given_line", "told"),
    [
        # A large egg is about 2 Tbsp beaten: University of Nebraska-Lincoln Extension, Cook It Quick
        (line("3/2", "eggs"), "1 1/2 eggs: use 1, then beat one and take about 1 Tbsp of it"),
        (line("1/2", "large egg"), "1/2 egg: beat one and take about 1 Tbsp of it"),
        (line("14/3", "eggs, beaten"), "4 2/3 eggs: use 4, then beat one and take about 1 Tbsp + 1 tsp of it"),
        (line("5/2", "egg whites"), "2 1/2 egg whites: use 2, then beat one and take about 1/2"),
        (line("3/2", "quinces", "can", ounces="29/2"),
         "1 1/2 cans: open 2 and use 21 3/4 oz in all; 7 1/4 oz is left over"),
        (line("1/2", "yeast", "package", ounces="9/4"),
         "1/2 package: open 1 and use 1 1/8 oz in all; 1 1/8 oz is left over"),
        (line("137/25", "eggs"), "5 1/2 eggs: use 5, then beat one and take about 1 Tbsp of it"),
        (line("3/2", "quinces", "can"), "1 1/2 cans: open 2; 1/2 of one is left over"),
        (line("1", "quinces", "can", high="3/2"), "1 1/2 cans: open 2"),
        (line("1/2", "jam", "jar"), "1/2 jar: open 1; 1/2 of one is left over"),
    ],
)  # fmt: skip
def test_what_comes_whole_is_told(given_line: Ingredient, told: str) -> None:
    """Whole units to open or break, and what to do with the rest."""
    assert str(awkward(given_line)).startswith(told)


@pytest.mark.parametrize(
    "easy",
    [
        line("2", "eggs"),
        line("1097/100", "eggs"),
        line("1/2", "egg noodles", "cup"),
        line("1/2", "eggplant"),
        line("1/2", "onion"),
        line("2", "quinces", "can"),
        line("1/2", "flour", "cup"),
        line("-1/2", "egg"),
        Ingredient("Topping", kind="heading"),
    ],
)
def test_what_can_be_cut_or_measured_is_not_told(easy: Ingredient) -> None:
    """Half an onion, half a cup and whole cans need no word."""
    assert awkward(easy) is None


@given(st.fractions(min_value=Fraction(1, 12), max_value=40, max_denominator=12))
def test_opened_less_left_is_what_is_wanted(count: Fraction) -> None:
    """Cans opened, less what is left over, make the amount asked for."""
    told = awkward(line(str(count), "quinces", "can"))
    if count.denominator == 1:
        assert told is None
        return
    assert told is not None
    opened = int(told.split("open ")[1].split(";")[0])
    left = Fraction(told.split("; ")[1].split(" of one")[0])
    assert opened - left == count
