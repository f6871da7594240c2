"""NAMES of versions and sign-offs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.names import told_apart
from recipebox.cards.reader import read_cards

BODY = "Cake\n\n2 eggs\n200 g flour\n\nMix the eggs and flour.\n\nBake for 20 minutes.\n\n"


@pytest.mark.parametrize(
    ("end", "name"),
    [
        ("Love, Brigid", "Brigid"),
        ("Yours,\nTomasz", "Tomasz"),
        ("xx Ilse", "Ilse"),
        ("Best wishes from your Oda", "Oda"),
        ("- Carol-Ann", "Carol-Ann"),
        ("Ines, 2024", "Ines"),
        ("Nuala, Leeds, February 2025", "Nuala"),
        ("-- Nuala (2019)", "Nuala"),
        ("From Nuala's kitchen, 12 May 1987", "Nuala"),
        ("", "oat-cake"),
    ],
)
def test_a_letter_is_named_after_who_signed_it(end: str, name: str) -> None:
    """The sign-off's name without its closing words, else the file's name without ending; its words are a note."""
    (card,) = read_cards((BODY + end).encode(), "letters/oat-cake.txt")
    assert card.name == name
    assert card.sender is None
    assert [step.text for step in card.steps] == ["Mix the eggs and flour.", "Bake for 20 minutes."]


@pytest.mark.parametrize(
    "credit", ["Recipe from: Oda Byrne", "*submitted by Oda Byrne*", "from the kitchen of Oda Byrne"]
)
def test_a_credit_names_the_version(credit: str) -> None:
    """Who a recipe is said to be from stands in for a `from:` line, above or below."""
    for text in (BODY + credit, BODY.replace("Cake\n", f"Cake\n\n{credit}\n")):
        (card,) = read_cards(text.encode(), "a.md")
        assert card.name == "Oda Byrne"


def test_a_from_line_comes_before_a_sign_off() -> None:
    """`from:` names the version whoever signed."""
    (card,) = read_cards(("Cake\nfrom: Nuala\n" + BODY[5:] + "Love, Brigid").encode(), "a.txt")
    assert (card.name, card.sender) == ("Nuala", "Nuala")


def test_a_second_of_the_same_name_is_told_apart() -> None:
    """In order of path and without regard to case; who is called so already keeps the name."""
    names = {"b.txt": "brigid", "a.txt": "Brigid", "c.txt": "Tomasz", "d.txt": "Brigid", "e.txt": "Brigid 2"}
    assert told_apart(names) == {
        "a.txt": "Brigid", "b.txt": "brigid 3", "c.txt": "Tomasz", "d.txt": "Brigid 4", "e.txt": "Brigid 2",
    }  # fmt: skip


@given(st.dictionaries(st.text("abc/", min_size=1), st.sampled_from(["Ines", "ines", "Ines 2", "Tomasz"])))
def test_no_two_names_are_alike(names: dict[str, str]) -> None:
    """However many share a name, no two are called alike, and telling apart again changes nothing."""
    told = told_apart(names)
    assert len({name.casefold() for name in told.values()}) == len(names)
    assert told_apart(told) == told
    assert all(told[called].startswith(name) for called, name in names.items())


@pytest.mark.parametrize("signed", ["Love to all\n- Pete", "- Pete", "Pete", "Love, Pete", "xx Pete"])
def test_a_short_letter_is_signed_however_its_name_stands(signed: str) -> None:
    """A name behind a dash, under closing words or alone on the last line signs a letter that greets somebody."""
    text = f"Dear Brigid,\n\nLeek soup\n\n- 2 leeks\n- 1 onion\n\nSimmer for an hour.\n\n{signed}\n"
    (card,) = read_cards(text.encode(), "letter.txt")
    assert card.name == "Pete"
    assert [line.text for line in card.ingredients] == ["2 leeks", "1 onion"]


def test_a_dash_and_a_name_right_under_the_last_words_is_a_sign_off() -> None:
    """ "- Pete" under a remark, without a blank line between, names the version and is no list of one."""
    (card,) = read_cards((BODY + "I know Brigid would not.\n- Pete\n").encode(), "letters/oat-cake.txt")
    assert card.name == "Pete"
    assert [item.item for item in card.ingredients] == ["eggs", "flour"]
