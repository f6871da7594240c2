"""Allergens that words hint at."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cautions import allergen_change, allergens
from recipebox.tables.load import rows

NAMES = {row["allergen"] for row in rows("major_allergens")}
ITEMS = st.sampled_from(["butter", "margarine", "flour", "eggs", "soy sauce", "almonds", "oats", "rice", ""])


@pytest.mark.parametrize(
    ("item", "names"),
    [
        ("2 cups whole milk", ("milk",)),
        ("coconut milk", ()),
        ("peanut butter", ("peanut",)),
        ("eggplant", ()),
        ("nutmeg", ()),
        ("buckwheat flour", ()),
        ("almond flour", ("tree nuts named in both lists",)),
        ("soy sauce", ("wheat?", "soy")),
        ("margarine", ("milk?", "soy?")),
        ("oyster mushrooms", ()),
        ("graham cracker crust", ("wheat", "soy?")),
        ("vegan butter", ()),
        ("Worcestershire sauce", ("fish", "soy?", "mustard?")),
    ],
)
def test_whole_words_masked_first(item: str, names: tuple[str, ...]) -> None:
    """What only looks alike is no allergen; what often holds one is marked with a question mark."""
    assert allergens(item) == names


@given(st.text(max_size=30) | ITEMS)
def test_names_are_the_tables(item: str) -> None:
    """Any item gives names of major_allergens.csv only, each once."""
    found = [name.removesuffix("?") for name in allergens(item)]
    assert set(found) <= NAMES
    assert len(set(found)) == len(found)


@given(ITEMS, ITEMS)
def test_a_swap_and_its_way_back(item: str, instead: str) -> None:
    """What a swap takes out, the way back surely brings in; a thing for itself changes nothing."""
    _, takes = allergen_change(item, instead)
    back_brings, _ = allergen_change(instead, item)
    assert set(takes) <= set(back_brings)
    assert not any(name.endswith("?") for name in takes)
    assert allergen_change(item, item) == ((), ())


def test_what_a_swap_changes() -> None:
    """Oats for flour bring the gluten of oats and take out wheat; margarine for butter may bring soy."""
    assert allergen_change("butter", "margarine") == (("soy?",), ())
    assert allergen_change("flour", "almond flour") == (("tree nuts named in both lists",), ("wheat",))
    assert allergen_change("margarine", "butter")[0] == ("milk",)


@pytest.mark.parametrize(
    ("item", "instead"),
    [
        ("vegetable stock", "stock"),
        ("vegetable stock", "chicken broth"),
        ("vegetable stock", "chicken stock"),
        ("chicken broth", "vegetable stock"),
        ("celery salt", "salt"),
        ("milk chocolate", "chocolate"),
        ("butter", "Tilda's best spread"),
        ("butter", "cake glaze"),
        ("flour", "crunchy topping"),
        ("soy sauce", "brown sauce"),
        ("almonds", "nuts"),
        ("bread crumbs", ""),
        ("prawns", "seafood mix"),
    ],
)
def test_what_is_not_known_takes_nothing_out(item: str, instead: str) -> None:
    """A mixture, a name nobody knows, a less exact name and what only may hold an allergen never claim to be free."""
    assert allergen_change(item, instead)[1] == ()


@pytest.mark.parametrize(
    ("item", "instead", "takes"),
    [
        ("butter", "olive oil", ("milk",)),
        ("milk", "coconut milk", ("milk",)),
        ("flour", "buckwheat flour", ("wheat",)),
        ("shrimp", "white fish", ("crustacean shellfish",)),
        ("soy sauce", "salt", ("soy",)),
    ],
)
def test_a_plain_food_without_it_takes_it_out(item: str, instead: str, takes: tuple[str, ...]) -> None:
    """One plain food, or what a published list names as merely looking alike, in place of one that surely has it."""
    assert allergen_change(item, instead)[1] == takes


@given(ITEMS, st.text(alphabet="bcdfgk ", min_size=3, max_size=12))
def test_unknown_words_take_nothing_out(item: str, instead: str) -> None:
    """Words no table has say nothing about what is not in them."""
    assert allergen_change(item, instead)[1] == ()


@pytest.mark.parametrize(
    ("item", "names"),
    [
        ("gluten-free rolled oats", ("cereals containing gluten other than wheat (rye, barley, oats)",)),
        ("gluten-free crackers", ("wheat?", "soy?")),
        ("dairy-free milk", ("milk?",)),
        ("lactose-free milk", ("milk",)),
        ("gluten-free flour", ()),
    ],
)
def test_what_a_maker_says_is_not_in_it_is_no_food_and_no_proof(item: str, names: tuple[str, ...]) -> None:
    """The word "gluten" of gluten-free oats brings in no wheat; of crackers that claim it, it stays "may be"."""
    assert allergens(item) == names
