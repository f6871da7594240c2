"""Ingredient lines read whole: measure, name, preparation, alternatives and the rest."""

import time
from dataclasses import FrozenInstanceError, replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.amounts import write_amount
from recipebox.cards.data import ingredient_data, ingredient_from_data
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Alternative, Amount, Ingredient, Measure
from recipebox.tables import rows


def exactly(amount: str) -> Amount:
    return Amount(Fraction(amount), Fraction(amount))


def measured(amount: str, unit: str | None) -> Measure:
    return Measure(exactly(amount), unit)


def test_the_line_of_the_card_page_gives_its_data() -> None:
    """The example of the page on cards as data (section 9) is read as it stands there."""
    text = "1 can (14.5 oz) chopped tomatoes, drained, or 2 cups fresh tomatoes"
    assert read_ingredient(text, line=12) == Ingredient(
        text=text,
        line=12,
        amount=exactly("1"),
        unit="can",
        container=measured("29/2", "ounce"),
        item="chopped tomatoes",
        items=("chopped tomatoes",),
        preparation="drained",
        instead=((Alternative(exactly("2"), "cup", "fresh tomatoes"),),),
    )


@pytest.mark.parametrize(
    ("text", "amount", "unit", "item"),
    [
        ("2 cups flour", "2", "cup", "flour"),
        ("1 T sugar", "1", "tablespoon", "sugar"),
        ("1 t sugar", "1", "teaspoon", "sugar"),
        ("2 Tbsp. oil", "2", "tablespoon", "oil"),
        ("2tsp salt", "2", "teaspoon", "salt"),
        ("5# potatoes", "5", "pound", "potatoes"),
        ("250g flour", "250", "gram", "flour"),
        ("3 EL Zucker", "3", "Esslöffel", "Zucker"),
        ("1 TL Salz", "1", "Teelöffel", "Salz"),
        ("2 c. à s. d'huile", "2", "cuillère à soupe", "huile"),
        ("2 msk smör", "2", "matsked", "smör"),
        ("1 tsk salt", "1", "tesked", "salt"),
        ("1,5 dl grädde", "3/2", "decilitre", "grädde"),
        ("2 cdas de aceite", "2", "cucharada", "aceite"),
        ("2 garlic cloves", "2", "clove", "garlic"),
        ("2 cloves of garlic", "2", "clove", "garlic"),
        ("2 large cloves garlic", "2", "clove", "garlic"),
        ("4 bay leaves", "4", None, "bay leaves"),
        ("a dozen eggs", "1", "dozen", "eggs"),
        ("half an onion", "1/2", None, "onion"),
        ("pinch of salt", "1", "pinch", "salt"),
        ("Flour, 2 cups", "2", "cup", "Flour"),
        ("Flour: 2 cups", "2", "cup", "Flour"),
        ("butter ............ 100 g", "100", "gram", "butter"),
        ("flour (2 cups)", "2", "cup", "flour"),
        ("1 cup half-and-half", "1", "cup", "half-and-half"),
        ("6 egg rolls", "6", None, "egg rolls"),
        ("1 cup chicken or vegetable stock", "1", "cup", "chicken stock"),
        ("4 boneless, skinless chicken breasts", "4", None, "boneless, skinless chicken breasts"),
        ("8 bone-in, skin-on chicken thighs", "8", None, "bone-in, skin-on chicken thighs"),
        ("1/2 a lemon", "1/2", None, "lemon"),
        ("2 and a half cups sugar", "5/2", "cup", "sugar"),
        ("1/8th teaspoon mace", "1/8", "teaspoon", "mace"),
        ("a thumb-sized piece of ginger", "1", "piece", "ginger"),
        ("walnut-sized knob of butter", "1", "knob", "butter"),
        ("3/4 cup canned peaches", "3/4", "cup", "canned peaches"),
        ("1 pot double cream", "1", "pot", "double cream"),
        ("1 pot roast", "1", None, "pot roast"),
        ("1 rack of ribs", "1", "rack", "ribs"),
        ("1 can or jar of olives", "1", "can", "olives"),
        ("2% milk, 1 cup", "1", "cup", "2% milk"),
        ("7-grain bread, 4 slices", "4", "slice", "7-grain bread"),
        ("00 flour 500 g", "500", "gram", "00 flour"),
        ("Eggs x 2", "2", None, "Eggs"),
        ("3 stk egg", "3", "piece", "egg"),
        ("2 stk butter", "2", "stick", "butter"),
        ("1 Msp. Zimt", "1", "pinch", "Zimt"),
        ("2 el olie", "2", "Esslöffel", "olie"),
        ("(optional) 1 tsp cinnamon", "1", "teaspoon", "cinnamon"),
        ("For dusting: 2 tbsp icing sugar", "2", "tablespoon", "icing sugar"),
        ("yolk of 1 egg", "1", None, "egg"),
        ("1 cup heavy or thickened cream", "1", "cup", "heavy cream"),
        ("Tin of tomatoes - 1", "1", "can", "tomatoes"),
        ("tin of tomatoes", "1", "can", "tomatoes"),
        ("bean sprouts, a big handful", "1", "handful", "bean sprouts"),
        ("1 onion stuck with 4 cloves", "1", None, "onion"),
    ],
)
def test_amount_unit_and_name(text: str, amount: str, unit: str | None, item: str) -> None:
    """Measures in every spelling, before or behind the name, are told from the name."""
    found = read_ingredient(text)
    assert (found.amount, found.unit, found.item) == (exactly(amount), unit, item)


