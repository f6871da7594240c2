"""Proposals from generated families whose truth is known: who has what, in which batch, with which swap."""

from dataclasses import dataclass
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.cards.things import thing
from recipebox.compare import step_names
from recipebox.family import Choices, propose_new
from recipebox.family.sentences import said, sentences
from tests.family.making import version

# A dish that nobody makes: each thing in grams, in a step of its own words.
_CORE = {
    "potatoes": (800, "Boil the potatoes until soft and drain them."),
    "white beans": (400, "Rinse the white beans under cold water."),
    "spinach": (250, "Wilt the spinach in a hot pan."),
    "pumpkin": (600, "Roast the pumpkin for half an hour."),
    "ham": (180, "Fry the ham until crisp."),
    "rice": (200, "Simmer the rice in plenty of water."),
}
_EXTRA = {
    "olives": (60, "Scatter the olives over."),
    "mushrooms": (150, "Slice the mushrooms thinly."),
    "sweetcorn": (120, "Tip in the sweetcorn."),
    "paprika": (10, "Dust everything with paprika."),
}
_NAMES = ("Ada", "Bo", "Cleo", "Dov", "Edda", "Finn", "Greta", "Hal", "Ida", "Jo", "Kim", "Lou")


@dataclass(frozen=True)
class Family:
    """Versions of one dish, and which things each version was given."""

    cards: tuple[Card, ...]
    things: dict[str, frozenset[str]]


@st.composite
def families(draw: st.DrawFn, least: int = 2, most: int = 12) -> Family:
    """From 2 to 12 versions: each drops at most one thing, adds at most two, and is a whole multiple of the dish."""
    count = draw(st.integers(least, most))
    cards, things = [], {}
    for name in _NAMES[:count]:
        times = draw(st.sampled_from((1, 1, 1, 2, 3)))
        dropped = draw(st.sampled_from([None, None, *_CORE]))
        added = draw(st.lists(st.sampled_from(sorted(_EXTRA)), max_size=2, unique=True))
        have = [one for one in _CORE if one != dropped] + added
        amounts = {**_CORE, **_EXTRA}
        lines = [f"{amounts[one][0] * times} g {one}" for one in have]
        steps = [amounts[one][1] for one in have] + [f"Put all in a dish the way {name} likes it and bake."]
        card = version(name, lines, steps, serves=4 * times)
        cards.append(card)
        things[card.called] = frozenset(have)
    return Family(tuple(cards), things)


@given(families())
@settings(max_examples=20, deadline=None)
def test_every_line_of_every_version_is_accounted_for_once(family: Family) -> None:
    """Each ingredient line and each step stands in `lines` or in `not_taken`, and nowhere twice."""
    proposal = propose_new("Tray Supper", family.cards)
    for card in family.cards:
        sources = [s for line in proposal.lines if line.part in ("ingredient", "step") for s in line.sources]
        found = [(s.line, s.text) for s in sources if s.path == card.called]
        found += [(n.source.line, n.source.text) for n in proposal.not_taken if n.source.path == card.called]
        assert sorted(found) == sorted((one.line, one.text) for one in (*card.ingredients, *card.steps))
        for line in proposal.lines:
            assert len(line.paths) == len(line.sources)


@given(families())
@settings(max_examples=20, deadline=None)
def test_what_most_have_is_in_and_what_few_have_is_added_by_name(family: Family) -> None:
    """More than half: listed. Less: Some add, with the names. At exactly half the base decides."""
    proposal = propose_new("Tray Supper", family.cards)
    listed = {thing(line.item) for line in proposal.card.ingredients}
    added = {thing(some.ingredient.item): some.who for some in proposal.card.some_add}
    names = {card.called: card.name for card in family.cards}
    for one in {*_CORE, *_EXTRA}:
        having = {called for called, things in family.things.items() if one in things}
        in_it = 2 * len(having) > len(family.cards) or (
            2 * len(having) == len(family.cards) and proposal.base in having
        )
        assert (thing(one) in listed) == in_it
        if having and not in_it:
            assert set(added[thing(one)]) == {names[called] for called in having}


