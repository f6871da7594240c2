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
    """What one swap surely brings in, the way back takes out; a thing for itself changes nothing."""
    brings, takes = allergen_change(item, instead)
    back_brings, back_takes = allergen_change(instead, item)
    assert {name for name in brings if not name.endswith("?")} - {n.removesuffix("?") for n in allergens(item)} <= set(
        back_takes
    )
    assert set(takes) <= set(back_brings)
    assert allergen_change(item, item) == ((), ())


def test_what_a_swap_changes() -> None:
    """Oats for flour bring the gluten of oats and take out wheat; margarine for butter may bring soy."""
    assert allergen_change("butter", "margarine") == (("soy?",), ())
    assert allergen_change("flour", "almond flour") == (("tree nuts named in both lists",), ("wheat",))
    assert allergen_change("margarine", "butter")[0] == ("milk",)