@pytest.mark.parametrize(
    ("text", "amount", "unit", "size"),
    [
        ("1 (14.5 oz) can diced tomatoes", "1", "can", ("29/2", "ounce")),
        ("1 can (14.5 oz) diced tomatoes", "1", "can", ("29/2", "ounce")),
        ("1 can diced tomatoes (14.5 oz)", "1", "can", ("29/2", "ounce")),
        ("2 14-oz. cans diced tomatoes", "2", "can", ("14", "ounce")),
        ("2 – 14 oz cans diced tomatoes", "2", "can", ("14", "ounce")),
        ("1 x 400 g tin diced tomatoes", "1", "can", ("400", "gram")),
        ("2 x 400g tins diced tomatoes", "2", "can", ("400", "gram")),
        ("a 10-ounce package diced tomatoes", "1", "package", ("10", "ounce")),
        ("one eight-ounce package diced tomatoes", "1", "package", ("8", "ounce")),
    ],
)
def test_printed_sizes(text: str, amount: str, unit: str, size: tuple[str, str]) -> None:
    """What is printed on a can belongs to each can, wherever it stands; what is in it keeps its preparation."""
    found = read_ingredient(text)
    assert (found.amount, found.unit, found.container) == (exactly(amount), unit, measured(*size))
    assert found.item == "diced tomatoes"


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("4 chicken breasts, 150 g each", ("150", "gram")),
        ("4 chicken breasts (about 150g each)", ("150", "gram")),
        ("4 salmon fillets (6 oz each)", ("6", "ounce")),
        ("4 salmon fillets, each weighing about 150 g", ("150", "gram")),
    ],
)
def test_the_size_of_one_is_no_sum(text: str, size: tuple[str, str]) -> None:
    """What each weighs is told from what all weigh together."""
    found = read_ingredient(text)
    assert (found.container, found.also) == (measured(*size), ())
    assert read_ingredient("4 chicken breasts (600 g in total)").also == (measured("600", "gram"),)


@pytest.mark.parametrize(
    ("text", "plus", "also"),
    [
        ("1 cup plus 2 tablespoons milk", [("2", "tablespoon")], []),
        ("1 cup milk plus 2 tablespoons", [("2", "tablespoon")], []),
        ("1 lb 4 oz milk", [("4", "ounce")], []),
        ("2 cups / 480 ml milk", [], [("480", "millilitre")]),
        ("2 cups (480 ml) milk", [], [("480", "millilitre")]),
        ("1 cup (240 ml/8 fl oz) milk", [], [("240", "millilitre"), ("8", "fluid ounce")]),
        ("900 g (2 lb) milk", [], [("2", "pound")]),
        ("200g/7oz milk", [], [("7", "ounce")]),
    ],
)
def test_added_and_other_systems(text: str, plus: list[tuple[str, str]], also: list[tuple[str, str]]) -> None:
    """What is added is told from what says the same in another system."""
    found = read_ingredient(text)
    assert found.plus == tuple(measured(*one) for one in plus)
    assert found.also == tuple(measured(*one) for one in also)
    assert found.item == "milk"


