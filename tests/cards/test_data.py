"""Cards as JSON and back."""

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from recipebox.cards.data import card_data, card_from_data, ingredient_data, ingredient_from_data
from recipebox.cards.model import (
    Alternative,
    Amount,
    Bake,
    Card,
    Entry,
    Heat,
    Ingredient,
    Makes,
    Measure,
    Minutes,
    Pan,
    Passage,
    SomeAdd,
    Swap,
    Trouble,
    Variation,
    VersionLine,
    Wording,
)  # fmt: skip
from recipebox.cards.reader import read_cards

SCHEMA = Path(__file__).parents[2] / "schema"
SAMPLE = Path(__file__).parents[2] / "sample_box"


def validator(name: str) -> Draft202012Validator:
    """A validator for one of our schemas, which may name the others."""
    contents = {path.name: json.loads(path.read_text("utf-8")) for path in SCHEMA.glob("*.schema.json")}
    registry: Registry[Any] = Registry().with_resources(
        (key, Resource.from_contents(value)) for key, value in contents.items()
    )
    return Draft202012Validator(contents[name], registry=registry)


words = st.text(st.characters(blacklist_categories=["Cs"]), max_size=8)
maybe_words = st.none() | words
lines = st.integers(1, 999)
numbers = st.fractions(0, 1000, max_denominator=16)
amounts = st.builds(Amount, numbers, numbers)
maybe_amount = st.none() | amounts
measures = st.builds(Measure, amounts, maybe_words)


def few(values: st.SearchStrategy[Any], most: int = 2) -> st.SearchStrategy[tuple[Any, ...]]:
    """A tuple of none to `most` of these."""
    return st.lists(values, max_size=most).map(tuple)


names = few(words)
ingredients = st.builds(
    Ingredient,
    text=words,
    line=lines,
    kind=st.sampled_from(["ingredient", "heading", "text"]),
    group=maybe_words,
    amount=maybe_amount,
    unit=maybe_words,
    container=st.none() | measures,
    plus=few(measures),
    also=few(measures),
    how=maybe_words,
    item=words,
    items=names,
    preparation=maybe_words,
    purpose=maybe_words,
    optional=st.booleans(),
    remark=maybe_words,
    unsure=names,
    instead=few(few(st.builds(Alternative, maybe_amount, maybe_words, words))),
)
heats = st.builds(Heat, st.sampled_from(["F", "C", "gas", "words"]), maybe_amount, st.booleans(), maybe_words)
shapes = st.sampled_from([None, "rectangle", "round", "loaf", "tube", "muffin"])
volumes = st.none() | measures
pans = st.builds(Pan, words, st.integers(1, 24), shapes, few(numbers), st.none() | numbers, maybe_words, volumes)
entries = few(st.builds(Entry, words, few(st.builds(Wording, words, st.booleans()), 3)))
passages = few(st.builds(Passage, words, lines))
cards = st.builds(
    Card,
    path=words,
    title=words,
    part=st.integers(1, 3),
    kind=st.sampled_from(["version", "family"]),
    sender=maybe_words,
    serves=maybe_amount,
    makes=st.none() | st.builds(Makes, numbers, numbers, words),
    pan=st.none() | pans,
    oven=few(st.builds(Bake, words, lines, few(heats), maybe_amount)),
    minutes=st.builds(Minutes, maybe_amount, maybe_amount, maybe_amount),
    tags=names,
    measures=maybe_words,
    ingredients=few(ingredients),
    steps=passages,
    notes=passages,
    some_add=few(st.builds(SomeAdd, ingredients, names), 1),
    variations=few(st.builds(Variation, words, few(ingredients)), 1),
    swaps=few(st.builds(Swap, words, words, maybe_words, maybe_words, maybe_words, maybe_words, names, names)),
    undecided=entries,
    settled=entries,
    versions=few(st.builds(VersionLine, words, words, numbers, st.booleans())),
    trouble=few(st.builds(Trouble, lines, words), 1),
)
VALID = validator("card.schema.json")


@given(cards)
def test_a_card_comes_back_from_json_whole(card: Card) -> None:
    """Out as JSON text and in again, a card is the same: every field that JSON carries, exact to the fraction."""
    assert card_from_data(json.loads(json.dumps(card_data(card)))) == card


@given(ingredients)
def test_an_ingredient_comes_back_from_json_whole(ingredient: Ingredient) -> None:
    """Out as JSON text and in again, an ingredient line is the same."""
    assert ingredient_from_data(json.loads(json.dumps(ingredient_data(ingredient)))) == ingredient


@given(cards)
def test_every_card_fits_its_schema(card: Card) -> None:
    """Whatever a card holds, its JSON validates against schema/card.schema.json."""
    VALID.validate(card_data(card))


def test_the_schemas_are_schemas() -> None:
    """Each schema is itself valid JSON Schema 2020-12."""
    for path in (SCHEMA / "card.schema.json", SCHEMA / "ingredient.schema.json"):
        Draft202012Validator.check_schema(json.loads(path.read_text("utf-8")))


def test_a_float_or_a_missing_key_does_not_fit() -> None:
    """The schema says no to an amount as a float and to a card without its steps."""
    card = Card("a.md", "A", serves=Amount(Fraction(4), Fraction(4)))
    data = card_data(card)
    data["serves"] = {"low": 4.0, "high": 4.0}
    assert not VALID.is_valid(data)
    data = card_data(card)
    del data["steps"]
    assert not VALID.is_valid(data)


@pytest.mark.skipif(not any(SAMPLE.rglob("*.md")), reason="sample_box is empty")
def test_every_sample_card_fits_and_comes_back() -> None:
    """All cards of sample_box validate and survive JSON out and in."""
    count = 0
    for path in sorted(SAMPLE.rglob("*")):
        if path.suffix not in (".md", ".txt") or path.name.startswith(("on-hand", "dishes")) or "as-sent" in path.parts:
            continue
        for card in read_cards(path.read_bytes(), path.relative_to(SAMPLE).as_posix()):
            data = json.loads(json.dumps(card_data(card)))
            VALID.validate(data)
            assert card_data(card_from_data(data)) == data
            count += 1
    assert count > 20
