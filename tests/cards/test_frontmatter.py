"""Front matter in YAML, TOML and JSON, at whatever depth its lists stand."""

import json
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.reader import read_cards

FLAT = """---
title: Pots
servings: 4
ingredients:
- 200 g mackerel
- 1 tsp horseradish
steps: ["Flake the fish.", 'Beat it with "horseradish".']
---
"""
NESTED = """---
title: Pots
recipe:
  yield: 4 servings
  ingredients:
    - 200 g mackerel
    - 1 tsp horseradish
  instructions:
    - Flake the fish.
    - Beat it with "horseradish".
---
"""
BLOCKS = """---
title: Pots
recipe:
  servings: 4
  ingredients_markdown: |-
    * 200 g mackerel
    * 1 tsp horseradish
  directions_markdown: |-
    1. Flake the fish.
    2. Beat it with "horseradish".
---
"""
FIELDS = """---
title: "Pots"
servings: 4 # or five
ingredients:
  - { qty: 200, unit: g, name: mackerel }
  - name: horseradish
    amount: 1
    unit: tsp
directions:
  - group: All of it
    items:
      - Flake the fish.
      - text: Beat it with "horseradish".
---
"""
TOML = """+++
title = 'Pots'
ingredients = [
  "200 g mackerel", # smoked
  "1 tsp horseradish",
]
steps = ["Flake the fish.", 'Beat it with "horseradish".']
[extra]
servings = "4"
+++
"""
JSON = json.dumps(
    {
        "title": "Pots",
        "servings": 4,
        "recipeIngredient": ["200 g mackerel", "1 tsp horseradish"],
        "recipeInstructions": [{"text": "Flake the fish."}, {"text": 'Beat it with "horseradish".'}],
    },
    indent=2,
)


@pytest.mark.parametrize(
    "text",
    [FLAT, NESTED, BLOCKS, FIELDS, TOML, JSON + "\n", f"---\n{JSON}\n---\n"],
    ids=["flat", "nested", "blocks", "fields", "toml", "bare json", "json"],
)
def test_lists_are_found_in_every_manner(text: str) -> None:
    """Title, servings, ingredients and steps are the same however the block is written."""
    (card,) = read_cards(text.encode(), "a.md")
    assert card.title == "Pots"
    assert card.serves is not None
    assert card.serves.low == 4
    assert [line.text for line in card.ingredients] == ["200 g mackerel", "1 tsp horseradish"]
    assert [step.text for step in card.steps] == ["Flake the fish.", 'Beat it with "horseradish".']


word = st.sampled_from(
    ["flour", "salt", "it's", 'a "good" one', "oil, virgin", "half [a] cup", "50 % rye", "x: y", "é", "#1"]
)
thing = st.lists(word, min_size=1, max_size=4).map(lambda words: "2 cups " + " ".join(words))


@given(st.lists(thing, min_size=1, max_size=6))
def test_json_is_read_as_its_own_reader_reads_it(things: list[str]) -> None:
    """What JSON's own writer writes comes back word for word."""
    text = "---\n" + json.dumps({"title": "Cake", "ingredients": things}, indent=1) + "\n---\n"
    (card,) = read_cards(text.encode(), "a.md")
    assert [line.text for line in card.ingredients] == [plain(each) for each in things]


@given(st.lists(thing, min_size=1, max_size=6), st.booleans())
def test_toml_is_read_as_its_own_reader_reads_it(things: list[str], wide: bool) -> None:
    """An array over one line or several is what TOML's own reader makes of it."""
    joint = ",\n  " if wide else ", "
    block = (
        'title = "Cake"\ningredients = [' + joint.join(json.dumps(each, ensure_ascii=False) for each in things) + "]\n"
    )
    told = tomllib.loads(block)["ingredients"]
    (card,) = read_cards(f"+++\n{block}+++\n".encode(), "a.md")
    assert [line.text for line in card.ingredients] == [plain(each) for each in told]


def plain(words: str) -> str:
    """Words as a card shows them, without a link's brackets or other marks."""
    return " ".join(words.split())
