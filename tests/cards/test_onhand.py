"""What is on hand: read, added to, used up, with dates that can be read one way only."""

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.onhand import NotOnHandError, add_entry, read_on_hand, use_entry

KITCHEN = b"""Pantry
  3 cans (14.5 oz) chopped tomatoes
  2 lb flour, best before 2027-03-01
Fridge
- 1 pint cream, use by 1 Dec 2026
- 4 eggs (use by 2026-12-05)
FREEZER:
  1 lb white fish
"""


def test_places_amounts_and_dates() -> None:
    """Each line under its place, with amount, unit and date; the item without them."""
    found = [(e.place, e.item, e.unit, e.use_by) for e in read_on_hand(KITCHEN).entries]
    assert found == [
        ("pantry", "chopped tomatoes", "can", None),
        ("pantry", "flour", "pound", date(2027, 3, 1)),
        ("fridge", "cream", "pint", date(2026, 12, 1)),
        ("fridge", "eggs", None, date(2026, 12, 5)),
        ("freezer", "white fish", "pound", None),
    ]
    assert not read_on_hand(KITCHEN).trouble


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("milk, use by 2026-12-01", date(2026, 12, 1)),
        ("milk, best before 1 December 2026", date(2026, 12, 1)),
        ("milk use-by Dec 1, 2026", date(2026, 12, 1)),
        ("milk, expires 13/12/2026", date(2026, 12, 13)),
        ("milk, use by 12/13/26", date(2026, 12, 13)),
        ("milk, until 05.05.2027", date(2027, 5, 5)),
    ],
)
def test_dates_as_people_write_them(words: str, day: date) -> None:
    """A date with one reading is taken."""
    (entry,) = read_on_hand(words.encode()).entries
    assert (entry.item, entry.use_by) == ("milk", day)


@pytest.mark.parametrize(
    "words", ["milk, use by 03/04/2026", "milk, use by 03/04", "milk, use by 2026-02-30", "milk 31/02/2026"]
)
def test_dates_with_two_readings_or_none_are_trouble(words: str) -> None:
    """Neither guessed nor dropped: the line stands, without a date, and is named."""
    found = read_on_hand(words.encode())
    assert found.entries[0].use_by is None
    assert [t.line for t in found.trouble] == [1]


def test_using_takes_the_soonest_first_and_stays_at_nothing() -> None:
    """Used up, a line says "0 cans" till a person deletes it."""
    assert use_entry(KITCHEN, "chopped tomatoes") == KITCHEN.replace(b"3 cans", b"0 cans")
    two = KITCHEN.replace(b"- 4 eggs", b"- 2 eggs, use by 2026-11-30\n- 4 eggs")
    used = [
        (e.amount.low, e.use_by)
        for e in read_on_hand(use_entry(two, "eggs", Fraction(3))).entries
        if e.item == "eggs" and e.amount
    ]
    assert used == [(0, date(2026, 11, 30)), (3, date(2026, 12, 5))]


def test_using_what_is_not_there() -> None:
    """None of it, or less than that, is said and nothing is changed."""
    for item, amount in (("saffron", None), ("eggs", Fraction(5))):
        with pytest.raises(NotOnHandError):
            use_entry(KITCHEN, item, amount)


def test_adding_grows_the_same_entry_or_makes_a_line() -> None:
    """Same place, thing, unit and date: one line; another date: a line of its own in the list's own marks."""
    assert add_entry(KITCHEN, "pantry", "2 cans (14.5 oz) chopped tomatoes") == KITCHEN.replace(b"3 cans", b"5 cans")
    more = add_entry(KITCHEN, "fridge", "6 eggs, use by 2026-12-20")
    assert len(read_on_hand(more).entries) == 6
    assert add_entry(b"", "freezer", "1 lb peas") == b"Freezer\n  1 lb peas\n"
    for place, words in (
        ("attic", "1 lb peas"),
        ("fridge", ""),
        ("fridge", "milk, use by 03/04/2026"),
        ("fridge", "a\nb"),
    ):
        with pytest.raises(ValueError, match=r"\S"):
            add_entry(KITCHEN, place, words)


_ITEMS = st.sampled_from(["peas", "milk", "rice", "butter"])


@given(st.lists(st.tuples(st.sampled_from(["pantry", "fridge", "freezer"]), st.integers(1, 9), _ITEMS), max_size=8))
def test_what_was_added_can_be_used(added: list[tuple[str, int, str]]) -> None:
    """The sum of what was added of a thing is there, can be used to the last, and then none is left."""
    data = KITCHEN
    for place, amount, item in added:
        data = add_entry(data, place, f"{amount} lb {item}")
    for item in {item for _, _, item in added}:
        there = sum(amount for _, amount, other in added if other == item)
        assert sum(e.amount.low for e in read_on_hand(data).entries if e.item == item and e.amount) == there
        data = use_entry(data, item, Fraction(there))
        with pytest.raises(NotOnHandError):
            use_entry(data, item)
    for line in KITCHEN.splitlines():
        assert line in data.splitlines()
