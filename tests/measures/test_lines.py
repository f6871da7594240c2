"""Whole lines as the kitchen reads them."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Alternative, Amount, Ingredient, Measure
from recipebox.measures import footing, scale_ingredient, shown_line


def amount(low: str, high: str | None = None) -> Amount:
    """An amount, or a range."""
    return Amount(Fraction(low), Fraction(high or low))


FLOUR = Ingredient("1 3/4 cups flour, sifted", amount=amount("7/4"), unit="cup", item="flour", preparation="sifted")


def test_the_amount_changes_and_the_words_stay() -> None:
    """Half of 1 3/4 cups flour, sifted, is written with its words as they were."""
    shown = shown_line(scale_ingredient(FLOUR, Fraction(1, 2)))
    assert (shown.text, shown.error, shown.rounded) == ("3/4 cup + 2 Tbsp flour, sifted", 0, False)


def test_a_rounded_line_says_by_how_much() -> None:
    """A third of 226.8 g is shown as 75 g, and the error is exact."""
    line = Ingredient("226.8 g butter", amount=amount("226.8"), unit="gram", item="butter")
    shown = shown_line(scale_ingredient(line, Fraction(1, 3)))
    assert shown.text == "75 g butter"
    assert shown.error == Fraction(75) / Fraction("75.6") - 1
    assert shown.rounded


def test_ranges_cans_and_alternatives_grow_together() -> None:
    """Every amount of a line is at the same batch; a can's printed size and a remark are not touched."""
    line = Ingredient(
        "1 to 2 cans (14.5 oz) tomatoes, drained, or 2 cups fresh tomatoes", amount=amount("1", "2"), unit="can",
        container=Measure(amount("29/2"), "ounce"), item="tomatoes", preparation="drained",
        instead=((Alternative(amount("2"), "cup", "fresh tomatoes"),),),
    )  # fmt: skip
    shown = shown_line(scale_ingredient(line, Fraction(2)))
    assert shown.text == "2 to 4 cans (14 1/2 oz) tomatoes, drained, or 4 cups fresh tomatoes"


def test_what_is_said_twice_stays_said_twice() -> None:
    """2 cups / 480 ml at half the batch is 1 cup and 240 ml."""
    line = Ingredient("2 cups / 480 ml milk", amount=amount("2"), unit="cup",
                      also=(Measure(amount("480"), "millilitre"),), item="milk")  # fmt: skip
    assert shown_line(scale_ingredient(line, Fraction(1, 2))).text == "1 cup (240 ml) milk"


@pytest.mark.parametrize(("how", "text"), [("heaped", "2 heaped Tbsp sugar"), ("about", "about 2 Tbsp sugar")])
def test_how_it_is_meant_is_kept(how: str, text: str) -> None:
    """A heaped tablespoon stays heaped."""
    line = Ingredient("", amount=amount("2"), unit="tablespoon", how=how, item="sugar")
    assert shown_line(line).text == text


@pytest.mark.parametrize(
    "line",
    [
        Ingredient("Topping", kind="heading"),
        Ingredient("salt to taste", how="to taste", item="salt"),
        Ingredient("0 cups milk", amount=Amount(Fraction(0), Fraction(0)), unit="cup", item="milk"),
    ],
)
def test_a_line_without_an_amount_comes_as_written(line: Ingredient) -> None:
    """Headings, salt to taste and an amount of nothing are shown as they stand."""
    assert shown_line(line).text == line.text
    assert shown_line(line).error == 0


@pytest.mark.parametrize(
    ("text", "factor", "shown"),
    [
        ("1 egg, beaten", 3, "3 eggs, beaten"),
        ("1 Ei", 2, "2 Ei"),  # no English plural for a noun of another language
        ("2 egg whites", "1/2", "1 egg white"),
        ("2 cherry tomatoes, sliced", "1/2", "1 cherry tomato, sliced"),
        ("1 leek", 2, "2 leeks"),
        ("4 large potatoes", 2, "8 large potatoes"),
        ("1 whole fish", 2, "2 whole fish"),
        ("2 green onions with tops", "1/2", "1 green onion with tops"),
    ],
)
def test_one_egg_many_eggs(text: str, factor: int | str, shown: str) -> None:
    """A thing counted is told in its number where the batch changed it, and as written where it did not."""
    count, item = text.split(",")[0].split(" ", 1)
    line = Ingredient(text, amount=amount(count), item=item)
    assert shown_line(scale_ingredient(line, Fraction(factor))).text == shown


def test_a_unit_behind_its_item_comes_first() -> None:
    """7 garlic cloves are 3 1/2 cloves garlic at half, the cloves told once."""
    line = Ingredient("7 garlic cloves, minced", amount=amount("7"), unit="clove", item="garlic", preparation="minced")
    assert shown_line(scale_ingredient(line, Fraction(1, 2))).text == "3 1/2 cloves garlic, minced"


