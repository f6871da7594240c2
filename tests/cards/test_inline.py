"""Words without their marks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.inline import plain


@pytest.mark.parametrize(
    ("marked", "words"),
    [
        ("**2 cups** flour", "2 cups flour"),
        ("*salt* and _pepper_", "salt and pepper"),
        ("snake_case_word 2 * 3", "snake_case_word 2 * 3"),
        ("[oil](https://example.org/a_(b)) now", "oil now"),
        ("![a pan](p.jpg) x", "a pan x"),
        ("&frac12; cup&nbsp;milk", "½ cup milk"),
        (r"1\. Mix \*well\*", "1. Mix *well*"),
        ("`2 eggs`<br>", "2 eggs"),
        ("~~2~~ 3 eggs", "3 eggs"),
        ("[[olive oil|oil]]", "oil"),
        ("salt[^1] <!-- sea -->", "salt"),
        (r"$\frac{1}{2}$ cup", "1/2 cup"),
    ],
)
def test_marks_are_taken_off(marked: str, words: str) -> None:
    """CommonMark emphasis, links, code, entities, escapes and HTML leave their words."""
    assert plain(marked) == words


@given(st.text(st.characters(whitelist_categories=["Ll", "Lu", "Nd"]) | st.just(" "), max_size=60))
def test_plain_words_stay_as_they_are(words: str) -> None:
    """Letters, digits and spaces are words already."""
    assert plain(words) == " ".join(words.split())


@given(st.text("*_`[]()<>!\\&~ ab", max_size=80))
def test_letters_are_never_made_up(marked: str) -> None:
    """Taking marks off adds no letter."""
    assert plain(marked).count("a") <= marked.count("a")