@given(families(), st.data())
@settings(max_examples=20, deadline=None)
def test_the_order_of_versions_changes_nothing(family: Family, data: st.DataObject) -> None:
    """The same bytes and the same account, in whatever order the versions are named."""
    other = data.draw(st.permutations(family.cards))
    one, two = propose_new("Tray Supper", family.cards), propose_new("Tray Supper", other)
    assert (one.text, one.lines, one.not_taken) == (two.text, two.lines, two.not_taken)


@given(families())
@settings(max_examples=20, deadline=None)
def test_it_reads_as_one_cook_wrote_it(family: Family) -> None:
    """Each listed thing is in a step, no step names one not listed, no sentence stands twice, it is not too long."""
    proposal = propose_new("Tray Supper", family.cards)
    card = proposal.card
    for line in card.ingredients:
        assert any(step_names(step.text, line) for step in card.steps), line.text
    unlisted = {*_CORE, *_EXTRA} - {line.item for line in card.ingredients}
    for step in card.steps:
        assert not [one for one in unlisted if one in step.text]
    whole = [said(sentence) for step in card.steps for sentence in sentences(step.text)]
    assert len(whole) == len(set(whole))
    longest = max(len(one.ingredients) + len(one.steps) for one in family.cards)
    assert 2 * (len(card.ingredients) + len(card.steps)) <= 3 * longest


@given(families())
@settings(max_examples=20, deadline=None)
def test_amounts_are_what_somebody_makes_on_the_batch_of_the_base(family: Family) -> None:
    """No amount is an average: each is some version's, brought to the base's batch."""
    proposal = propose_new("Tray Supper", family.cards)
    cards = {card.called: card for card in family.cards}
    served = {called: card.serves.low for called, card in cards.items() if card.serves}
    for line in proposal.card.ingredients:
        made = {
            theirs.amount.low * served[proposal.base] / served[called]
            for called, card in cards.items()
            for theirs in card.ingredients
            if theirs.item == line.item and theirs.amount
        }
        assert line.amount is not None and line.amount.low in made
    assert proposal.card.serves == cards[proposal.base].serves


@given(families(least=1, most=1))
@settings(max_examples=20, deadline=None)
def test_one_version_gives_that_version(family: Family) -> None:
    """Title, headers, ingredients and method of a single version are the recipe's, word for word."""
    (card,) = family.cards
    made = read_cards(propose_new("Anything", [card], path="family/tray-supper.txt").text, "family/tray-supper.txt")[0]
    assert made.kind == "family"
    assert (made.title, made.serves, made.sender) == (card.title, card.serves, card.sender)
    assert [line.text for line in made.ingredients] == [line.text for line in card.ingredients]
    assert [step.text for step in made.steps] == [step.text for step in card.steps]


@given(families())
@settings(max_examples=20, deadline=None)
def test_the_card_reads_back_as_proposed(family: Family) -> None:
    """What is laid out is read again as the same recipe: ingredients, steps, Some add, Versions with their batch."""
    proposal = propose_new("Tray Supper", family.cards, path="family/tray-supper.txt")
    made = read_cards(proposal.text, "family/tray-supper.txt")[0]
    assert _content(made) == _content(proposal.card)


def test_swaps_say_who_how_much_and_what_came_of_it() -> None:
    """A thing of the same part in one version is a swap, in that cook's own words."""
    leek = ["3 leeks, sliced", "500 ml milk", "700 g cod"]
    steps = ["Soften the leeks.", "Add the milk and the cod."]
    story = "I was out of leeks, so I used onions instead, half the weight. It came out sweeter."
    cards = [
        version("Brigid", leek, steps),
        version("Nuala", leek, ["Stew the leeks slowly.", "Pour on the milk, lay in the cod."]),
        version("Tomasz", ["225 g onions, sliced", "500 ml milk", "700 g cod"], [story, "Add the milk and the cod."]),
    ]
    proposal = propose_new("Leek Pot", cards)
    (found,) = [one for one in proposal.swaps if one.swap.item == "leeks"]
    assert (found.swap.instead, found.swap.who, found.paths) == ("onions", "Tomasz", ("versions/tomasz.txt",))
    assert found.swap.how == "half the weight"
    assert found.swap.effect == "sweeter"
    assert [one.where for one in proposal.not_taken if one.source.text.startswith("225 g")] == ["swap"]


