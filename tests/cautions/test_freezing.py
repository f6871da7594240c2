"""Published guidance for what goes into the freezer."""

from recipebox.cards.model import Card, Ingredient, Pan
from recipebox.cautions import freezing_cautions
from recipebox.tables.load import rows


def test_the_storage_row_and_the_rules_come_with_their_sources() -> None:
    """A casserole gets its row of cold_storage.csv, then cooling, thawing and reheating, each as published."""
    found = freezing_cautions(Card("a.txt", "Quince casserole"))
    foods = {row["food_group"]: row for row in rows("cold_storage")}
    rules = {row["rule_id"]: row for row in rows("kitchen_safety_rules")}
    assert found[0].rule in foods
    assert "months in the freezer" in found[0].text
    for one in found:
        row = foods.get(one.rule) or rules[one.rule]
        assert (one.source, one.url, one.basis) == (row["source"], row["url"], row["basis"])
    assert {"cool_shallow", "thaw_safely", "reheat_165"} <= {one.rule for one in found}


def test_nothing_is_ever_called_safe() -> None:
    """Freezing says how long quality lasts and what to do, never that a dish is safe."""
    for title in ("Fish casserole", "Quince tart", "Soup", "Chicken pie"):
        fish = Ingredient("1 lb cod", 3, item="cod", items=("cod",))
        for one in freezing_cautions(Card("a.txt", title, ingredients=(fish,)), "glass dish"):
            assert "is safe" not in one.text.lower()
            assert "stays safe" not in one.text.lower()


def test_what_no_row_names_is_kept_as_leftovers_are() -> None:
    """A dish that the table does not name goes by the row for leftovers."""
    assert freezing_cautions(Card("a.txt", "Quince surprise"))[0].rule.startswith("Leftover")


def test_glass_gets_its_own_line() -> None:
    """Consumer Reports on glass between freezer and oven, for the card's pan or the one asked for."""
    assert "glass_thermal_shock" not in {one.rule for one in freezing_cautions(Card("a.txt", "Soup"))}
    assert "glass_thermal_shock" in {one.rule for one in freezing_cautions(Card("a.txt", "Soup"), "8x8 glass")}
    glass = Card("a.txt", "Soup", pan=Pan("2 quart glass dish"))
    assert "glass_thermal_shock" in {one.rule for one in freezing_cautions(glass)}
