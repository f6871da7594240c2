"""What was assumed in measuring, said out loud."""

from fractions import Fraction

import pytest

from recipebox.cards.model import Amount, Card, Ingredient
from recipebox.cautions import measuring_cautions


def told(amount: str, unit: str | None, item: str, measures: str | None = None) -> list[str]:
    """The cautions for a card with one line."""
    size = Amount(Fraction(amount), Fraction(amount))
    line = Ingredient(f"{amount} {unit} {item}", 4, amount=size, unit=unit, item=item, items=(item,))
    found = measuring_cautions(Card("a.txt", "Soup", measures=measures, ingredients=(line,)))
    assert all(one.line == 4 and "\n" not in one.text for one in found)
    return [one.text for one in found]


def test_whose_cup_is_said_when_guessed_and_only_then() -> None:
    """The size taken, that it is a guess, by what, and how to say otherwise; nothing where the header says it."""
    (text,) = told("2", "cup", "oats")
    for words in ("US ones", "a cup 236.6 ml", "a guess", "nothing on the card says whose", "measures: US, UK, AU"):
        assert words in text
    assert told("2", "cup", "oats", measures="UK") == []
    assert told("200", "gram", "oats") == []


def test_which_ounce_is_said() -> None:
    """8 oz of milk are taken as fluid, of sour cream as weight, both a guess; of cheese nobody would ask."""
    assert "taken as fluid ounces, a guess" in told("8", "ounce", "milk")[0]
    assert "taken as weight, a guess" in told("8", "ounce", "sour cream")[0]
    assert told("8", "ounce", "cheddar cheese") == []


@pytest.mark.parametrize(
    ("amount", "unit", "words"),
    [
        ("0", "gram", "not above 0"),
        ("-3", "gram", "not above 0"),
        ("2", "smoot", 'no table knows the unit "smoot"'),
        ("1000000000", "gram", "more than a kitchen holds"),
        ("1000000", None, "more than a kitchen holds"),
    ],
)
def test_what_makes_no_sense_is_said(amount: str, unit: str | None, words: str) -> None:
    """Nothing, less than nothing, an unknown unit, absurd amounts: one clear line each, no guess."""
    (text,) = told(amount, unit, "quinces")
    assert words in text


@pytest.mark.parametrize("text", ["10000000000 cups oats", "1/0 cup oats", "−1 cup oats"])
def test_a_number_that_was_not_read_is_said(text: str) -> None:
    """A line that begins with a number nobody can measure is named, since it stands unchanged in any batch."""
    line = Ingredient(text, 4, item=text)
    (found,) = measuring_cautions(Card("a.txt", "Soup", ingredients=(line,)))
    assert "is not understood as an amount: the line stands as written" in found.text


def test_an_ordinary_line_needs_no_word() -> None:
    """A hundred grams, or twelve eggs, are left alone."""
    assert told("100", "gram", "flour") == []
    assert told("12", None, "eggs") == []
