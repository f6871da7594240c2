"""Searching the cards."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipebox.box import Box
from recipebox.index import Hits, Index, open_index


def paths(hits: Hits) -> list[str]:
    return [hit.path for hit in hits.hits]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("leek", ["bakes/leek.txt", "soups/potato.md"]),
        ("LEEKS", ["bakes/leek.txt", "soups/potato.md"]),
        ("leeks fish", ["bakes/leek.txt"]),
        ("fudge with walnuts", ["fudge.txt"]),
        ("creme", ["bakes/leek.txt"]),
        ("crème", ["bakes/leek.txt"]),
        ("potatoes", ["soups/potato.md"]),
        ("walnut", ["fudge.txt"]),
        ("pim", ["soups/potato.md"]),
        ("casserole", ["bakes/leek.txt"]),
        ("turnip", []),
        ("leek turnip", []),
        ("", []),
        ("!?", []),
        ('"leek" OR NOT (', []),
    ],
)
def test_words_find_cards(index: Index, words: str, found: list[str]) -> None:
    """All words must stand in the card, in any form, field, case or accent; nothing typed is taken for a command."""
    assert paths(index.find(words)) == found


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("parsely", "soups/potato.md"),
        ("wallnut", "fudge.txt"),
        ("caserole", "bakes/leek.txt"),
        ("odlie", "bakes/leek.txt"),
        ("parsl", "soups/potato.md"),
    ],
)
def test_spelling_is_forgiven(index: Index, typed: str, found: str) -> None:
    """A word that no card has finds the cards with the word it is nearest to, or that it begins."""
    assert paths(index.find(typed)) == [found]


def test_a_forgiven_word_is_told(index: Index) -> None:
    """When a word was read as another, `why` says so; a word found as typed is not remarked on."""
    assert index.find("parsely").hits[0].why == "Mash it with parsley. (read parsely: parsley)"
    assert "read" not in index.find("parsley").hits[0].why


def test_a_known_word_is_never_respelled(index: Index) -> None:
    """A word the box has is not widened to words spelled like it."""
    assert paths(index.find("milk")) == ["soups/potato.md"]
    assert paths(index.find("mash")) == ["soups/potato.md"]


def test_titles_count_most(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """A word in the title goes before the same word among the ingredients, and that before one in the steps."""
    put("a.txt", "Plain Bread\n\nIngredients\n1 lb flour\n1 cup ale\n\nMethod\n1. Mix with quince.\n2. Bake.\n")
    put("b.txt", "Plain Buns\n\nIngredients\n1 lb flour\n1 quince\n\nMethod\n1. Mix with ale.\n2. Bake.\n")
    put("c.txt", "Quince Bread\n\nIngredients\n1 lb flour\n1 cup ale\n\nMethod\n1. Mix with milk.\n2. Bake.\n")
    index.refresh()
    assert paths(index.find("quince")) == ["c.txt", "b.txt", "a.txt"]


def test_why_shows_the_matching_lines(index: Index) -> None:
    """`why` has a line for each word, each line once."""
    assert index.find("slab sugar").hits[0].why.split(" | ") == [
        "2 cups sugar",
        "Stir in the walnuts and pour onto a slab.",
    ]
    assert index.find(has=["walnut"]).hits[0].why == "1/2 cup walnuts"
    assert index.find(sender="odile", tag="Freezes  well").hits[0].why == "from Odile | tag freezes well"


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ({"has": ["leek"]}, ["bakes/leek.txt", "soups/potato.md"]),
        ({"has": ["Leeks, sliced", "potato"]}, ["soups/potato.md"]),
        ({"has": ["parsley"]}, []),
        ({"without": ["leeks"]}, ["fudge.txt"]),
        ({"words": "boil", "without": ["sugar"]}, ["soups/potato.md"]),
        ({"has": ["leek"], "without": ["milk"]}, ["bakes/leek.txt"]),
        ({"sender": "pim"}, ["soups/potato.md"]),
        ({"sender": "AUNT PIM"}, ["soups/potato.md"]),
        ({"sender": "pi"}, []),
        ({"tag": "Casserole"}, ["bakes/leek.txt"]),
        ({"tag": "freezes"}, []),
        ({"words": "leek", "tag": "casserole", "sender": "Odile"}, ["bakes/leek.txt"]),
    ],
)
def test_filters(index: Index, asked: dict[str, object], found: list[str]) -> None:
    """--has and --without go by the thing among the ingredients, --from by words of the name, --tag by the tag."""
    assert paths(index.find(**asked)) == found  # type: ignore[arg-type]


@settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
@given(words=st.text(max_size=40) | st.lists(st.sampled_from(["leek", "NEAR", '"', "*", "fudge"])).map(" ".join))
def test_any_words_can_be_typed(index: Index, words: str) -> None:
    """Whatever is typed, a search answers with cards of the box, and nothing is taken for a command."""
    for hit in index.find(words, has=[words][: len(words) % 2]).hits:
        assert index.card(hit.path).title == hit.title


def test_a_very_long_search_is_answered(index: Index) -> None:
    """Pages pasted as a search are no error; the first thirty words count."""
    assert paths(index.find("walnut fudge, stir in the sugar " * 5000)) == ["fudge.txt"]
    assert index.find(" ".join(f"word{number}" for number in range(5000))).hits == ()


def test_at_most_fifty_hits(box: Box, put) -> None:  # type: ignore[no-untyped-def]
    """More than fifty cards are counted, equally good ones stand in order of path."""
    for number in range(60):
        put(f"{number:02}.txt", f"Bun\n\nIngredients\n1 egg\n{number} g flour\n\nMethod\nMix.\n\nBake.\n")
    with open_index(box) as index:
        index.refresh()
        hits = index.find("bun")
    assert paths(hits) == [f"{number:02}.txt" for number in range(50)]
    assert hits.more == 10
