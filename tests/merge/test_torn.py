"""Torn cards, told from edited ones."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.merge import torn

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
