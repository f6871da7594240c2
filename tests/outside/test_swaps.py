"""Published swaps as extension services print them, and what their allergen columns say beside the published lists.

Sources: recipebox/tables/substitutions.csv (a source in each row) and major_allergens.csv (US FALCPA 2004 and FASTER
Act 2021; Regulation (EU) No 1169/2011 Annex II).
"""

import csv
from pathlib import Path

import pytest

from recipebox.cards.shape import swap_line
from recipebox.cards.things import thing
from recipebox.cautions import allergen_change
from recipebox.family import Choices, propose_new, published_swaps
from recipebox.tables import rows
from tests.family.making import version

_ROWS = rows("substitutions")


def _names(cell: str) -> set[str]:
    return {name for name in cell.split(";") if name}


# Each with its publisher. NDSU: North Dakota State University Extension, Kitchen Detours, 2020. UNL: University of
# Nebraska-Lincoln Extension, Ingredient Substitutions. USU: Utah State University Extension, Ingredient Substitutions.
# Iowa: Iowa State University Extension and Outreach, emergency substitutions, 2020. eXtension: US Cooperative
# Extension, Modify Your Recipe. NHLBI: US National Heart, Lung, and Blood Institute, lower-fat substitutions. NDFB:
# North Dakota Farm Bureau, This for That, 2018. MSU: Michigan State University Extension, Missing ingredients.
# DCC: Dairy Council of California, Recipe Ingredient Substitutions. OSU: Oklahoma State University Extension. UNH:
# University of New Hampshire Extension. UWEX: University of Wisconsin-Extension. NMSU: New Mexico State University
# Extension. BMC: Boston Medical Center teaching kitchen. PU: PowerUp children's health programme.
_PRINTED = [
    ("buttermilk", "milk", "1 cup for 1 cup", "North Dakota State University Extension"),
    ("buttermilk", "milk", "1 cup for 1 cup", "University of Nebraska-Lincoln Extension"),
    ("buttermilk", "plain yogurt", "2/3 cup for 1 cup (1/3 cup milk)", "Iowa State University Extension"),
    ("buttermilk", "plain yogurt", "1 cup for 1 cup", "Utah State University Extension"),
    ("sour cream", "plain yogurt", "1 cup for 1 cup", "eXtension"),
    ("sour cream", "buttermilk", "3/4 cup for 1 cup (1/3 cup melted butter)", "Dairy Council of California"),
    ("plain yogurt", "sour cream", "1 cup for 1 cup", "North Dakota Farm Bureau"),
    ("half-and-half", "whole milk", "1 cup for 1 cup", "North Dakota Farm Bureau"),
    ("light cream", "evaporated skim milk", "1 cup for 1 cup", "eXtension"),
    ("heavy cream", "skim milk", "2/3 cup for 1 cup (1/3 cup vegetable oil)", "eXtension"),
    ("milk", "evaporated milk", "1/2 cup for 1 cup (1/2 cup water)", "Michigan State University Extension"),
    ("milk", "nonfat dry milk", "1/3 cup for 1 cup (7/8 cup water)", "Iowa State University Extension"),
    ("cream cheese", "ricotta cheese", "1 cup for 8 oz", "University of Wisconsin-Extension"),
    ("egg", "liquid egg substitute", "1/4 cup for 1 large", "US National Heart"),
    ("egg", "dried whole egg", "2 1/2 tbsp for 1 large (2 1/2 tbsp water)", "Utah State University Extension"),
    ("egg", "ground flaxseed", "1 tbsp for 1 large (3 tbsp warm water", "PowerUp"),
    ("egg", "applesauce", "1/4 cup for 1 large", "PowerUp"),
    ("egg", "mashed banana", "1/2 medium for 1 large", "PowerUp"),
    ("baking powder", "baking soda", "1/4 tsp for 1 tsp (5/8 tsp cream of tartar)", "University of Nebraska-Lincoln"),
    ("cream of tartar", "lemon juice or vinegar", "1 1/2 tsp for 1/2 tsp", "North Dakota State University Extension"),
    ("self-rising flour", "all-purpose flour", "1 cup for 1 cup (1 1/2 tsp baking powder", "Dairy Council"),
    ("cake flour", "all-purpose flour", "7/8 cup for 1 cup (2 tbsp cornstarch", "Utah State University Extension"),
    ("cornstarch", "all-purpose flour", "2 tbsp for 1 tbsp", "North Dakota State University Extension"),
    ("cornstarch", "tapioca pearls", "2 tbsp for 1 tbsp", "Iowa State University Extension"),
    ("all-purpose flour", "cornstarch or arrowroot", "1 1/2 tsp for 1 tbsp (for thickening)", "Dairy Council"),
    ("arrowroot", "all-purpose flour", "1 tbsp for 1 1/2 tsp", "Oklahoma State University Extension"),
    ("butter", "vegetable oil", "1 cup for 1 cup", "Iowa State University Extension"),
    ("butter", "lard", "7/8 cup for 1 cup (1/2 tsp salt)", "Oklahoma State University Extension"),
    ("vegetable oil", "applesauce", "1 cup for 1 cup", "North Dakota Farm Bureau"),
    ("light corn syrup", "light brown sugar", "1 1/4 cup for 1 cup (1/3 cup water)", "Dairy Council"),
    ("chicken broth", "bouillon cube", "1 each for 1 cup (dissolved in", "Oklahoma State University Extension"),
    ("bouillon cube", "soy sauce", "1 tbsp for 1 each", "Michigan State University Extension"),
    ("condensed cream soup", "white sauce", "2 cups for 1 can", "University of New Hampshire Extension"),
    ("garlic", "garlic powder", "1/8 tsp for 1 small clove", "New Mexico State University Extension"),
    ("grated cheddar", "shredded swiss or monterey jack", "1/4 cup for 1/4 cup", "University of New Hampshire"),
    ("ground beef", "ground turkey, chicken, pork or lamb", "1 lb for 1 lb", "Boston Medical Center"),
]


