"""The original of a card whose adding is undone."""

import hashlib
from pathlib import Path

import pytest

from recipebox.box import Box, create, replace
from recipebox.gather import originals_of, take_along

SENT = b"Subject: Oat squares\n\n2 cups oats\n"
PLACE = f"as-sent/oat-squares-{hashlib.sha256(SENT).hexdigest()[:8]}.eml"
CARD = f"Oat squares\ncame: 2026-11-25, mail, kept as {PLACE}\n\n2 cups oats\n".encode()


@pytest.fixture
def box(tmp_path: Path) -> Box:
    """A box with an original."""
    made = create(tmp_path / "box", "kitchen")
    replace(made, PLACE, SENT, None)
    return made


def test_the_original_goes_along_with_its_last_card(box: Box) -> None:
    """An original that no card names any more is removed, and named."""
    assert take_along(box, {"cards/oats.txt": CARD}) == [PLACE]
    assert not (box.root / "as-sent").exists()


def test_the_original_of_another_card_stays(box: Box) -> None:
    """Two cards of one mail: while one of them is there, the mail is."""
    replace(box, "cards/other.txt", CARD, None)
    assert take_along(box, {"cards/oats.txt": CARD}) == []
    assert (box.root / PLACE).read_bytes() == SENT


def test_what_was_changed_since_stays(box: Box) -> None:
    """Bytes that are not those that were sent are somebody's own words."""
    replace(box, PLACE, b"with my notes", SENT)
    assert take_along(box, {"cards/oats.txt": CARD}) == []


@pytest.mark.parametrize("path", ["as-sent/../here.txt", "cards/other.txt", "as-sent/a/b.txt", "/as-sent/a.txt"])
def test_no_other_file_is_an_original(path: str) -> None:
    """A card cannot name a file outside as-sent/ to have it removed."""
    assert originals_of([f"came: today, kept as {path}\n".encode()]) == []