@pytest.mark.parametrize(
    ("text", "item", "preparation"),
    [
        ("1 cup finely chopped onion", "onion", "finely chopped"),
        ("1 onion, finely chopped", "onion", "finely chopped"),
        ("1 onion finely chopped", "onion", "finely chopped"),
        ("1 onion (finely chopped)", "onion", "finely chopped"),
        ("2 ripe peeled bananas", "ripe bananas", "peeled"),
        ("1 lb ground beef", "ground beef", None),
        ("1 lime, juice of", "lime", "juice of"),
        ("juice of 1 lemon", "lemon", "juice of"),
    ],
)
def test_preparation_before_and_behind(text: str, item: str, preparation: str | None) -> None:
    """What the cook does is told from the name on both sides of it; what is bought so stays in the name."""
    found = read_ingredient(text)
    assert (found.item, found.preparation) == (item, preparation)


def test_how_purpose_optional_and_remarks() -> None:
    """About, heaped, to taste, a purpose, optional and remarks each have their place."""
    assert read_ingredient("about 2 cups flour").how == "about"
    assert read_ingredient("a scant cup of milk").how == "scant"
    assert read_ingredient("2 heaped tbsp cocoa").how == "heaped"
    assert read_ingredient("salt and pepper to taste").how == "to taste"
    assert (read_ingredient("to taste salt").how, read_ingredient("to taste salt").item) == ("to taste", "salt")
    assert read_ingredient("butter, for greasing").purpose == "for greasing"
    assert read_ingredient("1 cup walnuts (optional)").optional
    assert read_ingredient("Optional: 1 cup walnuts").optional
    assert read_ingredient("2 tbsp butter, plus more for the pan").remark == "plus more for the pan"


def test_several_things_on_a_line() -> None:
    """Each thing a shop sells stands in `items`, whatever parts them."""
    assert read_ingredient("salt and pepper").items == ("salt", "pepper")
    assert read_ingredient("Salt, pepper, and paprika").items == ("Salt", "pepper", "paprika")
    assert read_ingredient("1 tsp each of cumin, coriander and paprika").items == ("cumin", "coriander", "paprika")
    assert read_ingredient("2 eggs, 1 cup milk, 1 cup flour").items == ("eggs", "milk", "flour")
    assert read_ingredient("1 cup sweet and sour sauce").items == ("sweet and sour sauce",)
    assert read_ingredient("salt + pepper").items == ("salt", "pepper")
    assert read_ingredient("hundreds and thousands").items == ("hundreds and thousands",)
    assert read_ingredient("olive oil, plenty").items == ("olive oil",)
    assert read_ingredient("1 carrot, 1 stick celery and 1 onion").items == ("carrot", "celery", "onion")
    assert read_ingredient("1 red and 1 green capsicum").items == ("red capsicum", "green capsicum")


def test_alternatives() -> None:
    """Each alternative is a list of what is used together; without an amount the line's own is meant."""
    assert read_ingredient("1/2 cup butter or margarine").instead == ((Alternative(None, None, "margarine"),),)
    assert read_ingredient("1/2 cup butter (or margarine)").instead == ((Alternative(None, None, "margarine"),),)
    assert read_ingredient("1 cup milk or 1/2 cup cream plus 1/2 cup water").instead == (
        (Alternative(exactly("1/2"), "cup", "cream"), Alternative(exactly("1/2"), "cup", "water")),
    )
    assert read_ingredient("1/4 cup mayonnaise, or more to taste").instead == ()
    assert read_ingredient("1 cup yogurt or sour cream").instead == ((Alternative(None, None, "sour cream"),),)
    dried = Alternative(exactly("1"), "teaspoon", "dried thyme")
    assert read_ingredient("1 tbsp fresh thyme (or 1 tsp dried)").instead == ((dried,),)


