"""Published guidance matched to a card."""

import re

from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Card, Header, Ingredient, Passage, Role, SourceLine
from recipebox.cautions import NOTICE, Caution, cautions_for


def card(title: str, *ingredients: str, steps: tuple[str, ...] = (), tags: tuple[str, ...] = ()) -> Card:
    """A card with its title on line 2, tags on 3, ingredients from 5 and steps from 50."""
    return Card(
        "a.txt",
        title,
        ingredients=tuple(Ingredient(text, line=5 + at, item=text) for at, text in enumerate(ingredients)),
        steps=tuple(Passage(text, 50 + at) for at, text in enumerate(steps)),
        tags=tags,
        headers=(Header("tags", ", ".join(tags), 3),) if tags else (),
        lines=(SourceLine(1, Role.BLANK, 1), SourceLine(2, Role.TITLE, 2)),
    )


def by_rule(found: tuple[Caution, ...]) -> dict[str, Caution]:
    """Cautions by their row."""
    return {caution.rule: caution for caution in found}


def test_a_food_brings_its_temperature_and_the_line_that_called_for_it() -> None:
    """Raw chicken brings the poultry row, word, line and source named."""
    found = by_rule(cautions_for(card("Supper", "salt", "4 chicken thighs")))
    poultry = found["Poultry, all parts (chicken, turkey, duck, goose)"]
    assert "165 °F (74 °C)" in poultry.text
    assert (poultry.line, poultry.words) == (6, "chicken thighs")
    assert poultry.source.startswith("FoodSafety.gov")
    assert poultry.url.startswith("https://")
    assert poultry.basis == "seen"


def test_the_longest_keyword_of_a_line_is_the_food() -> None:
    """Ground turkey is ground poultry, no bird; chicken broth is neither."""
    found = by_rule(cautions_for(card("Supper", "1 lb ground turkey", "2 cups chicken broth")))
    assert "Ground poultry and poultry sausage" in found
    assert not any(rule.startswith("Poultry, all parts") for rule in found)


def test_every_food_of_a_line_is_seen() -> None:
    """A line with two meats brings both rows."""
    found = by_rule(cautions_for(card("Supper", "1 lb pork sausage or ground turkey")))
    assert "Ground poultry and poultry sausage" in found
    assert "Sausage of beef, pork, veal or lamb (raw)" in found


def test_a_casserole_takes_the_highest_temperature() -> None:
    """A steak alone is 145 °F; in a casserole, a hotdish or a bake only the highest figure, 165 °F, is shown."""
    plain = [c.text for c in cautions_for(card("Supper", "1 lb beef, cubed")) if "inside" in c.text]
    assert len(plain) == 1
    assert "145 °F" in plain[0]
    for title in ("Beef casserole", "Uncle's hotdish", "Harbour Leek Bake", "Tuna noodle casserole"):
        shown = [c.text for c in cautions_for(card(title, "1 lb beef, cubed", "3 eggs")) if "inside" in c.text]
        assert shown
        assert all("165 °F" in text for text in shown)


def test_steps_name_no_foods_where_ingredients_do() -> None:
    """ "Mince the garlic" is no minced meat; a card of steps alone is read for its foods."""
    step = ("Mince the garlic and fry it.", "Brown the ground beef.")
    rules = by_rule(cautions_for(card("Supper", "2 cloves garlic", steps=step)))
    assert not any("Ground meat" in rule for rule in rules)
    assert any("Ground meat" in rule for rule in by_rule(cautions_for(card("Supper", steps=step))))


def test_what_is_done_is_read_in_the_steps() -> None:
    """Reheating, microwaving and thawing bring their cautions from the step that says so."""
    found = by_rule(cautions_for(card("Soup", "1 onion", steps=("Chop.", "Reheat in the microwave."))))
    assert found["reheat_165"].line == 51
    assert found["microwave_standing_time"].line == 51


def test_tags_and_titles_count() -> None:
    """ "freezes well" among the tags brings the freezer caution, at the tags' line; the title brings storage times."""
    found = by_rule(cautions_for(card("Chicken soup", "1 onion", tags=("freezes well",))))
    assert found["freezer_quality_vs_safety"].line == 3
    assert found["Soups and stews"].line == 2
    assert "3 to 4 days in the fridge" in found["Soups and stews"].text


def test_what_was_recalled_says_so() -> None:
    """A row known from memory tells the reader to check its source, in its own text."""
    found = by_rule(cautions_for(card("Breakfast strata", "6 eggs")))
    storage = found["Casseroles with eggs, after baking"]
    assert storage.basis == "memory"
    assert "Recalled" in storage.text


def test_each_caution_comes_once() -> None:
    """Three lines with eggs bring one caution about eggs, from the first."""
    found = cautions_for(card("Cake", "3 eggs", "2 egg yolks", "1 egg white"))
    assert len({caution.rule for caution in found}) == len(found)
    assert by_rule(found)["raw_eggs"].line == 5


VERDICT = re.compile(
    r"\b(?:is|are|stays?|be|perfectly|quite|completely) safe\b|\bsafe to (?:eat|keep|serve)\b|\bno risk\b", re.I
)
FOODS = st.sampled_from(
    [
        "chicken",
        "ham",
        "eggs",
        "flour",
        "honey",
        "rice",
        "tuna",
        "frozen shrimp",
        "garlic in oil",
        "leftovers",
        "casserole",
    ]
)


@given(st.lists(FOODS | st.text(max_size=20), max_size=5), st.text(max_size=20) | FOODS)
def test_nothing_is_called_safe_and_everything_has_a_source(foods: list[str], title: str) -> None:
    """Whatever the card, a caution names its source and line, and none says that something is safe."""
    for found in cautions_for(card(title, *foods, steps=tuple(foods))):
        assert found.source
        assert found.words
        assert found.line >= 1
        assert not VERDICT.search(found.text)


def test_silence_is_no_verdict() -> None:
    """A card that matches nothing gives no cautions, and the notice to print says what that means."""
    assert cautions_for(card("Tea", "1 tea leaf")) == ()
    assert "only not been matched" in NOTICE
    assert "official source" in NOTICE
    assert not VERDICT.search(NOTICE)
