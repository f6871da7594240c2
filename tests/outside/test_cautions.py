"""Cautions against the published guidance itself, and allergens against the swaps' own columns."""

import pytest

from recipebox.cards.model import Card, Ingredient
from recipebox.cautions import allergen_change, allergens, cautions_for
from recipebox.tables.load import rows

# FoodSafety.gov and USDA FSIS, Safe Minimum Internal Temperature Chart: food, degrees Fahrenheit.
CHART = [
    ("1 lb ground beef", 160),
    ("1 lb minced lamb", 160),
    ("1 lb ground turkey", 165),
    ("1 whole chicken", 165),
    ("2 duck breasts", 165),
    ("4 lamb chops", 145),
    ("1 beef roast", 145),
    ("6 pork chops", 145),
    ("1 fresh ham", 145),
    ("2 cups cooked ham", 165),
    ("1 lb salmon", 145),
    ("1 lb shrimp", 145),
    ("3 eggs", 160),
    ("2 cups leftover turkey", 165),
    ("1 lb venison", 160),
]


def degrees(card: Card) -> set[str]:
    """The figures a card's temperature cautions tell."""
    groups = {row["food_group"]: row["min_internal_F"] for row in rows("safe_temperatures")}
    return {groups[found.rule] for found in cautions_for(card) if found.rule in groups}


@pytest.mark.parametrize(("text", "fahrenheit"), CHART)
def test_safe_minimum_temperature_chart(text: str, fahrenheit: int) -> None:
    """A food of the chart brings the chart's figure and no other."""
    assert degrees(Card("a.txt", "Supper", ingredients=(Ingredient(text, line=3),))) == {str(fahrenheit)}


@pytest.mark.parametrize(("text", "fahrenheit"), CHART)
def test_chart_casseroles(text: str, fahrenheit: int) -> None:
    """FoodSafety.gov: casseroles, meat and meatless, 165 °F, whatever is in them."""
    assert fahrenheit <= 165
    assert degrees(Card("a.txt", "Sunday casserole", ingredients=(Ingredient(text, line=3),))) == {"165"}


KEYWORDS = [
    (table, key, row[key], keyword.strip())
    for table, key in (("safe_temperatures", "food_group"), ("kitchen_safety_rules", "rule_id"))
    for row in rows(table)
    for keyword in row["keywords"].split(";")
]


def test_every_published_keyword_is_found() -> None:
    """A keyword standing alone on a card brings some row of its own table, and its own kitchen rule."""
    missed = []
    for table, _, rule, keyword in KEYWORDS:
        card = Card("a.txt", "x", ingredients=(Ingredient(keyword, line=4),))
        found = {caution.rule for caution in cautions_for(card)}
        groups = {row["food_group"] for row in rows("safe_temperatures")}
        if (rule not in found) if table == "kitchen_safety_rules" else not found & groups:
            missed.append((rule, keyword))
    assert not missed


def test_no_masked_word_brings_its_row() -> None:
    """A word that a row says is something else does not bring that row (unless it holds a published keyword too)."""
    wrong = []
    for row in rows("kitchen_safety_rules"):
        for word in filter(None, row["not_keywords"].split(";")):
            card = Card("a.txt", "x", ingredients=(Ingredient(word.strip(), line=4),))
            if row["rule_id"] in {caution.rule for caution in cautions_for(card)}:
                wrong.append((row["rule_id"], word))
    assert not wrong


def test_allergen_keywords_are_found() -> None:
    """Each keyword of FALCPA, FASTER Act and Annex II rows brings its allergen, surely or as may be."""
    missed = [
        (row["allergen"], keyword)
        for row in rows("major_allergens")
        for keyword in row["keywords"].split(";")
        if not {row["allergen"], row["allergen"] + "?"} & set(allergens(keyword))
    ]
    assert not missed


def test_allergen_masks_hold() -> None:
    """What a row says is not its food does not bring that row's allergen."""
    wrong = [
        (row["allergen"], word)
        for row in rows("major_allergens")
        for word in filter(None, row["not_keywords"].split(";"))
        if {row["allergen"], row["allergen"] + "?"} & set(allergens(word))
    ]
    assert not wrong


def test_swaps_change_what_their_table_reasons() -> None:
    """At least 9 in 10 allergens that substitutions.csv says a swap surely brings in or takes out are found by words.

    Only US names are in those columns; the rest hang on words of a swap's extra column. What an item only may hold
    ("noodles" and egg) is never said to be taken out, whatever the table reasons, and so is not counted.
    """
    told = found = 0
    for row in rows("substitutions"):
        brings, takes = allergen_change(row["item"], row["instead"])
        surely = [name for name in row["removes_allergen"].split(";") if name in allergens(row["item"])]
        for names, ours in ((row["introduces_allergen"].split(";"), brings), (surely, takes)):
            for name in filter(None, names):
                if not name.endswith("?"):
                    told += 1
                    found += any(one.removesuffix("?") == name for one in ours)
    assert told > 30
    assert found * 10 >= told * 9
