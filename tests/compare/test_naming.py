"""Whether a step speaks of an ingredient."""

import pytest

from recipebox.cards.ingredient import read_ingredient
from recipebox.compare import step_names


@pytest.mark.parametrize(
    ("step", "line"),
    [
        ("Melt the butter.", "1/2 cup unsalted butter"),
        ("Add the eggs one at a time.", "3 large eggs, beaten"),
        ("Stir the flour mixture into the bananas.", "2 cups all-purpose flour"),
        ("Whisk the dry ingredients.", "1 tsp baking powder"),
        ("Whisk the dry ingredients.", "2 cups flour"),
        ("Mix all ingredients in a bowl.", "1 tbsp coriander seeds"),
        ("Mix everything together.", "1 cup sugar"),
        ("Add the baking soda.", "1 tsp baking soda"),
        ("Brown the chicken.", "2 lb chicken thighs"),
        ("Pour in the stock.", "4 cups vegetable broth"),
        ("Layer the potatoes.", "4 medium potatoes, sliced"),
        ("Season with salt and pepper.", "salt and pepper to taste"),
        ("Pour the soup over it.", "1 can (10.5 oz) cream of mushroom soup"),
    ],
)
def test_a_step_names_what_it_uses(step: str, line: str) -> None:
    """By its name, its last word, its kind, or with all others."""
    assert step_names(step, read_ingredient(line))


@pytest.mark.parametrize(
    ("step", "line"),
    [
        ("Melt the butter.", "1 cup flour"),
        ("Stir in the peanut butter.", "1/2 cup butter"),
        ("Stir in the sour cream.", "1 cup heavy cream"),
        ("Add the coconut milk.", "1 cup milk"),
        ("Whisk the dry ingredients.", "1 cup milk"),
        ("Add the baking soda.", "1 tsp baking powder"),
        ("Brown the chicken.", "2 cups chicken stock"),
        ("Stir in the stock.", "1 lb chicken thighs"),
        ("Mix all ingredients except the eggs.", "2 eggs"),
        ("Cream together until light.", "1 cup cream"),
    ],
)
def test_a_step_does_not_name_the_rest(step: str, line: str) -> None:
    """Another thing with the same last word, and what is left out, are not named."""
    assert not step_names(step, read_ingredient(line))


def test_a_step_names_its_group() -> None:
    """`the topping` speaks of what stands under Topping."""
    assert step_names("Sprinkle the topping over.", read_ingredient("1 cup crumbs", 1, "For the topping"))
    assert not step_names("Roll out the crust.", read_ingredient("1 cup oats", 1, "For the topping"))