@pytest.mark.parametrize(("item", "instead", "how", "source"), _PRINTED)
def test_a_published_swap_is_offered_as_printed(item: str, instead: str, how: str, source: str) -> None:
    """The row's own amounts, with its publisher, are what is offered."""
    found = [one for one in published_swaps(item) if one.instead == instead and source in (one.source or "")]
    assert [one.how for one in found if one.how and one.how.startswith(how)]


# By FALCPA 2004 and the FASTER Act 2021 (milk, egg, fish, crustacean shellfish, tree nuts, peanut, wheat, soy, sesame)
# and Annex II of Regulation (EU) No 1169/2011 (also other gluten cereals, celery, lupin, molluscs).
_NUTS, _GRAINS = "tree nuts named in both lists", "cereals containing gluten other than wheat (rye, barley, oats)"
_CHANGES = [
    ("butter", "olive oil", (), ("milk",)),
    ("milk", "soy milk", ("soy",), ("milk",)),
    ("milk", "almond milk", (_NUTS,), ("milk",)),
    ("flour", "almond flour", (_NUTS,), ("wheat",)),
    ("flour", "rice flour", (), ("wheat",)),
    ("soy sauce", "fish sauce", ("fish",), ()),
    ("peanut butter", "almond butter", (_NUTS,), ()),
    ("walnuts", "sunflower seeds", (), (_NUTS,)),
    ("cashews", "pumpkin seeds", (), (_NUTS,)),
    ("mayonnaise", "plain yogurt", ("milk",), ("egg",)),
    ("egg", "mashed banana", (), ("egg",)),
    ("cod", "tofu", ("soy",), ()),
    ("shrimp", "cod", ("fish",), ("crustacean shellfish",)),
    ("crab", "tuna", ("fish",), ("crustacean shellfish",)),
    ("shrimp", "scallops", ("molluscs",), ("crustacean shellfish",)),
    ("cream", "coconut milk", (), ("milk",)),
    ("sour cream", "silken tofu", ("soy",), ()),
    ("buttermilk", "oat milk", (_GRAINS,), ("milk",)),
    ("ghee", "coconut oil", (), ("milk",)),
    ("spaghetti", "rice noodles", (), ("wheat",)),
    ("celery", "fennel", (), ("celery",)),
    ("chickpeas", "lupin beans", ("lupin",), ()),
    ("margarine", "butter", ("milk",), ()),
    ("honey", "peanut butter", ("peanut",), ()),
]


