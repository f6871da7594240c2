"""A family that bakes: flour, liquid, leavening, egg, sugar and fat come whole from one version."""

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.cards.things import thing
from recipebox.family import Choices, propose_new
from recipebox.family.binding import bound
from tests.family.making import version

_MIX = "Mix the dry things, beat the rest, and stir the bananas in."
_BREADS = {
    "Ada": ["250 g flour", "2 tsp baking powder", "2 eggs", "150 ml milk", "120 g sugar", "90 g butter"],
    "Bo": [
        "1 1/2 cups wholemeal flour",
        "1 tsp baking soda",
        "1 egg",
        "1/2 cup buttermilk",
        "1/3 cup honey",
        "1/4 cup oil",
    ],
    "Cleo": ["Dry:", "200 g self-raising flour", "100 g brown sugar", "Wet:", "3 eggs", "100 g melted butter"],
    "Dov": [
        "2 cups oat flour",
        "1 1/2 tsp baking powder",
        "1/2 tsp baking soda",
        "2 eggs",
        "1/2 cup yogurt",
        "1/2 cup sugar",
        "1/3 cup oil",
    ],
}
_REST = ["3 ripe bananas, mashed", "60 g walnuts, chopped"]


def _bread(name: str, batter: Sequence[str]) -> Card:
    steps = [_MIX, "Fold in the walnuts.", f"Bake in the tin until done, as {name} does."]
    return version(name, [*batter, *_REST], steps, serves=None, title="Banana Bread")


BREADS = [_bread(name, batter) for name, batter in _BREADS.items()]


@pytest.mark.parametrize("base", [None, *(card.called for card in BREADS)])
def test_four_banana_breads_never_mix_their_batters(base: str | None) -> None:
    """Whoever's the base is, the batter is one cook's, each other's stands whole under Variations, none is lost."""
    proposal = propose_new("Banana Bread", BREADS, choices=Choices(start_from=base))
    assert base in (None, proposal.base)
    whose = {card.called: [line.text for line in bound(card)] for card in BREADS}
    listed = [line.text for line in proposal.card.ingredients]
    assert [text for text in listed if text in whose[proposal.base]] == whose[proposal.base]
    assert [text for text in listed if text not in whose[proposal.base]] == _REST
    for card in BREADS:
        if card.called == proposal.base:
            continue
        (varied,) = [one for one, paths in proposal.variations if paths == (card.called,)]
        assert [thing(line.item) for line in varied.ingredients] == [thing(line.item) for line in bound(card)]
        gone = {one.source.text: one.where for one in proposal.not_taken if one.source.path == card.called}
        assert {gone[text] for text in whose[card.called]} == {"variation"}
    assert proposal.some_add == ()


@pytest.mark.parametrize(("item", "name"), [("flour", "Bo"), ("eggs", "Cleo"), ("baking powder", "Dov")])
def test_taking_one_of_a_batter_takes_it_whole(item: str, name: str) -> None:
    """`--take "flour=Bo"` brings all of Bo's batter, and the base's own stands as a variation."""
    taken = next(card for card in BREADS if card.name == name)
    choices = Choices(start_from=BREADS[0].called, take={item: taken.called})
    proposal = propose_new("Banana Bread", BREADS, choices=choices)
    listed = [thing(line.item) for line in proposal.card.ingredients]
    assert listed[: len(bound(taken))] == [thing(line.item) for line in bound(taken)]
    assert any(paths == (BREADS[0].called,) for _, paths in proposal.variations)


_PARTS = {
    "flour": ("flour", "whole wheat flour", "rye flour"),
    "leavening": ("baking powder", "baking soda", "yeast"),
    "liquid": ("milk", "water", "buttermilk"),
    "sugar": ("sugar", "honey", "brown sugar"),
    "fat": ("butter", "oil"),
}


@given(st.data())
@settings(max_examples=40, deadline=None)
def test_any_batters_come_whole(data: st.DataObject) -> None:
    """From generated batters of 2 to 6 versions, those lines that bind are one version's, all of them."""
    cards = []
    for name in ("Ada", "Bo", "Cleo", "Dov", "Edda", "Finn")[: data.draw(st.integers(2, 6))]:
        grams = st.integers(1, 20).map(lambda n: n * 25)
        lines = [f"{data.draw(grams)} g {data.draw(st.sampled_from(kinds))}" for kinds in _PARTS.values()]
        lines += [f"{data.draw(st.integers(1, 4))} eggs"]
        cards.append(_bread(name, data.draw(st.permutations(lines))))
    proposal = propose_new("Banana Bread", cards)
    batter = [line.text for line in proposal.card.ingredients if line.text not in _REST]
    assert batter in [[line.text for line in bound(card)] for card in cards if card.called == proposal.base]


def test_one_thing_beside_flour_and_eggs_may_be_chosen_by_itself() -> None:
    """`--take "syrup=Cleo"` changes that row: the oats, flour and fat stay the base's, and nobody's list comes over."""
    base = version(
        "Ada",
        ["100 g oats", "100 g flour", "1 tsp baking soda", "100 g butter", "100 g sugar", "1 tbsp golden syrup"],
        ["Melt the butter, sugar and golden syrup.", "Stir in the oats, flour and baking soda. Bake 12 minutes."],
    )
    other = version(
        "Cleo",
        ["150 g oats", "100 g flour", "1 tsp baking soda", "100 g margarine", "100 g sugar", "3 tbsp golden syrup"],
        ["Mix all together. Bake 15 minutes."],
    )
    choices = Choices(start_from=base.called, take={"golden syrup": other.called})
    made = propose_new("Oat Biscuits", [base, other], choices=choices)
    assert [line.text for line in made.card.ingredients] == [
        *(i.text for i in base.ingredients[:5]),
        "3 tbsp golden syrup",
    ]
    assert [line.text for line in made.lines if line.choice] == ["3 tbsp golden syrup"]
