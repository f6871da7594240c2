"""Lines on one footing."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Ingredient, Measure
from recipebox.measures import Measures, convert, footing, measures_named
from recipebox.measures.units import units

CUP = convert(Fraction(1), "cup", "ml")


def amount(low: str, high: str | None = None) -> Amount:
    """An amount, or a range."""
    return Amount(Fraction(low), Fraction(high or low))


LINES = st.builds(
    Ingredient,
    text=st.text(max_size=30),
    amount=st.none()
    | st.builds(Amount, st.fractions(-5, 5, max_denominator=8), st.fractions(-5, 5, max_denominator=8)),
    unit=st.none() | st.sampled_from(sorted(units())) | st.text(max_size=8),
    container=st.none()
    | st.builds(
        Measure, st.builds(amount, st.just("0") | st.just("14.5")), st.none() | st.sampled_from(["ounce", "zz"])
    ),
    plus=st.lists(st.builds(Measure, st.builds(amount, st.just("1")), st.none() | st.just("cup")), max_size=1).map(
        tuple
    ),
    also=st.lists(st.builds(Measure, st.builds(amount, st.just("9")), st.none() | st.just("gram")), max_size=1).map(
        tuple
    ),
    item=st.sampled_from(["flour", "eggs", "butter", "garlic", "tomato soup", "water", "", "zzz"]),
)


@given(LINES)
def test_any_line_has_a_footing(line: Ingredient) -> None:
    """No line makes it fail; what it says is exact and not below nothing, and a table is named where one was used."""
    found = footing(line)
    for value in (found.ml, found.grams, found.count):
        assert value is None or (isinstance(value, Fraction) and value >= 0)
    assert found.approximate == (found.row is not None)
    if found.row:
        assert "USDA" in found.why or "Extension" in found.why or "Can-maker" in found.why


def test_a_can_goes_by_its_printed_size() -> None:
    """Two 14.5 oz cans are 29 oz, as the card says, and two cans."""
    line = Ingredient("2 cans (14.5 oz) tomatoes", amount=amount("2"), unit="can",
                      container=Measure(amount("14.5"), "ounce"), item="chopped tomatoes")  # fmt: skip
    found = footing(line)
    assert found.grams == convert(Fraction(29), "ounce", "gram")
    assert (found.count, found.counted) == (2, "can")
    assert {"grams", "count"} <= set(found.direct)


@pytest.mark.parametrize(
    ("text", "grams"),
    [("4 chicken breasts, 150 g each", 600), ("1 (3-pound) chicken", convert(Fraction(3), "pound", "gram"))],
)
def test_pieces_go_by_the_size_the_card_gives_of_one(text: str, grams: Fraction) -> None:
    """What one piece weighs, by the card, is what all of them weigh together."""
    found = footing(read_ingredient(text))
    assert found.grams == grams
    assert found.counted == "each" and not found.approximate


def test_ounces_of_milk_are_fluid_and_of_cheese_weight() -> None:
    """8 oz is a cup of milk, and half a pound of cheese."""
    milk = footing(Ingredient("8 oz milk", amount=amount("8"), unit="ounce", item="milk"))
    cheese = footing(Ingredient("8 oz cheese", amount=amount("8"), unit="ounce", item="cheese"))
    assert (milk.ml, milk.direct) == (CUP, ("ml",))
    assert (cheese.grams, cheese.direct) == (convert(Fraction(8), "ounce", "gram"), ("grams",))


def test_a_stick_is_of_butter_only() -> None:
    """A stick of butter weighs 113 g (USDA SR26); a stick of cinnamon is one stick."""
    butter = footing(Ingredient("1 stick butter", amount=amount("1"), unit="stick", item="butter"))
    cinnamon = footing(Ingredient("1 stick cinnamon", amount=amount("1"), unit="stick", item="cinnamon"))
    assert butter.grams == 113
    assert (cinnamon.grams, cinnamon.count, cinnamon.counted) == (None, 1, "stick")


def test_plus_is_added_and_also_is_the_same_again() -> None:
    """1 cup plus 2 tablespoons is 9/8 cup; "(120 g)" beside a cup is what the card says it weighs, no table asked."""
    line = Ingredient("", amount=amount("1"), unit="cup", plus=(Measure(amount("2"), "tablespoon"),), item="flour")
    assert footing(line).ml == CUP * 9 / 8
    both = Ingredient("", amount=amount("1"), unit="cup", also=(Measure(amount("120"), "gram"),), item="flour")
    found = footing(both)
    assert (found.grams, found.approximate, set(found.direct)) == (120, False, {"ml", "grams"})


def test_a_range_stands_on_its_middle() -> None:
    """2 to 3 cups is two and a half."""
    assert footing(Ingredient("", amount=amount("2", "3"), unit="cup", item="water")).ml == CUP * 5 / 2


def test_whose_cups_they_are() -> None:
    """A cup is 250 ml where the card's measures are metric or Australian."""
    line = Ingredient("", amount=amount("1"), unit="cup", item="water")
    which: Measures = measures_named("Australian")
    assert footing(line, which).ml == 250
    assert footing(line).ml == CUP


def test_nothing_is_guessed_without_an_amount() -> None:
    """Salt to taste, a heading, and an amount below nothing have no footing, and say why."""
    for line in (
        Ingredient("salt to taste", how="to taste", item="salt"),
        Ingredient("Topping", kind="heading"),
        Ingredient("-1 cup milk", amount=amount("-1"), unit="cup", item="milk"),
    ):
        found = footing(line)
        assert (found.ml, found.grams, found.count) == (None, None, None)
        assert found.why


def test_drained_beans_are_less_than_their_can() -> None:
    """US Dry Bean Council: a 15 oz can is about 1 1/2 cups drained; USDA SR26 weighs a can of chickpeas both ways."""
    line = Ingredient("1 can (15 oz) chickpeas, drained", amount=amount("1"), unit="can",
                      container=Measure(amount("15"), "ounce"), item="chickpeas", preparation="drained")  # fmt: skip
    found = footing(line)
    assert found.ml is not None
    assert abs(found.ml / CUP - Fraction(3, 2)) < Fraction(1, 7)
    assert found.approximate
    assert found.printed == convert(Fraction(15), "ounce", "gram")


def test_whipped_butter_has_lighter_sticks() -> None:
    """USDA SR26: a stick of whipped butter weighs 76 g."""
    line = Ingredient("1 stick whipped butter", amount=amount("1"), unit="stick", item="whipped butter")
    assert footing(line).grams == 76


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("1/4 cup chives, freeze-dried", "0.8"),  # USDA SR26
        ("1 small head cabbage", "714"),
        ("1 large head red cabbage", "1134"),
        ("1 head cabbage", "908"),
        ("1 tablespoon powdered sugar, unsifted", "8"),
    ],
)
def test_what_a_line_says_of_size_and_state_chooses_the_row(text: str, grams: str) -> None:
    """A size before the unit and a word behind a comma are heard, wherever the reader keeps them."""
    assert footing(read_ingredient(text)).grams == Fraction(grams)


def test_parts_in_unlike_measures_are_added_in_grams() -> None:
    """A stick of 113 g plus 2 tablespoons of 14.2 g each (USDA SR 26, food 01145) is 141.4 g of butter."""
    found = footing(read_ingredient("1 stick plus 2 tablespoons unsalted butter"))
    assert found.grams == 113 + 2 * Fraction(142, 10)
    assert found.approximate
