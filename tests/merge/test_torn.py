"""Torn cards, told from edited ones."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.reader import read_cards
from recipebox.merge import merge_card, torn

WHOLE = b"""Leek Pie
serves: 4

Ingredients
  2 cups flour
  1 lb leeks
  1 tsp salt

Method
  1. Mix the flour and leeks.
  2. Bake for a good long while, until the top is brown.

Notes
  Good cold.
"""


@pytest.mark.parametrize(
    "after",
    [b"", b"  \n", b"Leek Pie\n", WHOLE[: len(WHOLE) // 2], WHOLE[: WHOLE.index(b"Notes")], b"\0" * 40, WHOLE[:20]],
)
def test_what_a_full_disk_leaves_is_torn(after: bytes) -> None:
    """Empty, no card any more, or the beginning without a section or a third: torn, with a reason."""
    assert torn(WHOLE, after, "pie.txt")


@pytest.mark.parametrize(
    "after",
    [
        WHOLE,
        WHOLE.replace(b"1 tsp salt\n", b""),
        WHOLE.rstrip(b"\n"),
        WHOLE[: WHOLE.index(b"  2. Bake")] + b"  2. Bake.\n",
        WHOLE[: -len(b"cold.\n")],
        WHOLE + b"  Better warm.\n",
    ],
)
def test_what_a_person_did_is_not(after: bytes) -> None:
    """A line taken away, a shorter step, a word off the end, more text: edits."""
    assert torn(WHOLE, after, "pie.txt") is None


def test_only_cards_are_torn() -> None:
    """What was no card, or may be none by its name, is recorded as it is."""
    assert torn(b"shopping: milk\n", b"", "list.txt") is None
    assert torn(WHOLE, b"", "photo.jpg") is None
    assert torn(WHOLE, b"", "as-sent/pie.txt") is None


@given(st.integers(0, len(WHOLE)))
def test_every_beginning_short_of_two_thirds_is_torn(size: int) -> None:
    """However a text is cut off, with a third of it gone it is never recorded as an edit."""
    reason = torn(WHOLE, WHOLE[:size], "pie.txt")
    if size * 3 <= len(WHOLE) * 2:
        assert reason


QUARREL = b"""Rye Bread

Ingredients
  500 g rye flour
  400 ml water
  10 g salt

Method
  1. Mix and leave overnight.
  2. Bake.

Undecided
  salt
    - 10 g salt
    - 12 g salt
  water
    - 400 ml water
    - 420 ml water
"""


@pytest.mark.parametrize("end", [b"Undecided", b"  water\n    -"])
def test_deleting_what_is_undecided_is_a_choice(end: bytes) -> None:
    """The Undecided section at the end deleted by hand, or an entry of it, chooses what stands: nothing is torn."""
    assert torn(QUARREL, QUARREL[: QUARREL.index(end)], "rye.txt") is None
    assert torn(QUARREL, QUARREL[: QUARREL.index(end)].rstrip(), "rye.txt") is None


def test_what_breaks_off_above_or_within_a_question_is_torn() -> None:
    """A text cut off above its questions loses a section; one cut off within a wording would make a false one."""
    assert torn(QUARREL, QUARREL[: QUARREL.index(b"Method")], "rye.txt")
    assert torn(QUARREL, QUARREL[:-8], "rye.txt") == "it breaks off within a question"
    versions = QUARREL + b"\nVersions\n  Ned: ned.txt\n"
    assert torn(versions, versions[: versions.index(b"Undecided")], "family/rye.txt")


def test_a_choice_by_deleting_settles_the_question() -> None:
    """Who deletes the section has chosen: met with another's edit the question stays gone, and what stood stands."""
    chosen = QUARREL[: QUARREL.index(b"Undecided")]
    merged = merge_card(QUARREL, [chosen, QUARREL.replace(b"Bake.", b"Bake for an hour.")], "rye.txt")
    (card,) = read_cards(merged, "rye.txt")
    assert not card.undecided
    assert [i.text for i in card.ingredients] == ["500 g rye flour", "400 ml water", "10 g salt"]
    assert card.steps[-1].text == "Bake for an hour."


ASKED = (
    WHOLE
    + b"\nUndecided\n  salt\n    - 1 tsp salt\n    - 2 tsp salt, and a good deal more of it if the leeks are large\n"
    + b"\nSettled\n  flour\n    - 1 cup flour, or what is left of the open bag\n    - chosen: 2 cups flour\n"
)


@pytest.mark.parametrize("after", [WHOLE, ASKED[: ASKED.index(b"\nSettled")], ASKED[: ASKED.index(b"    - 2 tsp")]])
def test_questions_taken_out_by_hand_are_no_tear(after: bytes) -> None:
    """Who deletes the questions at the end of a card has answered them, however much of the text they were."""
    assert torn(ASKED, after, "pie.txt") is None


def test_a_card_that_breaks_off_before_its_questions_is_torn() -> None:
    """Questions at the end do not make a card that lost its own lines look whole."""
    assert torn(ASKED, ASKED[: ASKED.index(b"Notes")], "pie.txt")
    assert torn(ASKED, ASKED[: ASKED.index(b"  2. Bake")], "pie.txt")
