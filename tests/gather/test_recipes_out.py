"""Cards as schema.org JSON-LD: a strict reader of JSON-LD accepts it, and it reads back to the same card."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card
from recipebox.cards.reader import read_text
from recipebox.cards.text import Text, decode
from recipebox.gather.durations import read_duration
from recipebox.gather.forms import Form
from recipebox.gather.recipes_in import read_json
from recipebox.gather.recipes_out import recipes_data
from recipebox.gather.sent import Sent, of_pieces


def sense(card: Card) -> dict[str, object]:
    """What must come back: words and exact numbers; notes and ingredients in any order of groups."""
    return {
        "title": card.title,
        "from": card.sender,
        "ingredients": sorted(((i.group or "").rstrip(": "), i.text) for i in card.ingredients),
        "steps": [step.text for step in card.steps],
        "serves": card.serves,
        "makes": card.makes,
        "minutes": card.minutes,
        "tags": card.tags,
        "pan": card.pan.text if card.pan else None,
        "notes": sorted(note.text for note in card.notes),
    }


def there_and_back(cards: list[tuple[Card, Text]]) -> list[Card]:
    """Cards written as JSON and read from it."""
    words = json.dumps(recipes_data(cards), ensure_ascii=False)
    found = of_pieces(read_json(words.encode()), "out.json", Form.JSON)
    return [card for card, _ in Sent("out.json", b"", tuple(found)).cards()]


def versions(root: Path) -> list[tuple[str, Card, Text]]:
    """Every card of a folder with its text."""
    found = []
    for file in sorted(root.rglob("*")):
        path = file.relative_to(root).as_posix()
        if file.is_file() and could_be_card(path):
            text = decode(file.read_bytes())
            try:
                found += [(path, card, text) for card in read_text(text, path)]
            except NotACardError:
                continue
    return found


def test_every_card_of_the_sample_box_comes_back(sample_box: Path) -> None:
    """Cards by many hands, out and in again, say the same."""
    cards = versions(sample_box)
    assert len(cards) > 50
    for path, card, text in cards:
        (again,) = there_and_back([(card, text)])
        assert sense(again) == sense(card), path


_LINES = st.sampled_from(
    ["1 1/2 lb white fish, in chunks", "1 can (14.5 oz) chopped tomatoes, drained", "salt and pepper", "2-3 leeks",
     "butter, for greasing", "1 tsp salt, or more to taste", "½ cup cream & milk", "100 g cheese"])  # fmt: skip
_STEPS = st.sampled_from(
    ["Mix the fish and the crumbs.", "Bake at 425 F (220 C) for 25 minutes.", "Stir; season & serve.",
     "Fry the leeks until soft, about 10 minutes.", "Cool < 1 hour."])  # fmt: skip
_HEADERS = st.fixed_dictionaries(
    {},
    optional={
        "from": st.sampled_from(["Ines", "Aunt Maeve & Rui"]),
        "serves": st.sampled_from(["6", "6 to 8", "4-6"]),
        "makes": st.sampled_from(["2 loaves", "24 biscuits"]),
        "pan": st.sampled_from(["9 x 13", "20 cm round"]),
        "oven": st.sampled_from(["425 F (220 C), 25 minutes", "180 C fan"]),
        "time": st.sampled_from(["20 minutes", "1 h 30 min", "10 minutes to prepare, 20-25 minutes to cook"]),
        "tags": st.sampled_from(["casserole, freezes well", "bread"]),
        "came": st.sampled_from(["2025-04-20, letter.txt (plain text)"]),
    },
)
_NOTES = st.lists(
    st.sampled_from(["Easter 2025, Brigid: too salty", "Keeps for a week.", "Better with <fresh> herbs & lemon."]),
    max_size=2, unique=True,
)  # fmt: skip


@st.composite
def texts(draw: st.DrawFn) -> str:
    """A card in the shape that the tool writes, with groups among its ingredients or steps."""
    lines = ["Harbour Fish Bake", *(f"{name}: {value}" for name, value in draw(_HEADERS).items()), "", "Ingredients"]
    lines += [f"  {line}" for line in draw(st.lists(_LINES, min_size=1, max_size=4))]
    if draw(st.booleans()):
        lines += ["Topping", *(f"  {line}" for line in draw(st.lists(_LINES, min_size=1, max_size=3)))]
    steps = draw(st.lists(_STEPS, min_size=1, max_size=4))
    lines += ["", "Method", *(f"  {number}. {step}" for number, step in enumerate(steps, 1))]
    notes = draw(_NOTES)
    if notes:
        lines += ["", "Notes", *"\n\n".join(f"  {note}" for note in notes).split("\n")]
    return "\n".join(lines) + "\n"


@given(texts())
def test_a_card_reads_back_the_same(words: str) -> None:
    """Title, sender, ingredients, steps, serves, makes, minutes, tags, pan and notes come back as they were."""
    text = decode(words.encode())
    (card,) = read_text(text, "card.txt")
    (again,) = there_and_back([(card, text)])
    assert sense(again) == sense(card)


@settings(max_examples=settings().max_examples // 4)
@given(st.lists(texts(), min_size=2, max_size=3))
def test_several_cards_read_back_in_order(many: list[str]) -> None:
    """Several cards go into one document and come back as several, in order."""
    cards = [(read_text(decode(words.encode()), "card.txt")[0], decode(words.encode())) for words in many]
    assert [sense(card) for card in there_and_back(cards)] == [sense(card) for card, _ in cards]


def test_steps_under_headings_are_sections() -> None:
    """A heading over steps becomes a HowToSection, and a heading again on the way back."""
    words = (
        "# Pie\n\n## Ingredients\n\n- 2 apples\n\n## Method\n\n### Filling\n\n1. Peel them.\n\n### Oven\n\n2. Bake.\n"
    )
    text = decode(words.encode())
    (card,) = read_text(text, "pie.md")
    data = recipes_data([(card, text)])
    assert [(one["@type"], one["name"]) for one in data["recipeInstructions"]] == [
        ("HowToSection", "Filling"),
        ("HowToSection", "Oven"),
    ]
    (piece,) = read_json(json.dumps(data).encode())
    assert [line for line in piece.text.splitlines() if line.startswith("###")] == ["### Filling", "### Oven"]


def _allowed(node: Any) -> None:
    """schema.org/Recipe as published: each property used, and the kind of value it has."""
    kinds: dict[str, type | tuple[type, ...]] = {
        "@context": str, "@type": str, "name": str, "author": dict, "description": str, "recipeYield": (str, list),
        "prepTime": str, "cookTime": str, "totalTime": str, "keywords": str, "recipeIngredient": list,
        "recipeInstructions": list,
    }  # fmt: skip
    assert node["@type"] == "Recipe"
    for key, value in node.items():
        assert isinstance(value, kinds[key]), key
    assert all(isinstance(line, str) and line for line in node["recipeIngredient"])
    assert all(read_duration(node[key]) for key in ("prepTime", "cookTime", "totalTime") if key in node)
    for step in node["recipeInstructions"]:
        assert step["@type"] in ("HowToStep", "HowToSection")
        inner = step["itemListElement"] if step["@type"] == "HowToSection" else [step]
        assert all(one["@type"] == "HowToStep" and one["text"] for one in inner)


def test_what_is_written_uses_schema_org_s_own_properties(sample_box: Path) -> None:
    """Only properties that schema.org gives a Recipe (from memory) stand in it, with values of their kinds."""
    for _, card, text in versions(sample_box):
        _allowed(recipes_data([(card, text)]))


def test_a_strict_json_ld_reader_accepts_it(sample_box: Path) -> None:
    """Expanded by PyLD (JSON-LD 1.1 API, W3C), every key is a schema.org address and no value is lost."""
    jsonld = pytest.importorskip("pyld.jsonld", reason="PyLD is not installed")

    def context(url: str, options: object) -> dict[str, Any]:
        assert url.rstrip("/") == "https://schema.org"
        # What schema.org's context says of these properties: each name is an address below https://schema.org/.
        document = {"@context": {"@vocab": "http://schema.org/"}}
        return {"contentType": "application/ld+json", "contextUrl": None, "documentUrl": url, "document": document}

    for _, card, text in versions(sample_box)[:25]:
        data = recipes_data([(card, text)])
        (node,) = jsonld.expand(data, {"documentLoader": context, "processingMode": "json-ld-1.1"})
        assert node["@type"] == ["http://schema.org/Recipe"]
        keys = {key for key in data if not key.startswith("@")}
        assert {key for key in node if key != "@type"} == {f"http://schema.org/{key}" for key in keys if data[key]} | {
            f"http://schema.org/{key}" for key in keys if data[key] == []
        }
        lines = [value["@value"] for value in node["http://schema.org/recipeIngredient"]]
        assert lines == data["recipeIngredient"]
        words = json.dumps(node, ensure_ascii=False)
        assert all(re.sub(r'["\\]', "", step.text)[:20] in re.sub(r'["\\]', "", words) for step in card.steps)
