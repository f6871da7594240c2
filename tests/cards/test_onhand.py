"""What is on hand: read, added to, used up, with dates that can be read one way only."""

from datetime import date
from fractions import Fraction

import pytest

from recipebox.cards.model import Amount
from recipebox.cards.onhand import add_entry, change_amount, read_on_hand

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


def test_an_amount_changes_with_its_words() -> None:
    """The line keeps its marks and words; unit and thing counted follow the number, a metric part is a decimal."""
    for line, amount, wanted in (
        ("- 3 cans (14.5 oz) tomatoes", Fraction(1), "- 1 can (14.5 oz) tomatoes"),
        ("2 leeks, use by 2026-12-01", Fraction(1), "1 leek, use by 2026-12-01"),
        ("1 tomato", Fraction(0), "0 tomatoes"),
        ("2 kg flour", Fraction(44, 25), "1.76 kg flour"),
        ("2 litres milk", Fraction(1, 2), "1/2 litre milk"),
        ("4 eggs", Fraction(0), "0 eggs"),
    ):
        (entry,) = read_on_hand(line.encode()).entries
        assert change_amount(line.encode(), entry, Amount(amount, amount)).decode() == wanted


@pytest.mark.parametrize("words", ["use by someday", "milk, use by someday", "milk, best before the summer"])
def test_a_date_nobody_can_read_is_refused(words: str) -> None:
    """Words that should be a date are none of the thing's name: not added, and named where they stand in the list."""
    with pytest.raises(ValueError, match="write the date as"):
        add_entry(KITCHEN, "fridge", words)
    found = read_on_hand(words.encode())
    assert [t.line for t in found.trouble] == [1]
    assert all(entry.item == "milk" for entry in found.entries)


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
