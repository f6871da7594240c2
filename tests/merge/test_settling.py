"""Choosing between wordings, and taking a choice back."""

import pytest

from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.merge import SettleError, asks_of_the_box, merge_card, settle, unsettle

PATH = "bake.txt"
BASE = b"""Leek Bake
serves: 4

Ingredients
  2 cups flour
  1 lb leeks, sliced
  1 tsp salt

Method
  1. Mix the flour and the leeks.
  2. Bake for 25 minutes.
"""
A = BASE.replace(b"2 cups", b"3 cups").replace(b"25 minutes", b"30 minutes").replace(b"Leek Bake", b"Leek Supper")
B = BASE.replace(b"2 cups", b"4 cups").replace(b"25 minutes", b"35 minutes").replace(b"  1 tsp salt\n", b"")
C = BASE.replace(b"1 tsp salt", b"2 tsp salt").replace(b"serves: 4", b"serves: 5").replace(b"Leek Bake", b"Leek Dish")
ASKED = merge_card(BASE, [A, B, C], PATH)


def card(data: bytes) -> Card:
    """The one recipe."""
    (only,) = read_cards(data, PATH)
    return only


def test_settling_marks_moves_and_rewrites_the_body() -> None:
    """The chosen wording is marked, its entry stands in Settled, the line in the body is the chosen one."""
    settled = settle(ASKED, PATH, "flour", "4 cups flour")
    assert b"    - chosen: 4 cups flour\n" in settled
    assert "flour" in {entry.about for entry in card(settled).settled}
    assert "flour" not in {entry.about for entry in card(settled).undecided}
    assert card(settled).ingredients[0].text == "4 cups flour"


@pytest.mark.parametrize("about", [entry.about for entry in card(ASKED).undecided])
def test_every_question_can_be_settled_and_opened_again(about: str) -> None:
    """Each wording of each entry can be chosen, and taken back: then the text is what it was."""
    entry = next(entry for entry in card(ASKED).undecided if entry.about == about)
    for place, wording in enumerate(entry.wordings):
        settled = settle(ASKED, PATH, about, place)
        (mine,) = [e for e in card(settled).settled if e.about == about]
        assert [w.text for w in mine.wordings if w.chosen] == [wording.text]
        assert settle(settled, PATH, about, wording.text) == settled
        again = unsettle(settled, PATH, about)
        assert sorted(again.splitlines()) == sorted(ASKED.splitlines())


def test_meaning_names_a_wording() -> None:
    """A wording is found however its amount is typed."""
    assert settle(ASKED, PATH, "salt", "two teaspoons salt") == settle(ASKED, PATH, "salt", "2 tsp salt")


def test_leave_out_takes_the_line_away() -> None:
    """Settled on `leave out` the line is gone, and comes back when the choice is taken back."""
    settled = settle(ASKED, PATH, "salt", "leave out")
    assert not any("salt" in i.text for i in card(settled).ingredients)
    assert any("salt" in i.text for i in card(unsettle(settled, PATH, "salt")).ingredients)


@pytest.mark.parametrize(("about", "take"), [("pepper", 0), ("flour", 7), ("flour", "9 cups flour")])
def test_no_such_question_or_wording(about: str, take: int | str) -> None:
    """What is not there is said, not guessed."""
    with pytest.raises(SettleError):
        settle(ASKED, PATH, about, take)


def test_a_choice_travels_and_two_choices_meet() -> None:
    """Settled here, untouched there: settled. The same choice twice is one; two choices bring the question back."""
    here, there = settle(ASKED, PATH, "flour", "3 cups flour"), settle(ASKED, PATH, "flour", "4 cups flour")
    note = ASKED.replace(b"Undecided", b"Notes\n  Good.\n\nUndecided")
    merged = card(merge_card(ASKED, [here, note], PATH))
    assert "flour" in {entry.about for entry in merged.settled}
    both = card(merge_card(ASKED, [here, there], PATH))
    (entry,) = [entry for entry in both.undecided if entry.about == "flour"]
    assert [w.chosen for w in entry.wordings] == [True, True]
    assert both.ingredients[0].text == "3 cups flour"


def test_deleting_the_entry_by_hand_is_a_choice() -> None:
    """Who takes an entry out of Undecided has chosen what stands in the body; another's edit elsewhere meets it."""
    without = ASKED.replace(b"  flour\n    - 3 cups flour\n    - 4 cups flour\n", b"")
    assert without != ASKED
    other = ASKED.replace(b"1 lb leeks", b"2 lb leeks")
    merged = card(merge_card(ASKED, [without, other], PATH))
    assert "flour" not in {entry.about for entry in (*merged.undecided, *merged.settled)}
    assert [i.text for i in merged.ingredients[:2]] == ["3 cups flour", "2 lb leeks, sliced"]


def test_changing_the_line_by_hand_is_a_choice() -> None:
    """Who writes another amount into the body has chosen it."""
    by_hand = ASKED.replace(b"  3 cups flour\n  1 lb", b"  5 cups flour\n  1 lb")
    other = ASKED.replace(b"1 lb leeks", b"2 lb leeks")
    merged = card(merge_card(ASKED, [by_hand, other], PATH))
    assert merged.ingredients[0].text == "5 cups flour"


def test_what_a_choice_asks_of_the_file() -> None:
    """`this card` left out removes it, a `file name` renames it, a line asks nothing."""
    assert asks_of_the_box("this card", "leave out") == ("remove", None)
    assert asks_of_the_box("file name", "pies/x.txt") == ("rename", "pies/x.txt")
    assert asks_of_the_box("flour", "leave out") is None
