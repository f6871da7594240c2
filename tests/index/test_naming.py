"""Which card or dish a person means."""

import pytest

from recipebox.index import AmbiguousError, Index, NotFoundError


@pytest.mark.parametrize(
    ("words", "called"),
    [
        ("fudge.txt", ["fudge.txt"]),
        ("./soups/potato.md", ["soups/potato.md"]),
        ("walnut fudge", ["fudge.txt"]),
        ("fudge", ["fudge.txt"]),
        ("odile", ["bakes/leek.txt"]),
        ("pim soup", ["soups/potato.md"]),
        ("Aunt Pim", ["soups/potato.md"]),
        ("leeks", []),
        ("nothing", []),
        ("", []),
        ("%", []),
    ],
)
def test_a_path_or_words_of_title_and_name(index: Index, words: str, called: list[str]) -> None:
    """A path as printed is that card; else words of titles and NAMEs fit, and those of other lines do not."""
    assert [card.called for card in index.resolve(words)] == called


def test_a_whole_title_goes_before_its_words(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """The card whose title is just these words is meant, though others have the words in theirs."""
    put("two.txt", "Walnut Fudge Cake\n\n1 cup sugar\n2 eggs\n\nMix well.\n\nBake until brown.\n")
    index.refresh()
    assert index.one("walnut fudge").called == "fudge.txt"
    assert [card.called for card in index.resolve("walnut")] == ["fudge.txt", "two.txt"]


def test_more_than_one_gives_the_list(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """Words that fit several cards name them all in one line, and none is chosen."""
    put("two.txt", "Walnut Fudge Cake\n\n1 cup sugar\n2 eggs\n\nMix well.\n\nBake until brown.\n")
    index.refresh()
    with pytest.raises(AmbiguousError) as caught:
        index.one("walnut")
    assert caught.value.fits == ("fudge.txt", "two.txt")
    assert str(caught.value).isprintable()
    assert "fudge.txt, two.txt" in str(caught.value)


def test_no_card_is_told(index: Index) -> None:
    """Words that fit nothing give one line with how to look for it."""
    with pytest.raises(NotFoundError, match="recipebox find"):
        index.one("turnip")


def test_a_card_is_given_as_it_was_read(index: Index) -> None:
    """A card from the index has its title, NAME, sender, ingredients and steps."""
    card = index.one("odile")
    assert (card.title, card.name, card.sender, len(card.ingredients), len(card.steps)) == (
        "Leek and Fish Bake",
        "Odile",
        "Odile",
        3,
        2,
    )


def test_a_single_name_stands_for_its_dish(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """One CARD or the dish's name gives all its versions; several CARDs give just these."""
    text = index.box.root.joinpath("fudge.txt").read_text()
    put("pim.txt", text.replace("Walnut Fudge", "Walnut Fudge\nfrom: Pim"))
    index.refresh()
    dish = index.dish("fudge.txt")
    assert dish is not None
    assert [member.called for member in dish.cards] == ["fudge.txt", "pim.txt"]
    assert [card.called for card in index.named(["pim.txt"])] == ["fudge.txt", "pim.txt"]
    assert [card.called for card in index.named([dish.name])] == ["fudge.txt", "pim.txt"]
    assert [card.called for card in index.named(["pim.txt", "odile"])] == ["pim.txt", "bakes/leek.txt"]
    assert [card.called for card in index.named(["fudge"])] == ["fudge.txt", "pim.txt"]  # both are one dish
    assert index.dish("odile") is None


def test_two_versions_of_one_person_are_told_apart(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """In one dish the second Pim is "Pim 2", in order of path, wherever she is named: cards, words, `find --from`."""
    text = index.box.root.joinpath("fudge.txt").read_text()
    for path in ("letters/pim.txt", "b/pim.txt"):
        put(path, text.replace("Walnut Fudge", "Walnut Fudge\nfrom: Pim"))
    put("fudge.txt", text.replace("Walnut Fudge", "Walnut Fudge\nfrom: Ode"))
    index.refresh()
    assert {card.called: card.name for card in index.named(["ode"])} == {
        "fudge.txt": "Ode",
        "b/pim.txt": "Pim",
        "letters/pim.txt": "Pim 2",
    }
    assert [card.name for card in index.cards() if "Pim" in card.name] == ["Pim", "Pim 2", "Aunt Pim"]
    assert index.one("pim 2").called == "letters/pim.txt"
    assert index.one("pim").called == "b/pim.txt"
    (hit,) = index.find(sender="pim 2").hits
    assert (hit.path, hit.why) == ("letters/pim.txt", "from Pim 2")
    put("b/pim.txt", text.replace("Walnut Fudge", "Walnut Fudge\nfrom: Kai"))
    index.refresh()
    assert index.card("letters/pim.txt").name == "Pim"
