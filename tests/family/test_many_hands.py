"""The same dish by many hands: nothing twice, nothing lost, no step without its thing, one oven.

Invented cards here; methods by other people are read from datasets/same-dish where it lies (ARA 1.1, Donatelli et al.,
"Aligning Actions Across Recipe Graphs", EMNLP 2021).
"""

import itertools
from pathlib import Path

import pytest

from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.cards.things import same_thing, thing
from recipebox.compare import Kind, compare
from recipebox.family import Choices, Proposal, propose_new
from recipebox.family.rows import alike
from recipebox.family.sentences import said, sentences
from recipebox.family.weaving import names
from tests.family.by_eye import judge, named_as
from tests.family.hands import HANDS

_SAME_DISH = Path(__file__).parents[3] / "shared/datasets/same-dish"
_DISHES = ("baked_ziti", "blueberry_banana_bread", "garam_masala", "orange_chicken")

_POTS = {
    "pots/ana.txt": """Bean Pot
Serves 6

1 lb minced beef
1 large onion, diced
3 cloves garlic, minced
2 (15 oz) cans kidney beans, drained
1 (28 oz) can crushed tomatoes
2 tbsp chili powder
1 tsp cumin
1 tsp salt
1 cup beef broth

1. Brown the beef in a wide pot and pour off the fat.
2. Add onion and garlic and cook until soft. Stir in the chili powder, cumin and salt.
3. Add beans, tomatoes and broth and simmer for 45 minutes.
""",
    "pots/bea.md": """# Bean pot with rice

*Serves 4*

## Ingredients

- 500 g beef mince
- 1 tbsp oil
- 1 onion, chopped
- 2 garlic cloves, crushed
- 1 red pepper, diced
- 400 g tin chopped tomatoes
- 2 tbsp tomato purée
- 400 g tin kidney beans
- 2 tsp chilli powder
- 1 tsp ground cumin
- salt and pepper
- soured cream, to serve

## Method

1. Heat the oil, fry the onion and the pepper for 5 minutes, add the garlic.
2. Turn up the heat and brown the mince. Stir in chilli powder, cumin and tomato purée.
3. Tip in the tomatoes and simmer for 20 minutes. Stir in the beans, season with salt and pepper and cook 10 minutes.
4. Serve with soured cream.
""",
    "pots/cy.txt": """BEAN POT FOR THE CREW

2 LBS HAMBURGER
2 ONIONS, CHOPPED
1 CLOVE GARLIC
1 QT TOMATOES
2 CANS KIDNEY BEANS
1 TBSP CHILI POWDER
1 TSP SUGAR
SALT TO TASTE

FRY HAMBURGER, ONIONS AND GARLIC. POUR OFF GREASE.
ADD TOMATOES, BEANS, CHILI POWDER, SUGAR AND SALT. COOK SLOW 1 1/2 HOURS. SERVES 10
""",
    "pots/dee.txt": """Turkey bean pot
serves: 6

Ingredients
  1 Tbsp canola oil
  1 1/4 lbs ground turkey
  1 cup chopped onion
  3 cloves garlic, minced
  1 green pepper, chopped
  2 Tbsp chili powder
  1 1/2 tsp cumin
  28 oz can crushed tomatoes
  2 cans kidney beans, rinsed
  1 cup chicken broth
  1 tsp salt

Method
  1. Heat oil in a heavy pot. Add onion, pepper and garlic and cook until soft.
  2. Add turkey and cook until no pink is left.
  3. Stir in the spices and the salt for 1 minute.
  4. Pour in tomatoes and broth, then the beans. Simmer for 40 minutes.
""",
}

_CRUMBLES = {
    "crumbles/ana.txt": """Apple Crumble
Serves 6
Bake at 375 F for 40 minutes

6 apples, peeled and sliced
2 tsp lemon juice
1/4 cup sugar
1 tsp cinnamon
Topping
1 cup rolled oats
1/2 cup flour
3/4 cup brown sugar
1/2 cup cold butter, cubed
1/4 tsp salt

1. Toss the apples with the lemon juice, sugar and cinnamon in an 8 inch square pan.
2. Mix oats, flour, brown sugar and salt, rub in the butter and crumble it over.
3. Bake 40 minutes until the top is brown.
""",
    "crumbles/bo.txt": """Crumble

For the filling
600g apples, sliced
2 tbsp caster sugar
juice of half a lemon

For the top
175g plain flour
110g caster sugar
110g butter

Heat the oven to 190C.
Toss the apples with the lemon juice and 2 tbsp of the sugar and put them in a dish.
Rub the butter into the flour, stir in the rest of the sugar and pour it over the apples. Bake for 35-40 minutes.
""",
    "crumbles/cleo.md": """# Apple oat crumble

- 1 kg apples, in slices
- 50 g sugar
- 1 tbsp lemon juice
- 1 tsp cinnamon
- 100 g oats
- 100 g flour
- 100 g brown sugar
- 100 g butter
- 50 g hazelnuts, chopped

1. Oven to 180 C. Mix the apples with sugar, lemon juice and cinnamon in a buttered dish.
2. Knead oats, flour, brown sugar and butter to crumbs, add the chopped hazelnuts and spread on the apples.
3. Bake 45 minutes.
""",
}


