"""Words put into steps and taken out of them."""

import pytest

from recipebox.cards.ingredient import read_ingredient
from recipebox.family.weaving import freed_of, renamed, without_talk

_FISH, _SALT, _CRUMBS, _SEEDS = (
    read_ingredient(line) for line in ("700 g cod", "1 tsp salt", "80 g breadcrumbs", "mixed seeds")
)


@pytest.mark.parametrize(
    ("step", "line", "freed"),
    [
        ("Season with the nutmeg and salt. Stir.", "1/4 tsp nutmeg", "Season with the salt. Stir."),
        ("Grate the nutmeg over. Stir in the salt.", "1/4 tsp nutmeg", "Stir in the salt."),
        ("Grate the nutmeg over.", "1/4 tsp nutmeg", ""),
        ("Tip the cod into the tin, dill on top.", "dill", "Tip the cod into the tin."),
        (
            "Sprinkle the cod with the lemon juice, salt it and let it stand.",
            "1 tbsp lemon juice",
            None,
        ),
        ("Beat the lemon juice to a froth and hide it under the cod.", "1 tbsp lemon juice", None),
        ("Stir in the salt.", "1/4 tsp nutmeg", "Stir in the salt."),
        ("Season the cod, then stir in the dill.", "dill", "Season the cod."),
        ("Squeeze the lemon and stock onto the cod.", "1 lemon", "Squeeze the stock onto the cod."),
        ("In a small bowl, beat the egg. Stir in the salt.", "1 egg", "Stir in the salt."),
        ("Brush the cod and sprinkle with seeds.", "mixed seeds", "Brush the cod."),
        ("Put the cod in, add the dill, then the salt.", "dill", "Put the cod in, add the salt."),
    ],
)
def test_a_step_is_freed_of_an_ingredient_or_left_to_a_person(step: str, line: str, freed: str | None) -> None:
    """A list loses one thing, a sentence about nothing else goes, and what cannot go without harm is said so."""
    assert freed_of(step, read_ingredient(line), [_FISH, _SALT]) == freed


def test_a_thing_takes_the_place_of_another_without_comparing_itself() -> None:
    """Leeks put where onions were do not "need longer than leeks"."""
    step = "Fry the onions slowly, they need longer than leeks. Add the salt."
    onions, leeks = read_ingredient("2 onions"), read_ingredient("3 large leeks")
    assert renamed(step, onions, leeks, [leeks, _SALT]) == "Fry the leeks slowly. Add the salt."


def test_talk_of_what_others_have_stays_in_its_own_card() -> None:
    """ "I never have buttermilk" is no step of a recipe that has milk."""
    step = "Stir the milk in. I never have buttermilk, this does the same."
    milk, buttermilk = read_ingredient("1 cup milk"), read_ingredient("1 cup buttermilk")
    assert without_talk(step, [buttermilk], [milk]) == "Stir the milk in."


def test_a_part_of_a_thing_is_not_renamed() -> None:
    """Where the step speaks of egg whites, starch cannot take the egg's place by name: the thing stays for a person."""
    egg, starch = read_ingredient("1 egg"), read_ingredient("2 tbsp cornstarch")
    assert renamed("Whisk the egg whites until frothy.", egg, starch, [starch]) is None
    assert renamed("Whisk the egg until frothy.", egg, starch, [starch]) == "Whisk the cornstarch until frothy."