@pytest.mark.parametrize(
    ("text", "factor", "shown"),
    [
        ("2 tablespoons chopped parsley", 2, "1/4 cup chopped parsley"),
        ("1/4 teaspoon freshly grated nutmeg", 2, "1/2 tsp freshly grated nutmeg"),
        ("2 hard-boiled eggs, chopped", 2, "4 hard-boiled eggs, chopped"),
        ("3 leeks, white part, sliced (about 4 cups)", 2, "6 leeks, white part, sliced (about 8 cups)"),
        ("1 cup cream or 1/2 cup milk plus 2 Tbsp butter", 2, "2 cups cream or 1 cup milk plus 1/4 cup butter"),
        ("2 poblano chiles (or Anaheim, roasted and peeled)", 2, "4 poblano chiles (or Anaheim, roasted and peeled)"),
        ("400 g tin of tomatoes, chopped", 2, "800 g (2 cans) tomatoes, chopped"),
        ("6 large cloves garlic, crushed", "1/2", "3 large cloves garlic, crushed"),
        ("juice of 1 lemon", 2, "juice of 2 lemons"),
        ("2 cups plus 2 tablespoons flour", 2, "4 1/4 cups flour"),
        ("1 lb 4 oz beef", 2, "2 1/2 lb beef"),
        ("1 lb (about 4) apples", 2, "2 lb (about 8) apples"),
        ("1 cup (2 sticks) butter", "1/3", "1/3 cup butter"),
        ("2 cups water, divided into 1 cup and 1 cup", 2, "4 cups water, divided into 2 cups and 2 cups"),
        ("1 dozen eggs", 2, "2 dozen eggs"),
        ("1 large egg + 1 yolk", 2, "2 large eggs + 2 yolks"),
        ("juice of 1 lemon and 2 limes", "1/2", "juice of 1/2 lemon and 1 lime"),
        ("2 eggs, beaten and rested 10 minutes", 2, "4 eggs, beaten and rested 10 minutes"),
        ("1/2 a red pepper", 4, "2 red peppers"),
        ("1 (9-inch) pie crust", 2, "2 (9-inch) pie crusts"),
        ("2 heaped tablespoons sugar", 2, "4 heaped Tbsp sugar"),
    ],
)
def test_every_other_word_stays_where_it_was(text: str, factor: int | str, shown: str) -> None:
    """Only amounts are changed, each in its place: how a thing is cut is never lost."""
    assert shown_line(scale_ingredient(read_ingredient(text), Fraction(factor))).text == shown


AMOUNTS = st.builds(Fraction, st.integers(1, 24), st.sampled_from([1, 2, 3, 4]))
UNITS = st.sampled_from(["cups", "tsp", "Tbsp", "oz", "g", "lb", "ml"])
ITEMS = ["flour, sifted", "chopped parsley", "butter", "grated cheddar cheese", "leeks, white part only"]
LINES = st.builds("{} {} {}".format, AMOUNTS.map(str), UNITS, st.sampled_from(ITEMS))


@given(LINES, st.fractions(min_value=Fraction(1, 4), max_value=6, max_denominator=12))
def test_what_is_shown_is_read_again_as_what_it_claims(text: str, factor: Fraction) -> None:
    """The line shown, read as a card's line, asks for the exact amount times (1 + error)."""
    scaled = scale_ingredient(read_ingredient(text), factor)
    shown = shown_line(scaled)
    if shown.text.split()[0] in ("about", "scant", "generous", "less"):
        return
    exact, again = footing(scaled), footing(read_ingredient(shown.text))
    for field in ("ml", "grams"):
        if field in exact.direct:
            size, found = getattr(exact, field), getattr(again, field)
            # a pinch is told in the table to four digits
            assert abs(found / (size * (1 + shown.error)) - 1) < Fraction(1, 1000), (text, shown)


@pytest.mark.parametrize(
    ("text", "half"),
    [
        (
            "120 g sugar, 120 g cold butter and a teaspoon cinnamon",
            "60 g sugar, 60 g cold butter and 1/2 tsp cinnamon",
        ),
        ("4 tsp sugar, divided: 2 tsp for the crumble", "2 tsp sugar, divided: 1 tsp for the crumble"),
        ("2 cups flour plus 2 tbsp for dusting", "1 cup flour plus 1 Tbsp for dusting"),
        ("500 g potatoes (2 large)", "250 g potatoes (1 large)"),
        ("1 packet (7 g) dry yeast", "1/2 packet (7 g) dry yeast"),
        ("1 packet dry yeast (7 g)", "1/2 packet (7 g) dry yeast"),
        ("1 lb beef, cut into 2 oz chunks", "1/2 lb beef, cut into 2 oz chunks"),
        ("1 onion, cut into 2 cm pieces", "1/2 onion, cut into 2 cm pieces"),
        ("100 g dark chocolate (70% cocoa)", "50 g dark chocolate (70% cocoa)"),
        ("1 cup milk at 110 F for 5 minutes", "1/2 cup milk at 110 F for 5 minutes"),
    ],
)
def test_a_line_is_scaled_wholly(text: str, half: str) -> None:
    """Further amounts among a line's words grow along; sizes of a packet or a piece, shares and heats stay."""
    assert shown_line(scale_ingredient(read_ingredient(text), Fraction(1, 2))).text == half


@given(st.sampled_from([Fraction(1, 2), Fraction(2), Fraction(3)]), st.integers(1, 15), st.integers(1, 15))
def test_what_is_said_behind_keeps_its_share(factor: Fraction, first: int, second: int) -> None:
    """Of a line that holds two amounts both stand in the card's proportion, at any batch (whole tens of grams)."""
    line = read_ingredient(f"{first}0 g sugar, {second}0 g cold butter")
    shown = shown_line(scale_ingredient(line, factor)).text
    amounts = [found.amount for words in shown.split(", ") if (found := read_ingredient(words)).unit == "gram"]
    assert [each and each.low for each in amounts] == [10 * first * factor, 10 * second * factor]