def test_a_batter_is_taken_whole_and_another_stands_as_a_variation() -> None:
    """Amounts that hold one another never mix: all of one batter is in, all of the other in Variations."""
    batter = ["250 g flour", "2 tsp baking powder", "2 eggs", "300 ml milk", "400 g plums"]
    wetter = ["200 g flour", "1 tsp baking powder", "4 eggs", "100 ml milk", "400 g plums"]
    steps = ["Mix the flour, baking powder, eggs and milk.", "Lay the plums on top and bake."]
    cards = [version("Ada", batter, steps), version("Bo", batter, steps), version("Cleo", wetter, steps)]
    proposal = propose_new("Plum Tray", cards)
    assert [line.text for line in proposal.card.ingredients] == batter
    (variation,) = proposal.card.variations
    assert variation.name == "Cleo: flour, baking powder, eggs, milk"
    assert [line.text for line in variation.ingredients] == wetter[:4]
    assert {one.where for one in proposal.not_taken if one.source.path == "versions/cleo.txt"} == {"variation"}


def test_two_lines_of_one_version_that_make_one_are_told_apart() -> None:
    """ "salt and pepper" is from both lines of a cook who wrote them apart: one in the recipe's line, one beside it."""
    cards = [
        version("Ada", ["300 g rice", "salt and pepper"], ["Cook the rice with salt and pepper."]),
        version("Bo", ["300 g rice", "salt and pepper"], ["Season the rice with salt and pepper, cook it."]),
        version("Cleo", ["300 g rice", "salt", "pepper"], ["Cook the rice, salt, pepper."]),
    ]
    proposal = propose_new("Rice Pot", cards)
    (line,) = [one for one in proposal.lines if one.text == "salt and pepper"]
    assert [(one.path, one.text) for one in line.sources if one.path == "versions/cleo.txt"] == [
        ("versions/cleo.txt", "salt")
    ]
    assert [one.where for one in proposal.not_taken if one.source.text == "pepper"] == ["version"]


def test_an_allergen_with_commas_in_its_name_reads_back() -> None:
    """ "cereals containing gluten other than wheat (rye, barley, oats)" is one name, in the card as in the proposal."""
    cards = [
        version(name, [f"200 g {flour}", "1 kg turnips"], [f"Cook the {flour} with the turnips."])
        for name, flour in (("Ada", "rice flour"), ("Bo", "rice flour"), ("Cleo", "rye flour"))
    ]
    proposal = propose_new("Turnip Pot", cards, path="family/turnip-pot.txt")
    assert any("(rye, barley, oats)" in name for found in proposal.swaps for name in found.swap.brings_in)
    made = read_cards(proposal.text, "family/turnip-pot.txt")[0]
    assert made.swaps == proposal.card.swaps


def test_choices_go_before_rules() -> None:
    """What a person takes or leaves out stands, with the choice named in its line."""
    cards = [
        version("Ada", ["300 g rice", "1 tsp nutmeg"], ["Cook the rice.", "Grate the nutmeg over."]),
        version("Bo", ["300 g rice", "200 g ham"], ["Cook the rice.", "Fry the ham."]),
        version("Cleo", ["500 g rice"], ["Cook the rice."]),
    ]
    choices = Choices(start_from="versions/ada.txt", take={"rice": "versions/cleo.txt", "ham": "versions/bo.txt"})
    proposal = propose_new("Rice Pot", cards, choices=choices)
    assert [line.text for line in proposal.card.ingredients] == ["500 g rice", "200 g ham"]
    assert [line.choice for line in proposal.lines if line.part == "ingredient"] == ["take rice=Cleo", "take ham=Bo"]
    left = propose_new("Rice Pot", cards, choices=Choices(leave_out=("rice",)))
    assert "rice" not in [line.item for line in left.card.ingredients]


def _content(card: Card) -> tuple[object, ...]:
    return (
        card.title,
        card.serves,
        [line.text for line in card.ingredients],
        [step.text for step in card.steps],
        [(some.ingredient.text, some.who) for some in card.some_add],
        [(line.name, line.path, Fraction(line.batch)) for line in card.versions],
    )
