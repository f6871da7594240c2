"""A card laid out from nothing reads back to the same data."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.data import card_data
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Card, Entry, Passage, SomeAdd, Swap, Variation, VersionLine, Wording
from recipebox.cards.reader import read_cards
from recipebox.cards.shape import lay_out
from tests.sample import cards_but_mail

PATH = "family/harbour-bake.txt"


def data(card: Card) -> Any:
    """A card's data without line numbers and trouble."""
    return _bare(card_data(card))


def _bare(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _bare(v) for key, v in value.items() if key not in ("line", "trouble", "part")}
    return [_bare(v) for v in value] if isinstance(value, list) else value


def test_every_card_of_the_sample_box_keeps_its_data(sample_box: Path) -> None:
    """Whatever a card looked like, laid out in the family's shape it says the same."""
    seen = 0
    for path, card in cards_but_mail(sample_box):
        (again,) = read_cards(lay_out(card), path)
        assert data(again) == data(card), path
        assert lay_out(again) == lay_out(card)
        seen += 1
    assert seen > 20


_LINES = st.sampled_from(["1 1/2 lb white fish, in chunks", "1 can (14.5 oz) chopped tomatoes", "2 cups bread crumbs",
                          "1 tsp salt, or more to taste", "2-3 leeks", "butter, for greasing"])  # fmt: skip
_WORDS = st.sampled_from(["Mix the fish and the crumbs.", "Bake until brown.", "Stir well and serve."])
_NAMES = st.sampled_from(["Tomasz", "Ines", "Brigid 2"])
_SWAPS = st.builds(
    Swap,
    st.sampled_from(["leeks", "buttermilk"]),
    st.sampled_from(["onions", "milk and lemon juice"]),
    st.sampled_from([None, "half the weight"]),
    st.none() | _NAMES,
    st.none(),
    st.sampled_from([None, "sweeter"]),
    st.sampled_from([(), ("milk",), ("milk", "egg")]),
    st.sampled_from([(), ("wheat",)]),
)
_WORDINGS = st.lists(st.builds(Wording, _LINES, st.booleans()), min_size=2, max_size=3, unique_by=lambda w: w.text)
_VERSIONS = st.builds(
    VersionLine, _NAMES, st.sampled_from(["a.txt", "b/c d.md", "x.txt#2"]),
    st.sampled_from([Fraction(1), Fraction(2), Fraction(1, 2), Fraction(3, 2), Fraction(5)]), st.booleans(),
)  # fmt: skip


@st.composite
def family_cards(draw: st.DrawFn) -> Card:
    """A family recipe with any of its sections."""
    entries = [
        Entry("hard cheese", tuple(sorted(w, key=lambda w: w.text))) for w in draw(st.lists(_WORDINGS, max_size=1))
    ]
    settled = [e for e in entries if sum(w.chosen for w in e.wordings) == 1]
    groups = [None, "Topping"]
    ingredients = [
        read_ingredient(text, group=group)
        for group in groups
        for text in draw(st.lists(_LINES, min_size=1, max_size=3))
    ]
    some = st.builds(
        SomeAdd, _LINES.map(read_ingredient), st.lists(_NAMES, min_size=1, max_size=2, unique=True).map(tuple)
    )
    lists = st.lists(_LINES.map(read_ingredient), min_size=1, max_size=2).map(tuple)
    return Card(
        path=PATH,
        title="Harbour Bake",
        kind="family",
        serves=draw(st.sampled_from([None, read_ingredient("6 people").amount, read_ingredient("6-8 people").amount])),
        tags=tuple(draw(st.lists(st.sampled_from(["casserole", "freezes well"]), unique=True))),
        ingredients=tuple(ingredients),
        steps=tuple(Passage(text, 1) for text in draw(st.lists(_WORDS, min_size=1, max_size=3))),
        notes=tuple(Passage(text, 1) for text in draw(st.lists(_WORDS, max_size=2))),
        some_add=tuple(draw(st.lists(some, max_size=2))),
        variations=tuple(draw(st.lists(st.builds(Variation, st.just("Tomasz: flour, milk"), lists), max_size=2))),
        swaps=tuple(draw(st.lists(_SWAPS, max_size=2))),
        undecided=tuple(e for e in entries if e not in settled),
        settled=tuple(settled),
        versions=tuple(draw(st.lists(_VERSIONS, min_size=1, max_size=3))),
    )


@given(family_cards())
def test_a_family_recipe_reads_back(card: Card) -> None:
    """Headers, groups, method and every kept section come back as they went in."""
    (again,) = read_cards(lay_out(card), PATH)
    assert data(again) == data(card)


def test_the_shape_of_the_page() -> None:
    """The text stands as the page on cards shows it."""
    card = Card(
        path=PATH,
        title="Harbour Bake",
        kind="family",
        serves=read_ingredient("6 people").amount,
        ingredients=(read_ingredient("1 lb fish"), read_ingredient("2 cups bread crumbs", group="Topping")),
        steps=(Passage("Mix.", 1), Passage("Bake.", 2)),
        swaps=(Swap("leeks", "onions", "half the weight", "Tomasz", None, "sweeter", ("milk",)),),
        versions=(VersionLine("Brigid", "versions/b.txt", Fraction(2)), VersionLine("Ines", "i.txt", gone=True)),
    )
    assert lay_out(card).decode() == (
        "Harbour Bake\nserves: 6\n\nIngredients\n  1 lb fish\nTopping\n  2 cups bread crumbs\n\n"
        "Method\n  1. Mix.\n  2. Bake.\n\n"
        "Swaps\n  leeks -> onions, half the weight | Tomasz | sweeter; brings in milk; read the label\n\n"
        "Versions\n  Brigid: versions/b.txt | double batch\n  Ines: i.txt | gone\n"
    )
    assert b"Topping" not in lay_out(replace(card, ingredients=card.ingredients[:1]))
