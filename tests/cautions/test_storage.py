"""How long a dish keeps cold."""

import pytest

from recipebox.cards.model import Card, Ingredient
from recipebox.cautions import keeping, keeping_for


@pytest.mark.parametrize(
    ("words", "days", "months"),
    [
        ("chicken casserole", (3, 4), (4, 6)),  # USDA refrigerator storage chart, as reprinted
        ("Aunt's beef stew", (3, 4), (2, 3)),  # FoodSafety.gov, earlier edition
        ("cooked ham", (3, 5), (1, 2)),  # FoodSafety.gov, Ham Storage Chart
        ("chicken salad", (3, 4), None),  # FoodSafety.gov syndication feed: does not freeze well
    ],
)
def test_published_times(words: str, days: tuple[int, int], months: tuple[int, int] | None) -> None:
    """The longest keyword in the words picks the row, and its figures come back."""
    found = keeping(words)
    assert found is not None
    assert (found.fridge_days, found.freezer_months) == (days, months)


def test_an_unknown_food_has_no_times() -> None:
    """Nothing is guessed for words that no row has."""
    assert keeping("lemon drizzle") is None


def test_a_card_without_a_known_name_goes_by_any_cooked_dish() -> None:
    """For a freezer label every card has a row: by default that of any leftover dish, source named."""
    found = keeping_for(Card("a.txt", "Harriet's surprise"))
    assert found.food.startswith("Leftovers, any dish")
    assert found.freezer_months == (3, 4)  # University of Illinois Extension
    assert found.source


def test_fish_shortens_a_casseroles_months() -> None:
    """A casserole of fish takes the cooked fish row, one month, not the two to three of casseroles."""
    fish = (Ingredient("1 lb cod", item="cod"),)
    assert keeping_for(Card("a.txt", "Friday casserole", ingredients=fish)).freezer_months == (1, 1)
    assert keeping_for(Card("a.txt", "Friday casserole")).freezer_months == (2, 3)
    assert keeping_for(Card("a.txt", "Harbour Leek Bake", ingredients=fish)).freezer_months == (1, 1)
