"""The method: steps that name several things at once, as cooks write them."""

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.family import Choices, propose_new
from recipebox.family.sentences import mentions, said, sentences
from tests.family.making import version

_FOODS = {
    "onions": "2", "carrots": "3", "garlic": "2 cloves", "potatoes": "500 g", "butter": "50 g", "flour": "30 g",
    "milk": "400 ml", "cheddar": "100 g", "parsley": "2 tbsp", "thyme": "1 tsp", "nutmeg": "1/4 tsp", "salt": "1 tsp",
    "peas": "150 g", "ham": "200 g", "mushrooms": "150 g", "mustard": "1 tsp", "white wine": "100 ml",
}  # fmt: skip
_WAYS = (
    "Mix {}.",
    "Stir in {} and cook for {n} minutes.",
    "Season with {}.",
    "Melt everything with {} in a wide pan.",
    "Scatter {} over the top.",
    "Put {} in the dish, then cover it.",
    "Toss {} together and spread it out.",
)


def _made(name: str, have: set[str], luck: random.Random) -> Card:
    order = sorted(have, key=lambda food: list(_FOODS).index(food) + 3 * luck.random())
    steps: list[str] = []
    while order:
        some, order = order[:4][: luck.randint(1, 4)], order[:0] if len(order) <= 1 else order
        order = [food for food in order if food not in some]
        the = luck.choice(["the ", ""])
        whole = the + some[0] if len(some) == 1 else f"{the}{', '.join(some[:-1])} and {some[-1]}"
        step = luck.choice(_WAYS).format(whole, n=luck.randint(2, 30))
        if steps and luck.random() < 0.3:
            steps[-1] += f" {step}"
        else:
            steps.append(step)
    lines = [f"{_FOODS[food]} {food}" for food in sorted(have, key=list(_FOODS).index)]
    return version(name, lines, [*steps, f"Bake for {luck.randint(20, 50)} minutes."], serves=4)


@given(st.integers(0, 10**9))
@settings(max_examples=60)
def test_lists_lose_and_gain_things_and_stay_lists(seed: int) -> None:
    """Whatever a version lacks or adds, the method names each listed thing and nothing else, and each sentence once."""
    luck = random.Random(seed)
    core = luck.sample(sorted(_FOODS), luck.randint(5, 9))
    cards = []
    for name in ("Ada", "Bo", "Cleo", "Dov", "Edda")[: luck.randint(2, 5)]:
        have = {food for food in core if luck.random() > 0.2} | {luck.choice(sorted(_FOODS))}
        cards.append(_made(name, have, luck))
    made = propose_new("Tray Supper", cards).card
    method = " ".join(step.text for step in made.steps)
    foods = {one.item: one for card in cards for one in card.ingredients}
    listed = {line.item for line in made.ingredients}
    assert {food for food, line in foods.items() if mentions(method, line)} == listed
    whole = [said(sentence) for step in made.steps for sentence in sentences(step.text)]
    assert len(whole) == len(set(whole))
    for sentence in whole:
        assert not {"with in", "in and", "the and", "and and", "the over"} & {
            f"{a} {b}" for a, b in zip(sentence.split(), sentence.split()[1:], strict=False)
        }
    assert ", ," not in method and ",." not in method and "  " not in method


def test_what_the_steps_cannot_do_without_stays_on_the_list() -> None:
    """A thing few have, in a step that no words at hand mend, is kept and says why; a sentence with the time stays."""
    knotted = "Beat the pumpkin to a froth and hide it under the rice."
    cards = [
        version("Ada", ["300 g rice", "100 g pumpkin", "50 g ham"], ["Cook the rice.", knotted, "Fry the ham."]),
        version("Bo", ["300 g rice", "50 g ham"], ["Cook the rice.", "Fry the ham."]),
        version("Cleo", ["300 g rice", "50 g ham"], ["Cook the rice.", "Fry the ham."]),
    ]
    made = propose_new("Rice Pot", cards, choices=Choices(start_from=cards[0].called))
    (line,) = [line for line in made.lines if "pumpkin" in line.text and line.part == "ingredient"]
    assert "cannot do without" in line.rule
    assert made.some_add == ()
    left = propose_new("Rice Pot", cards, choices=Choices(start_from=cards[0].called, leave_out=("pumpkin",)))
    assert "pumpkin" not in [line.item for line in left.card.ingredients]
    assert any("still speaks of pumpkin" in note.text for note in left.card.notes)


def test_times_stay_and_signatures_and_yields_go() -> None:
    """Without the fish, "until it flakes" goes and the minutes stay; who signed and how many it serves is no step."""
    base = version(
        "Ada",
        ["300 g rice", "100 g cod"],
        ["Cook the rice.", "BAKE AT 400 FOR 30 MIN OR UNTIL THE COD FLAKES. SERVES 6.", "Ada, Leeds, May 2025"],
    )
    others = [version(name, ["300 g rice"], ["Cook the rice."]) for name in ("Bo", "Cleo")]
    made = propose_new("Rice Pot", [base, *others], choices=Choices(start_from=base.called))
    assert [step.text for step in made.card.steps] == ["Cook the rice.", "Bake at 400 for 30 min."]
    assert [one.why for one in made.not_taken if one.source.text.startswith("Ada, ")] == ["it signs the card"]