def test_what_was_guessed_is_marked_unsure() -> None:
    """An amount found only in a remark, and the two readings of cc, are read and marked."""
    found = read_ingredient("dark chocolate (I used around 20g)")
    assert (found.amount, found.unit, found.unsure) == (exactly("20"), "gram", ("amount", "unit"))
    spoon = read_ingredient("1 cc de sel")
    assert (spoon.unit, spoon.unsure) == ("cuillère à café", ("unit",))
    assert read_ingredient("1 cc vanilla").unit == "millilitre"
    assert read_ingredient("1 cc de sel", sure_metric=True).unit == "millilitre"


@pytest.mark.parametrize(
    "text",
    [
        "Topping:",
        "For the sauce:",
        "For the sauce",
        "**Topping**",
        "## Topping",
        "TOPPING",
        "To serve",
        "Dry ingredients",
    ],
)
def test_headings(text: str) -> None:
    """A line that names a group is a heading, with its name as item."""
    assert read_ingredient(text).kind == "heading"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   ",
        "---",
        "2",
        "Preheat the oven to 350 degrees and grease a baking dish.",
        "1. Preheat the oven to 350 F.",
    ],
)
def test_other_text(text: str) -> None:
    """A line without words, and a sentence of the method, is text."""
    assert read_ingredient(text).kind == "text"


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("- 1 cup sugar", "1 cup sugar"),
        ("* 1 cup sugar", "1 cup sugar"),
        ("• 1 cup sugar", "1 cup sugar"),
        ("- [ ] 1 cup sugar", "1 cup sugar"),
        ("3. 1 cup sugar", "1 cup sugar"),
        ("**1 cup** sugar", "**1 cup** sugar"),
        ("1 [cup](https://example.org/cup) sugar", "1 [cup](https://example.org/cup) sugar"),
        ("1 cup `sugar`", "1 cup `sugar`"),
        ("1 cup sugar*", "1 cup sugar*"),
        ("1 cup sugar¹", "1 cup sugar¹"),
        ("| 1 cup | sugar |", "1 cup | sugar"),
        ("| 1 | cup | sugar |", "1 | cup | sugar"),
        ("| sugar | 1 cup |", "sugar | 1 cup"),
        ("> 1 cup sugar", "1 cup sugar"),
    ],
)
def test_marks_are_read_through_and_kept(text: str, kept: str) -> None:
    """Bullets, Markdown, footnote marks and tables do not change the reading; `text` has the words as written."""
    found = read_ingredient(text)
    assert (found.amount, found.unit, found.item, found.text) == (exactly("1"), "cup", "sugar", kept)


units = [
    (alias, row["unit"])
    for row in rows("kitchen_units")
    if not set("( ") & set(row["unit"]) and row["unit"] not in ("each", "stick of butter or margarine")
    for alias in (row["unit"], *row["aliases"].split(";"))
    if alias and not alias[0].isdigit() and alias != "cc"
]


def test_every_spelling_of_the_unit_table_is_known() -> None:
    """Each alias of kitchen_units.csv (sources in its rows) is read as its unit, case and full stops included."""
    wrong = {
        alias: found.unit
        for alias, unit in units
        if (found := read_ingredient(f"3 {alias} xyzzy")).unit != unit or found.item != "xyzzy"
    }
    assert wrong == {}


@given(
    st.builds(Fraction, st.integers(1, 200), st.sampled_from([1, 2, 3, 4, 8])),
    st.sampled_from(["cup", "tablespoon", "pound", "gram", "clove", "can"]),
    st.sampled_from(["flour", "brown sugar", "leeks", "white fish", "olive oil"]),
    st.sampled_from(["", "chopped", "drained", "at room temperature"]),
)
def test_a_line_put_together_comes_apart_again(amount: Fraction, unit: str, item: str, preparation: str) -> None:
    """Amount, unit, item and preparation written into a line are what is read from it."""
    text = f"{write_amount(amount)} {unit} {item}" + (f", {preparation}" if preparation else "")
    found = read_ingredient(text)
    assert (found.amount, found.unit, found.item) == (Amount(amount, amount), unit, item)
    assert found.preparation == (preparation or None)


