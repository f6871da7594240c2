"""Times and allergens in a person's words."""

from fractions import Fraction

import pytest

from recipebox.cards.model import Amount, Minutes
from recipebox.pantry import PantryError
from recipebox.pantry.asking import allergens_named, minutes_in, minutes_of
from tests.family.making import version


@pytest.mark.parametrize(
    ("words", "minutes"),
    [
        ("45 min", 45),
        ("45", 45),
        ("1 h", 60),
        ("1 1/2 hours", 90),
        ("1 h 20 min", 80),
        ("half an hour", 30),
        ("1h", 60),
    ],
)
def test_a_time_is_read(words: str, minutes: int) -> None:
    """Minutes and hours as people say them."""
    assert minutes_in(words) == minutes


@pytest.mark.parametrize("words", ["soon", "", "0 min", "-5", "min 5"])
def test_what_is_no_time_says_what_would_be(words: str) -> None:
    """Anything else is one clear line."""
    with pytest.raises(PantryError, match="45 min"):
        minutes_in(words)


def test_how_long_a_card_takes_is_what_it_says() -> None:
    """Its header goes before its steps; a card that names no time has none."""
    steps = ["Fry for 10 minutes.", "Simmer 20-25 min."]
    assert minutes_of(version("Ada", ["1 egg"], steps)) == 35
    said = Minutes(all=Amount(Fraction(40), Fraction(40)))
    assert minutes_of(version("Ada", ["1 egg"], steps, minutes=said)) == 40
    assert minutes_of(version("Ada", ["1 egg"], ["Boil it."])) is None


def test_an_allergen_is_known_by_the_names_people_use() -> None:
    """Dairy is milk, gluten is wheat and its kin, nuts are tree nuts and peanuts; others are told what there is."""
    assert allergens_named("dairy") == {"milk"}
    assert "wheat" in allergens_named("gluten") and len(allergens_named("gluten")) > 1
    assert {"peanut"} < allergens_named("nuts")
    assert allergens_named("fish") == {"fish"}
    with pytest.raises(PantryError, match="there are"):
        allergens_named("sunshine")
