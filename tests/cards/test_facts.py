"""Facts in lines of their own: servings, yields, times."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.facts import facts_in_prose, read_facts, read_makes
from recipebox.cards.model import Amount
from recipebox.cards.reader import read_cards
from recipebox.cards.times import read_time, read_times


@pytest.mark.parametrize(
    ("words", "low", "high"),
    [
        ("20 minutes", 20, 20),
        ("30-40 min", 30, 40),
        ("1 hour 20 minutes", 80, 80),
        ("1 1/2 hours", 90, 90),
        ("an hour and a half", 90, 90),
        ("half an hour", 30, 30),
        ("2 h", 120, 120),
        ("PT1H20M", 80, 80),
        ("45 Minuten", 45, 45),
        ("1 Std. 15 Min.", 75, 75),
    ],
)
def test_times_are_read_in_minutes(words: str, low: int, high: int) -> None:
    """A time in hours, minutes or both, spoken or as ISO 8601, is so many minutes."""
    assert read_time(words, whole=True) == Amount(Fraction(low), Fraction(high))


@given(st.integers(1, 20), st.integers(1, 59))
def test_hours_and_minutes_add_up(hours: int, minutes: int) -> None:
    """Any number of hours and minutes is their sum."""
    total = Fraction(hours * 60 + minutes)
    assert read_time(f"{hours} hours {minutes} minutes") == Amount(total, total)


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("Backzeit ca. 50 Minuten", ("cook", "ca. 50 Minuten")),
        ("Prep time 10 mins", ("prepare", "10 mins")),
        ("Recipe from Oda", ("from", "Oda")),
    ],
)
def test_facts_need_no_colon(line: str, fact: tuple[str, str]) -> None:
    """A name of a time right before it, and who a recipe is from, are facts without a colon."""
    assert read_facts(line, free=False) == [fact]


@pytest.mark.parametrize("line", ["Bake 30 minutes.", "Rest 10 minutes", "Cook 2 eggs", "Chill 2 hours"])
def test_an_order_is_no_fact(line: str) -> None:
    """A verb before a time is a step."""
    assert read_facts(line, free=False) is None


def test_a_time_line_tells_its_parts() -> None:
    """What is to prepare and what is to cook are kept apart."""
    found = read_times("20 minutes to prepare, 40 minutes to cook")
    assert {name: amount.low for name, amount in found.items()} == {"prepare": 20, "cook": 40}


@pytest.mark.parametrize(
    ("words", "facts"),
    [
        ("Serves 4", [("serves", "4")]),
        ("Servings: 6-8", [("serves", "6-8")]),
        ("Prep: 10 min | Cook: 1 hr", [("prepare", "10 min"), ("cook", "1 hr")]),
        ("Makes 2 loaves", [("makes", "2 loaves")]),
        ("Für 4 Personen", [("serves", "4")]),
        ("Makes 8 cakes. Serves 4", [("makes", "8 cakes"), ("serves", "4")]),
        ("For the sauce", None),
        ("Makes everyone happy", None),
        ("Bake for 20 minutes", None),
        ("For 2 minutes, stir", None),
    ],
)
def test_only_whole_lines_of_facts_count(words: str, facts: list[tuple[str, str]] | None) -> None:
    """A line that is a fact and nothing else is read; one that only begins like it is not."""
    assert read_facts(words, free=False) == facts


def test_a_dozen_is_twelve() -> None:
    """Dozens become numbers."""
    makes = read_makes("about 3 dozen cookies")
    assert makes is not None
    assert (makes.low, makes.what) == (36, "cookies")


def test_sentences_above_the_ingredients_may_tell_the_oven() -> None:
    """Facts are found among sentences; the oven only above the ingredients."""
    words = "Serves 6. Bake at 180C for 40 minutes."
    assert [name for name, _ in facts_in_prose(words, head=True)] == ["serves", "oven"]
    assert [name for name, _ in facts_in_prose(words, head=False)] == ["serves"]


def test_facts_beside_a_heading_count() -> None:
    """How many are served may stand beside "Ingredients", and who sent it under the title."""
    text = "# Soup\n\n## from Aunt Dot\n\n### Ingredients (serves 6)\n\n- 2 leeks\n\n### Method\n\n1. Simmer.\n"
    (card,) = read_cards(text.encode(), "soup.md")
    assert card.serves == Amount(Fraction(6), Fraction(6))
    assert (card.sender, card.name) == ("Aunt Dot", "Aunt Dot")