@pytest.mark.parametrize(("item", "instead", "comes", "goes"), _CHANGES)
def test_a_familys_swap_says_which_allergen_comes_and_goes(
    item: str, instead: str, comes: tuple[str, ...], goes: tuple[str, ...]
) -> None:
    """In the family's card a swap tells what the published lists surely name; nothing more is told for sure."""
    cards = [
        version(name, [f"200 g {food}", "400 g carrots", "1 kg turnips"], [f"Cook the {food}, carrots and turnips."])
        for name, food in (("Ada", item), ("Bo", item), ("Cleo", instead))
    ]
    choices = Choices(start_from=cards[0].called, swap={thing(instead): cards[2].called})
    (found,) = propose_new("Pot", cards, choices=choices).swaps
    assert (thing(found.swap.item), thing(found.swap.instead)) == (thing(item), thing(instead))
    assert set(comes) <= set(found.swap.brings_in)
    assert set(goes) <= set(found.swap.takes_out)
    surely = {name for name in found.swap.brings_in if not name.endswith("?")}
    assert surely == set(comes)
    if comes:
        assert f"brings in {', '.join(found.swap.brings_in)}" in swap_line(found.swap)


def test_the_table_is_the_published_one() -> None:
    """The rows that are shipped are those of the table beside the project, with source, url and basis."""
    beside = Path(__file__).parents[3] / "shared/tables/substitutions.csv"
    if not beside.exists():
        pytest.skip("the published tables do not lie beside the project")
    with beside.open(encoding="utf-8", newline="") as file:
        assert [dict(row) for row in csv.DictReader(file)] == [dict(row) for row in _ROWS]
    assert all(row["source"] and row["basis"] for row in _ROWS)


def test_every_row_is_offered_under_its_item_with_its_source() -> None:
    """No published swap is lost, none stands without its publisher, and what was only recalled says so."""
    for row in _ROWS:
        found = [one for one in published_swaps(row["item"]) if one.instead == row["instead"]]
        assert any(row["source"] in (one.source or "") for one in found), row["item"]
        if row["basis"] == "memory":
            assert any("from memory" in (one.source or "") for one in found)


def test_allergens_of_published_swaps_agree_with_the_published_lists() -> None:
    """What a row says surely comes in or goes out is what the words of its two things say by the published lists.

    Rows whose allergens come from what is added beside (`extra`) are judged with it. At most 1 in 20 disagree.
    """
    wrong = []
    judged = 0
    for row in _ROWS:
        said_in, said_out = _names(row["introduces_allergen"]), _names(row["removes_allergen"])
        brings, takes = allergen_change(row["item"], row["instead"])
        beside, _ = allergen_change("", row["extra"])
        judged += 1
        surely_in = {name for name in said_in if not name.endswith("?")}
        surely_out = {name for name in said_out if not name.endswith("?")}
        heard_in = {name.rstrip("?") for name in (*brings, *beside)}
        heard_out = {name.rstrip("?") for name in takes}
        if not surely_in <= heard_in or not surely_out <= heard_out:
            wrong.append((row["item"], row["instead"], surely_in - heard_in, surely_out - heard_out))
    assert judged == len(_ROWS)
    assert len(wrong) * 20 <= judged, wrong