KITCHEN_WORDS = (
    "1 2 1/2 ½ 1-1/2 cup cups oz can (14 ) , ; or plus and of / - – : butter flour salt chopped melted optional to "
    "taste for greasing [ ] { } ** | * # x ~ about heaped large juice zest each 400 g tin 1,5 dl ... T t"
)
kitchen_words = st.sampled_from(KITCHEN_WORDS.split())


@settings(max_examples=300)
@given(st.one_of(st.text(max_size=200), st.lists(kitchen_words, max_size=25).map(" ".join)))
def test_no_line_is_refused_and_its_data_survives(text: str) -> None:
    """Whatever the string, a reading is given; as JSON-ready data and back it is the same."""
    found = read_ingredient(text, line=7, group="Topping")
    assert found.kind in ("ingredient", "heading", "text")
    assert found.text in text
    assert ingredient_from_data(ingredient_data(found)) == found
    assert found.amount is None or found.amount.low <= found.amount.high


@pytest.mark.parametrize(
    "piece", ["1 cup ", "(", "a or ", "1", "1 ", ",", "butter ", "1/2-", "[a](", "**", "& ", "melted, ", "1 cup, ", "|"]
)
def test_a_very_long_line_is_read_at_once(piece: str) -> None:
    """A line of 100,000 characters, whatever it repeats, takes no more than the half second asked for."""
    text = piece * (100_000 // len(piece))
    start = time.perf_counter()
    read_ingredient(text)
    assert time.perf_counter() - start < 0.5


def test_what_is_for_serving_is_no_alternative() -> None:
    """A purpose before "or more to taste" stays one, and so does what kind it is."""
    found = read_ingredient("1 1/2 cups milk, to garnish (or more to taste)")
    assert (found.purpose, found.remark, found.instead) == ("to garnish", "or more to taste", ())


def test_an_ingredient_is_frozen_however_it_was_made() -> None:
    """What reading gives is an Ingredient like any other: equal, hashed alike, and not to be changed."""
    found = read_ingredient("2 cups flour")
    assert found == Ingredient("2 cups flour", amount=exactly("2"), unit="cup", item="flour", items=("flour",))
    assert hash(found) == hash(replace(found))
    with pytest.raises(FrozenInstanceError):
        found.item = "sugar"


@pytest.mark.parametrize(
    ("text", "items", "preparation"),
    [
        ("5 1/2 c peeled, sliced apples", ("apples",), "peeled sliced"),
        ("1 cup chopped, toasted pecans", ("pecans",), "chopped toasted"),
        ("1 bouquet garni", ("bouquet garni",), None),
        ("S & P", ("salt", "pepper"), None),
        ("s&p to taste", ("salt", "pepper"), None),
    ],
)
def test_what_is_done_first_and_short_names_are_no_things(
    text: str, items: tuple[str, ...], preparation: str | None
) -> None:
    """The thing is found behind what is done to it, a bouquet garni is no bunch, and S & P is salt and pepper."""
    one = read_ingredient(text)
    assert (one.items, one.preparation) == (items, preparation)


def test_examples_are_no_alternatives() -> None:
    """What "such as" names are kinds of the thing, none of them in its place."""
    read = read_ingredient("1 pound pasta such as penne or rigatoni")
    assert (read.item, read.preparation, read.instead) == ("pasta", "such as penne or rigatoni", ())


def test_pieces_and_a_measure_add_up() -> None:
    """ "1 stick plus 2 tablespoons" is one amount of butter in two parts."""
    read = read_ingredient("1 stick plus 2 tablespoons unsalted butter")
    assert (read.unit, read.item) == ("stick", "unsalted butter")
    assert [(more.amount.low, more.unit) for more in read.plus] == [(2, "tablespoon")]
