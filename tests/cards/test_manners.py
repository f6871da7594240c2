"""Cards in the manners that people keep recipes in: repositories, wikis, notes, mails, exports of other programs.

Each part of manners.txt is an invented card, and behind it what a careful person reads in it.
"""

import re
import unicodedata
from pathlib import Path

import pytest

from recipebox.cards.kinds import NotACardError
from recipebox.cards.reader import read_cards

PARTS = re.split(r"^=== ", Path(__file__).with_name("manners.txt").read_text("utf-8"), flags=re.MULTILINE)[1:]


def words_of(text: str) -> str:
    """Words without marks, case and forms of signs."""
    plain = re.sub(r"[*_`~\\]", "", unicodedata.normalize("NFKC", text).casefold())
    return " ".join(re.findall(r"[^\W_]+", plain))


def told(truth: str, mark: str) -> list[str]:
    """The lines of a truth behind a mark, as words."""
    return [words_of(line[2:]) for line in truth.splitlines() if line.startswith(mark)]


@pytest.mark.parametrize("part", [pytest.param(part, id=part.partition("\n")[0]) for part in PARTS])
def test_every_manner_is_read_whole(part: str) -> None:
    """Title, each ingredient and each step are found, and nothing else is taken for one."""
    name, _, rest = part.partition("\n")
    text, _, truth = rest.partition("\n--- truth\n")
    text = text.replace("␉", "\t")
    if name == "crlf":
        text = text.replace("\n", "\r\n")
    if told(truth, "T:") == ["not"]:
        with pytest.raises(NotACardError):
            read_cards(text.encode(), f"{name}.md")
        return
    (card,) = read_cards(text.encode(), f"{name}.md")
    assert [words_of(card.title)] == told(truth, "T:")
    assert sorted(words_of(line.text) for line in card.ingredients) == sorted(told(truth, "I:"))
    assert sorted(words_of(step.text) for step in card.steps) == sorted(told(truth, "S:"))
