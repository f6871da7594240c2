"""Whose cups, spoons and pints a card means."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Amount, Bake, Card, Heat, Ingredient, Passage
from recipebox.measures import lines_that_differ, measures_named, unit, whose_measures


def card(*lines: str, measures: str | None = None, oven: str = "", step: str = "", unit_name: str = "cup") -> Card:
    """A card with these lines, an oven on these scales ("F C"), and a step."""
    one = Amount(Fraction(1), Fraction(1))
    bake = Bake("", 1, tuple(Heat(scale, Amount(Fraction(200), Fraction(200))) for scale in oven.split()))
    return Card(
        "a.txt", "Quince tray", measures=measures, oven=(bake,) if oven else (), steps=(Passage(step, 9),),
        ingredients=tuple(Ingredient(line, amount=one, unit=unit_name, item=line) for line in lines),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("header", "unit_name", "ml"),
    [
        ("US", "cup", "236.5882365"),  # NIST Handbook 44
        ("US label", "cup", "240"),  # 21 CFR 101.9(b)(5)(viii)
        ("metric", "cup", "250"),
        ("UK", "cup", "250"),
        ("imperial", "cup", "284"),
        ("AU", "tablespoon", "20"),
        ("NZ", "tablespoon", "15"),
        ("UK", "tablespoon", "15"),
        ("UK", "pint", "568.26125"),  # UK Weights and Measures Act 1985
        ("US", "pint", "473.176473"),
    ],
)
def test_the_header_says_it_and_nothing_is_guessed(header: str, unit_name: str, ml: str) -> None:
    """`measures:` decides, whatever else the card says; the table's row of that country is the size."""
    found = whose_measures(card("plain flour", measures=header, oven="F"))
    size = unit(found.measures.row(unit_name))
    assert size is not None
    assert size.size == Fraction(ml)
    assert not found.guessed


@pytest.mark.parametrize(
    ("lines", "oven", "step", "name", "why"),
    [
        (["all-purpose flour"], "", "", "US", "all-purpose flour"),
        (["1 stick butter, cut up"], "", "", "US", "stick butter"),
        (["plain flour"], "C", "", "UK", "plain flour"),
        (["oats"], "gas", "", "UK", "gas mark"),
        (["oats"], "F", "", "US", "Fahrenheit"),
        (["oats"], "C", "", "metric", "Celsius"),
        (["oats"], "", "Use Australian tablespoons throughout.", "Australian", "Australian tablespoons"),
        (["oats"], "F", "Use metric cups.", "metric", "metric cups"),
        (["oats"], "", "", "US", "nothing on the card"),
        (["oats"], "F C", "", "US", "nothing on the card"),
    ],
)
def test_a_guess_says_by_what(lines: list[str], oven: str, step: str, name: str, why: str) -> None:
    """Without a header the card's own words come first, then spelling, then the oven; always called a guess."""
    found = whose_measures(card(*lines, oven=oven, step=step))
    assert (found.measures.name, found.guessed) == (name, True)
    assert why in found.why


def test_a_list_in_grams_is_no_american_one() -> None:
    """A card that weighs in grams and has no cups has spoons of 5 and 15 ml."""
    assert whose_measures(card("oats", "honey", unit_name="gram")).measures.name == "metric"


@given(st.text(max_size=60), st.text(max_size=60), st.none() | st.text(max_size=12))
def test_any_words_give_an_answer(line: str, step: str, header: str | None) -> None:
    """No words make it raise; a guess always has a reason."""
    found = whose_measures(card(line, measures=header, step=step))
    assert found.why
    assert found.guessed or header


def test_only_lines_whose_unit_differs_between_countries_count() -> None:
    """Grams are grams everywhere; a cup is not."""
    assert list(lines_that_differ(card("oats", unit_name="gram"))) == []
    assert len(list(lines_that_differ(card("oats", "honey")))) == 2


def test_an_unknown_header_is_us_by_default() -> None:
    """What no table has a name for is read as US, and whose_measures calls that a guess."""
    assert measures_named("Martian").name == "US"
    assert whose_measures(card("oats", measures="Martian")).guessed