def _cards(texts: dict[str, str]) -> list[Card]:
    return [read_cards(text.encode(), path)[0] for path, text in texts.items()]


_GROUPS = [
    (name, texts, base) for name, texts in (("Bean Pot", _POTS), ("Crumble", _CRUMBLES)) for base in (None, *texts)
]


@pytest.mark.parametrize(("dish", "texts", "base"), _GROUPS)
def test_many_hands_make_one_card(dish: str, texts: dict[str, str], base: str | None) -> None:
    """Whoever's the base: each thing once under one name, in a step; no step with a thing that is not listed."""
    cards = _cards(texts)
    made = propose_new(dish, cards, path="family/dish.txt", choices=Choices(start_from=base))
    _each_line_once(made, cards)
    listed = [(line.group, name) for line in made.card.ingredients for name in line.items or (line.item,)]
    for (group, one), (beside, other) in itertools.combinations(listed, 2):
        assert group != beside or not (same_thing(one, other) or alike(thing(one), thing(other))), (one, other)
    for line in made.card.ingredients:
        assert any(names(step.text, line) for step in made.card.steps), line.text
    known = {thing(name) for _, name in listed}
    for card in cards:
        for line in card.ingredients:
            if any(same_thing(line.item, name) or set(thing(line.item).split()) & set(name.split()) for name in known):
                continue
            assert not any(line.item.lower() in step.text.lower() for step in made.card.steps), line.text
    whole = [said(sentence) for step in made.card.steps for sentence in sentences(step.text)]
    assert len(set(whole)) == len(whole)
    _one_oven(made, next(card for card in cards if card.called == made.base))


@pytest.mark.parametrize("dish", _DISHES)
def test_methods_of_many_people_stay_one_persons(dish: str) -> None:
    """Of eleven methods the base's stays word for word, each other's steps are accounted for once."""
    folder = _SAME_DISH / dish
    if not folder.is_dir():
        pytest.skip("datasets/same-dish does not lie beside the project")
    cards = []
    for file in sorted(folder.glob("*.txt")):
        steps = "".join(f"  {n}. {line}\n" for n, line in enumerate(file.read_text("utf-8").splitlines(), start=1))
        cards.append(read_cards(f"{dish}\n\nMethod\n{steps}".encode(), f"{dish}/{file.name}")[0])
    assert len(cards) == 11
    made = propose_new(dish, cards, path="family/dish.txt")
    _each_line_once(made, cards)
    base = next(card for card in cards if card.called == made.base)
    assert [step.text for step in made.card.steps] == [step.text for step in base.steps]
    back = read_cards(made.text, "family/dish.txt")[0]
    assert [step.text for step in back.steps] == [step.text for step in base.steps]
    _one_oven(made, base)


def _each_line_once(made: Proposal, cards: list[Card]) -> None:
    for card in cards:
        lines = [line for line in made.lines if line.part in ("ingredient", "step")]
        found = [(one.line, one.text) for line in lines for one in line.sources if one.path == card.called]
        found += [(one.source.line, one.source.text) for one in made.not_taken if one.source.path == card.called]
        assert sorted(found) == sorted((one.line, one.text) for one in (*card.ingredients, *card.steps))


def _one_oven(made: Proposal, base: Card) -> None:
    """Heat and minutes, in the header and the steps, are all the base's."""
    back = read_cards(made.text, "family/dish.txt")[0]
    assert not base.oven or compare([base, back]).oven.kind is Kind.SAME


_SHEETS = [(dish, base) for dish, texts in HANDS.items() for base in (None, *texts)]


@pytest.mark.parametrize(("dish", "base"), _SHEETS)
def test_a_stranger_finds_no_fault(dish: str, base: str | None) -> None:
    """Judged from the texts alone: nothing twice or lost, no step without its thing, one oven, no odd sentence."""
    texts = HANDS[dish]
    made = propose_new(dish, _cards(texts), path="family/dish.txt", choices=Choices(start_from=base))
    _each_line_once(made, _cards(texts))
    assert judge(made.text.decode(), texts, made.base) == []


@pytest.mark.parametrize("dish", _DISHES)
def test_methods_of_many_people_mix_without_nonsense(dish: str) -> None:
    """With the foods that each author names as that card's list, whoever's the base: no fault by eye, one oven."""
    folder = _SAME_DISH / dish
    if not folder.is_dir():
        pytest.skip("datasets/same-dish does not lie beside the project")
    texts = {}
    for file in sorted(folder.glob("*.txt")):
        lines = file.read_text("utf-8").splitlines()
        listed = "".join(f"  {words}\n" for words in named_as("\n".join(lines)).values())
        steps = "".join(f"  {number}. {line}\n" for number, line in enumerate(lines, start=1))
        texts[f"{dish}/{file.name}"] = f"{dish}\n\nIngredients\n{listed}\nMethod\n{steps}"
    cards = _cards(texts)
    for base in (None, *texts):
        made = propose_new(dish, cards, path="family/dish.txt", choices=Choices(start_from=base))
        _each_line_once(made, cards)
        own = judge(texts[made.base], {made.base: texts[made.base]}, made.base)
        assert [one for one in judge(made.text.decode(), texts, made.base) if one not in own] == []
