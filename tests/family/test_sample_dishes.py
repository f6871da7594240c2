"""The invented family's own dishes, brought together from every version as the base."""

from pathlib import Path

import pytest

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.reader import read_cards
from recipebox.cards.things import same_thing, thing
from recipebox.family import Choices, Proposal, propose_new
from recipebox.family.sentences import mentions, said, sentences
from recipebox.family.weaving import names
from tests.sample import DISHES

_BASES = [(dish, base) for dish, paths in DISHES.items() for base in (None, *paths)]


@pytest.fixture(scope="module")
def cards(sample_box: Path) -> dict[str, Card]:
    """The versions by path."""
    paths = [path for group in DISHES.values() for path in group]
    return {path: read_cards((sample_box / path).read_bytes(), path)[0] for path in paths}


@pytest.mark.parametrize(("dish", "base"), _BASES)
def test_a_real_dish_is_whole_from_whichever_version_it_starts(
    dish: str, base: str | None, cards: dict[str, Card]
) -> None:
    """Every line accounted for once; each thing in a step; nothing said twice; not too long; read back the same."""
    versions = [cards[path] for path in DISHES[dish]]
    proposal = propose_new(dish, versions, path="family/dish.txt", choices=Choices(start_from=base))
    for card in versions:
        assert _placed(proposal, card) == sorted((one.line, one.text) for one in (*card.ingredients, *card.steps))
    made = proposal.card
    own = cards[proposal.base]
    whole = [said(sentence) for step in made.steps for sentence in sentences(step.text)]
    assert len(set(whole)) == len(whole)
    longest = max(len(card.ingredients) + len(card.steps) for card in versions)
    assert 2 * (len(made.ingredients) + len(made.steps)) <= 3 * longest
    told = " ".join(note.text for note in made.notes)
    for line in made.ingredients:
        assert any(names(step.text, line) for step in made.steps) or line.item in told, line.text
    for line in _not_listed(own, made):
        named = [step.text for step in made.steps if _names_alone(step.text, line, made)]
        assert not named or line.item in told, (line.text, named)
    back = read_cards(proposal.text, "family/dish.txt")[0]
    assert [line.text for line in back.ingredients] == [line.text for line in made.ingredients]
    assert [step.text for step in back.steps] == [step.text for step in made.steps]
    assert back.swaps == made.swaps and len(back.versions) == len(versions)


def test_a_cooks_reasons_stay_in_her_own_card(cards: dict[str, Card]) -> None:
    """The recipe does not say "I never have buttermilk"; it says so in a swap, with what came of it."""
    paths = DISHES["Seeded Soda Bread"]
    proposal = propose_new("Soda Bread", [cards[path] for path in paths])
    (swap,) = [one.swap for one in proposal.swaps if thing(one.swap.item) == "buttermilk"]
    assert swap.instead == "milk and lemon juice"
    assert swap.effect == "a bit lighter in flavor"
    assert swap.how == "1 1/2 cups and 1 1/2 Tbsp for 400 ml"
    started = propose_new("Soda Bread", [cards[path] for path in paths[:2]], choices=Choices(start_from=paths[1]))
    assert "buttermilk" not in " ".join(step.text for step in started.card.steps)


def test_half_a_dough_is_made_whole_again(cards: dict[str, Card]) -> None:
    """Heike puts curd cheese for half the potatoes: without the curd cheese the recipe takes all the potatoes."""
    paths = DISHES["Plum Dumplings"]
    proposal = propose_new("Plum Dumplings", [cards[path] for path in paths], choices=Choices(start_from=paths[0]))
    assert [line.text for line in proposal.card.ingredients if "potatoes" in line.item] == ["1 kg floury potatoes"]
    (swap,) = [one.swap for one in proposal.swaps if one.swap.instead == "curd cheese"]
    assert swap.how == "for half of it" and "milk" in swap.brings_in


def test_a_can_of_soup_stands_in_for_the_flour_and_brings_its_allergens(cards: dict[str, Card]) -> None:
    """Pete's short cut is a swap with a hint of what it brings in, and Wanda's custard a variation of its own."""
    paths = DISHES["Harbour Fish and Leek Bake"]
    proposal = propose_new("Fish Bake", [cards[path] for path in paths])
    (soup,) = [one for one in proposal.swaps if "soup" in one.swap.instead]
    assert thing(soup.swap.item) == "flour" and "milk" in soup.swap.brings_in
    assert [(one.name, [line.item for line in one.ingredients]) for one in proposal.card.variations] == [
        ("Wanda: eggs, sour cream, milk", ["eggs", "sour cream", "milk"])
    ]
    (leeks,) = [one.swap for one in proposal.swaps if one.swap.instead == "onions"]
    assert (leeks.item, leeks.how, leeks.who, leeks.effect) == ("leeks", "half the weight", "Tomasz", "sweeter")


def _placed(proposal: Proposal, card: Card) -> list[tuple[int, str]]:
    sources = [s for line in proposal.lines if line.part in ("ingredient", "step") for s in line.sources]
    found = [(s.line, s.text) for s in sources if s.path == card.called]
    return sorted(found + [(n.source.line, n.source.text) for n in proposal.not_taken if n.source.path == card.called])


def _not_listed(own: Card, made: Card) -> list[Ingredient]:
    listed = [item for line in made.ingredients for item in line.items]
    return [
        line for line in own.ingredients if not any(same_thing(item, other) for item in line.items for other in listed)
    ]


def _names_alone(step: str, line: Ingredient, made: Card) -> bool:
    others = [span for one in made.ingredients for span in mentions(step, one)]
    return any(not any(a <= start and end <= b for a, b in others) for start, end in mentions(step, line))
