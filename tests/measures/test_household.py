"""Finding the row of the weight table that an item's words ask for."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.measures.foodrows import counted_row, volume_row
from recipebox.measures.household import cut_words, food


@pytest.mark.parametrize(
    ("item", "preparation", "unit", "name"),
    [
        ("sharp Cheddar cheese, grated", None, "cup", "cheddar cheese"),
        ("large eggs", "beaten", None, "egg"),
        ("all purpose flour", "sifted", "cup", "all-purpose flour"),
        ("milk", None, "cup", "milk, whole"),
        ("rice", "cooked", "cup", "white rice, long-grain, cooked"),
        ("cooked rice", None, "cup", "white rice, long-grain, cooked"),
        ("rice", None, "cup", "white rice, long-grain, dry"),
        ("black beans", None, "can", "black beans, canned"),
        ("tomato soup", None, "can", "tomato soup, condensed"),
        ("frozen peas", None, "cup", "peas, frozen"),
        ("low sodium chicken broth", None, "cup", "chicken broth"),
        ("whipped butter", None, "cup", "whipped butter"),
        ("dry breadcrumbs", None, "cup", "bread crumbs, dry, plain"),
        ("ground black pepper", None, "teaspoon", "black pepper"),
        ("white chocolate chips", None, "cup", "white chocolate"),
        ("thyme", "chopped", "tablespoon", "thyme, fresh"),
        ("dried thyme", None, "teaspoon", "thyme, dried"),
        ("red onion", "diced", "cup", "onion"),
        ("cream", None, "cup", "heavy cream"),  # not whipped cream, a quarter of its weight
    ],
)
def test_cut_order_and_quality_do_not_matter(item: str, preparation: str | None, unit: str | None, name: str) -> None:
    """An item is found by the words that tell which food it is; its state must agree."""
    found = food(item, preparation, unit)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize(
    ("item", "preparation"),
    [
        ("almond flour", None),
        ("flour tortilla wraps with cheese", None),
        ("freeze-dried strawberries", None),
        ("kosher salt", None),
        ("butter cookies", None),
        ("carrots", "dried"),
        ("", None),
        ("chopped", "chopped"),
        ("kidney beans", None),  # dry or canned: the card does not say
        ("thyme", None),  # fresh or dried
    ],
)
def test_a_like_name_is_not_the_food(item: str, preparation: str | None) -> None:
    """A food that the table has not, or has in another state only, is not found."""
    assert food(item, preparation) is None


@given(st.text(max_size=40), st.none() | st.text(max_size=20))
def test_no_words_make_it_fail(item: str, preparation: str | None) -> None:
    """Any item and preparation are looked up without an error."""
    found = food(item, preparation)
    assert found is None or found.rows


def test_sizes_choose_the_row_of_a_thing_counted() -> None:
    """A large onion, a medium one, and one of no size (the medium one) go by their rows; a clove by its own."""
    onion, garlic = food("onions"), food("garlic", None, "clove")
    assert onion is not None
    assert garlic is not None
    grams = {}
    for words in ("large onion", "small onion", "onion"):
        row = counted_row(onion, cut_words(words), None)
        assert row is not None
        grams[words] = row.grams
    assert grams == {"large onion": 150, "small onion": 70, "onion": 110}  # USDA SR26, food 11282
    clove = counted_row(garlic, cut_words("garlic"), "clove")
    assert clove is not None
    assert clove.grams == 3  # USDA SR26, food 11215


def test_the_nearest_measure_is_used() -> None:
    """A teaspoon goes by the teaspoon row where there is one, a pint by the cup row."""
    garlic = food("garlic")
    assert garlic is not None
    by_spoon, by_cup = (volume_row(garlic, frozenset(), Fraction(ml)) for ml in (5, 473))
    assert by_spoon is not None
    assert by_cup is not None
    assert (by_spoon.measure, by_cup.measure) == ("teaspoon", "cup")
