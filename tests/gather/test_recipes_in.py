"""schema.org/Recipe in the many shapes that files and pages give it."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.cards.wordlists import listed
from recipebox.gather.forms import Form
from recipebox.gather.piece import GatherError
from recipebox.gather.recipes_in import read_json
from recipebox.gather.sent import of_pieces

BASE = {"@type": "Recipe", "name": "Bread", "recipeIngredient": ["500 g flour", "7 g yeast"]}


def cards(data: Any) -> list[Card]:
    """The cards of a JSON file."""
    found = of_pieces(read_json(json.dumps(data).encode()), "recipes.json", Form.JSON)
    return [one.card for one in found if one.card is not None]


@pytest.mark.parametrize(
    "data",
    [
        BASE,
        [BASE],
        {"@graph": [{"@type": "WebSite"}, BASE]},
        {"@type": "WebPage", "mainEntity": {"@type": "ItemList", "itemListElement": [{"item": BASE}]}},
        {**BASE, "@type": ["Recipe", "Thing"]},
        {**BASE, "@type": "https://schema.org/Recipe"},
        {**BASE, "@type": "schema:Recipe"},
    ],
)
def test_a_recipe_is_found_wherever_it_is_nested(data: Any) -> None:
    """Single, in a list, in @graph, nested, with a short or a whole type."""
    (card,) = cards(data)
    assert card.title == "Bread"
    assert [i.text for i in card.ingredients] == BASE["recipeIngredient"]


@pytest.mark.parametrize(
    "instructions",
    [
        "Mix.\nBake.",
        "<p>Mix.</p><p>Bake.</p>",
        "<ol><li>Mix.</li><li>Bake.</li></ol>",
        "1. Mix.\n2. Bake.",
        ["Mix.", "Bake."],
        [{"@type": "HowToStep", "text": "Mix."}, {"@type": "HowToStep", "text": "Bake."}],
        [{"@type": "HowToStep", "name": "Step 1", "text": "Mix."}, {"@type": "HowToStep", "name": "Bake."}],
        {"@type": "ItemList", "itemListElement": ["Mix.", "Bake."]},
        [{"@type": "HowToSection", "name": "All", "itemListElement": [{"@type": "HowToStep", "text": "Mix."},
                                                                      {"@type": "HowToStep", "text": "Bake."}]}],
        [{"@type": "HowToStep", "itemListElement": {"@type": "HowToDirection", "text": "Mix."}}, "Bake."],
        [{"@type": "ListItem", "item": {"@type": "HowToStep", "text": "Mix."}}, {"item": {"text": "Bake."}}],
    ],
)  # fmt: skip
def test_instructions_in_every_allowed_shape_give_the_same_steps(instructions: Any) -> None:
    """Text, HTML, lists, HowToStep, HowToSection, ItemList and directions: two steps each time."""
    (card,) = cards({**BASE, "recipeInstructions": instructions})
    assert [step.text for step in card.steps] == ["Mix.", "Bake."]


@pytest.mark.parametrize(
    ("given_yield", "serves", "makes"),
    [
        (6, 6, None),
        ("6", 6, None),
        ("6 servings", 6, None),
        ("Serves 6", 6, None),
        ("4 to 6 portions", 4, None),
        ("2 loaves", None, (2, "loaves")),
        ("Makes 24 cookies", None, (24, "cookies")),
        (["2", "2 loaves"], 2, (2, "loaves")),
        ({"@type": "QuantitativeValue", "value": 12, "unitText": "muffins"}, None, (12, "muffins")),
        ("plenty", None, None),
    ],
)
def test_yields_are_people_or_things(given_yield: Any, serves: int | None, makes: tuple[int, str] | None) -> None:
    """recipeYield gives serves, makes or both; words that are neither stay as a note."""
    (card,) = cards({**BASE, "recipeYield": given_yield})
    assert (card.serves and card.serves.low) == serves
    assert (card.makes and (card.makes.low, card.makes.what)) == makes
    assert (serves, makes) != (None, None) or any("plenty" in note.text for note in card.notes)


def test_ingredients_in_fields_become_lines() -> None:
    """Quantities and names in fields are one line each; an entry with a colon heads a group."""
    given_lines = [
        "250 g flour",
        {"@type": "HowToSupply", "name": "sugar", "requiredQuantity": {"value": "50", "unitText": "g"}},
        "For the glaze:",
        "1 egg",
    ]
    (card,) = cards({**BASE, "recipeIngredient": given_lines})
    assert [(i.group, i.text) for i in card.ingredients] == [
        (None, "250 g flour"),
        (None, "50 g sugar"),
        ("For the glaze", "1 egg"),
    ]


def test_nothing_said_about_the_dish_is_dropped() -> None:
    """Properties that a card has no place for stand in its notes, nested ones under both names."""
    more = {
        "suitableForDiet": "https://schema.org/VeganDiet",
        "cookingMethod": "baking",
        "nutrition": {"@type": "NutritionInformation", "calories": "240 kcal", "fatContent": "3 g"},
        "comment": [{"@type": "Comment", "text": "Less salt!", "author": {"name": "Maeve"}}],
        "prepTime": "a good hour",
        "tool": [{"@type": "HowToTool", "name": "stone"}],
        "video": {"@type": "VideoObject", "name": "How to knead"},
    }
    (card,) = cards({**BASE, **more})
    told = " | ".join(note.text for note in card.notes)
    for words in ("VeganDiet", "baking", "240 kcal", "3 g", "Less salt!", "Maeve", "a good hour", "stone", "knead"):
        assert words in told


def test_several_recipes_are_several_cards() -> None:
    """Each Recipe node is a card of its own."""
    assert [card.title for card in cards([BASE, {**BASE, "name": "Cake"}])] == ["Bread", "Cake"]


@pytest.mark.parametrize(
    "data", [b"", b"{", b"[1, 2]", b'{"@type": "Person", "name": "x"}', b"null", b"\0", b"[" * 10_000 + b"]" * 10_000]
)
def test_what_holds_no_recipe_is_refused_in_one_line(data: bytes) -> None:
    """No JSON, other JSON, and nesting ten thousand deep."""
    with pytest.raises(GatherError) as error:
        read_json(data)
    assert "\n" not in str(error.value)


_KEYS = st.sampled_from(
    sorted(
        listed(
            """@type @id @value name text author recipeYield prepTime recipeIngredient recipeInstructions keywords
            description itemListElement item nutrition image value unitText minValue"""
        )
    )
)
_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False)
    | st.text(max_size=20)
    | st.just("HowToSection"),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(_KEYS, inner, max_size=4),
    max_leaves=12,
)


@given(st.dictionaries(_KEYS, _VALUES, max_size=8))
def test_no_shape_breaks_the_reading(node: dict[str, Any]) -> None:
    """Whatever a Recipe node holds, it gives a card's text."""
    (piece,) = read_json(json.dumps({**node, "@type": "Recipe"}).encode())
    assert piece.text.strip()
