"""Readers against made-up input: short by default, two million inputs with RECIPEBOX_LONG=1 in the environment.

guided.py beside this file asks the same of inputs that are bred by what code they reach.
"""

import os
import time

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipebox.cards.data import card_data, card_from_data
from recipebox.cards.ingredient import ingredient_likeness, read_closely, read_ingredient
from recipebox.cards.kinds import NotACardError
from recipebox.cards.reader import read_cards
from recipebox.cards.text import decode, encode
from recipebox.cards.wordlists import listed

EACH = 20  # inputs in one example
LONG = os.environ.get("RECIPEBOX_LONG") == "1"
LINES = settings(max_examples=1_500_000 // EACH if LONG else 60, deadline=None, suppress_health_check=list(HealthCheck))
CARDS = settings(max_examples=500_000 // EACH if LONG else 40, deadline=None, suppress_health_check=list(HealthCheck))

MARKS = sorted(
    listed(
        """# ## ### - * + 1. 2) (3) ** __ _ ` ``` ~~~ > | || |---|---| --- === +++ : :: ; , . ... … – — → [ ] ( ) { }
        <br> <li> </li> <tr> <td> </td> </tr> <!-- --> {{ }} {% %} [^1] ![a](b) [a](b) [[c]] \\ \\- & &amp; % $ @ ~ ~~
        ½ ¾ ⁄ / x × ° ℉ № ① 🍞 ✓ ' ’ " “ ” !!! ::: title: ingredients: method: a: {a: 1} [x, "y"] key ="""
    )
)
WORDS = sorted(
    listed(
        """1 2 1/2 10 400 14.5 1,5 6-8 6 to 8 a an half dozen one two three cup cups c. T t tbsp tsp. oz lb g kg ml can
        cans tin package clove pinch EL TL msk cc dl flour salt butter eggs milk water chicken stock tomatoes or and
        plus each of the about scant heaped optional taste for serving chopped (14.5 oz) drained divided minus more
        Ingredients Method Directions Instructions Notes Serves Makes Prep time Bake Heat oven 375 F 180C gas 4 30
        minutes Mix Stir everything Add Zutaten Zubereitung Dear Ann Love Brigid From Subject Undecided Settled
        Versions Swaps Variations chosen leeks -> onions | Tomasz versions/a.txt Step Day Topping For sauce need"""
    )
)
space = st.sampled_from(["  ", "\t", "\n", "\n\n", "\r\n", "\u2028"])
piece = st.sampled_from([*MARKS, *WORDS]) | st.text(max_size=6) | space
line = st.lists(piece, max_size=14).map(" ".join) | st.lists(piece, max_size=8).map("".join) | st.text(max_size=60)
text = st.lists(line, max_size=14).map("\n".join)


def check_line(words: str) -> None:
    """A line's reading is of a known kind, keeps its words, and is what the closer look gives."""
    found = read_ingredient(words)
    assert found.kind in ("ingredient", "heading", "text")
    assert found.text in words
    assert 0 <= ingredient_likeness(words) <= 1
    assert found.amount is None or found.amount.low <= found.amount.high
    assert read_closely(words) == found


def check_text(data: bytes, path: str) -> None:
    """A text is no card, or cards whose lines have a role each; its bytes and the cards' data come back the same."""
    try:
        cards = read_cards(data, path)
    except NotACardError:
        return
    whole = decode(data)
    assert encode(whole) == data
    numbers = [role.number for card in cards for role in card.lines]
    assert numbers == list(range(1, len(whole.lines) + 1))
    for card in cards:
        assert card.title
        assert card.ingredients or len(card.steps) > 1
        assert card_data(card_from_data(card_data(card))) == card_data(card)
        for role in card.lines:
            assert 0 <= role.start <= role.end <= len(whole.lines[role.number - 1].words)


@LINES
@given(st.lists(line, min_size=EACH, max_size=EACH))
def test_no_line_breaks_the_line_reader(lines: list[str]) -> None:
    """Any words are read as an ingredient, a heading or text that keeps them, in bounded time."""
    for words in lines:
        start = time.process_time()
        check_line(words)
        assert time.process_time() - start < 0.5  # test_reading.py holds long lines to a bound


@CARDS
@given(st.lists(text, min_size=EACH, max_size=EACH), st.sampled_from(["a.md", "a.txt", "family/a.md"]))
def test_no_text_breaks_the_card_reader(texts: list[str], path: str) -> None:
    """Any text is read as cards whose lines have a role each, or is no card; its bytes come back the same."""
    for words in texts:
        check_text(words.encode("utf-8", "surrogatepass"), path)
