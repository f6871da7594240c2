"""Lines put into a card that was sent."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.cards.reader import read_text
from recipebox.cards.text import decode, encode
from recipebox.gather.headed import with_headers, with_notes
from tests.gather.making import RECIPE

HEADERS = [("from", "Ines"), ("came", "2026-11-25, letter.txt (plain text), kept as as-sent/letter-1a2b3c4d.txt")]
SHAPES = {
    "plain": RECIPE,
    "no end": RECIPE.rstrip("\n"),
    "title alone above": "Oat squares\n\n\n\n2 cups oats\n\nBake.\n",
    "bare": "2 cups oats\n1/2 cup honey\n\nStir. Bake.\n",
    "letter": "Dear Brigid,\n\nhere are my squares.\n\n2 cups oats\n1/2 cup honey\n\nBake them.\n\nLove, Ines\n",
}
MARKDOWN = {
    "heading": "# Oat squares\n\n- 2 cups oats\n\n1. Bake.\n",
    "no blank": "# Oat squares\n- 2 cups oats\n\n1. Bake.\n",
    "underlined": "Oat squares\n===========\n\n- 2 cups oats\n\n1. Bake.\n",
    "front matter": "---\ntitle: Oat squares\nserves: 6\ntags: [oats, sweet]\n---\n\n- 2 cups oats\n\n1. Bake.\n",
    "front matter, ingredients": "---\ntitle: Oat squares\ningredients:\n  - 2 cups oats\n  - honey\n---\n\n1. Bake.\n",
    "front matter and heading": "---\nlayout: page\n---\n# Oat squares\n\n- 2 cups oats\n\n1. Bake.\n",
    "toml": '+++\ntitle = "Oat squares"\nserves = 6\n+++\n\n- 2 cups oats\n\n1. Bake.\n',
}


def sense(card: Card) -> tuple[object, ...]:
    """Everything of a card but where its lines stand and what was put in."""
    return (
        card.title,
        [(i.group, i.text) for i in card.ingredients],
        [step.text for step in card.steps],
        [note.text for note in card.notes],
        card.serves,
        card.tags,
    )


CASES = [(words, False) for words in SHAPES.values()] + [(words, True) for words in MARKDOWN.values()]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "crlf"])
@pytest.mark.parametrize(("words", "markdown"), CASES, ids=[*SHAPES, *MARKDOWN])
def test_header_lines_change_nothing_else(words: str, markdown: bool, encoding: str) -> None:
    """In each shape, encoding and line end: every old line stays as it was, the card reads as before, and the two
    facts are read."""
    data = words.replace("\n", "\r\n").encode() if encoding == "crlf" else words.encode(encoding)
    path = "card.md" if markdown else "card.txt"
    text = decode(data)
    headed = decode(encode(with_headers(text, markdown, HEADERS)))
    (before,) = read_text(text, path)
    (after,) = read_text(headed, path)
    assert sense(after) == sense(before)
    assert {header.name: header.value for header in after.headers}.items() >= dict(HEADERS).items()
    assert after.sender == "Ines"
    left = [line.words for line in headed.lines]
    for line in text.lines:
        assert line.words in left
    assert (headed.encoding, headed.mark) == (text.encoding, text.mark)
    assert {line.end for line in headed.lines[:-1]} == {text.end}


def test_front_matter_stays_whole() -> None:
    """Header lines go between the two rules, quoted where YAML needs it."""
    words = MARKDOWN["front matter"]
    headed = encode(with_headers(decode(words.encode()), True, [("from", "Ines: the elder")])).decode()
    assert headed == words.replace("sweet]\n---", 'sweet]\nfrom: "Ines: the elder"\n---')


_WORDS = st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=30).map(str.strip)


@given(st.lists(_WORDS, max_size=5), st.booleans())
def test_notes_keep_every_word(lines: list[str], markdown: bool) -> None:
    """Words put in as notes all stand in the text, whose old lines stay as they were."""
    text = decode((MARKDOWN["heading"] if markdown else RECIPE).encode())
    noted = with_notes(text, markdown, lines)
    assert noted.lines[: len(text.lines)] == text.lines
    told = " ".join(line.words for line in noted.lines[len(text.lines) :])
    assert all(word in told for line in lines for word in line.split())


@given(st.lists(st.sampled_from(["Hi all, here it is:", "sent from the train", "See you on Sunday!", ""]), max_size=4))
def test_notes_change_nothing_else(lines: list[str]) -> None:
    """Ordinary words of a mail put under a card leave its ingredients and steps as they were."""
    text = decode(RECIPE.encode())
    (before,) = read_text(text, "card.txt")
    (after,) = read_text(with_notes(text, False, lines), "card.txt")
    assert sense(after)[:3] == sense(before)[:3]
