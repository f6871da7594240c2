"""The past of a family recipe."""

from typing import Any

import pytest

from recipebox.family import Answer, FamilyError, history_data
from tests.family.conftest import Kitchen


def _ask(kitchen: Kitchen, words: str | None = "family/leek-pot.txt", **asked: Any) -> Answer:
    return history_data(kitchen.box, kitchen.index, kitchen.history, words, **asked)


def _two_editions(kitchen: Kitchen) -> None:
    path = kitchen.merge(take=["milk=Nuala"], why="creamier").data["path"]
    kitchen.edit(path, "700 g cod", "650 g cod")
    kitchen.history.snapshot("Edited by hand")


def test_editions_are_listed_with_why(kitchen: Kitchen) -> None:
    """Each edition with number, laptop and why; one is current; a dish's name means its recipe."""
    _two_editions(kitchen)
    entries = _ask(kitchen, "Leek Pot").data["entries"]
    assert [(one["edition"], one["why"], one["current"]) for one in entries] == [
        ("1", "creamier", False),
        ("2", "Edited by hand", True),
    ]
    assert {one["laptop"] for one in entries} == {"kitchen"}


def test_an_edition_is_shown_compared_and_brought_back(kitchen: Kitchen) -> None:
    """An earlier text can be read, set beside another, and made current again as a new edition."""
    _two_editions(kitchen)
    assert "700 g cod" in _ask(kitchen, edition="1").data["text"]
    rows = _ask(kitchen, compare=("1", "2")).data["ingredients"]
    assert [row["kind"] for row in rows if "fish" in row["item"] or "cod" in row["item"]] == ["amount"]
    answer = _ask(kitchen, bring_back="1")
    assert [one["edition"] for one in answer.data["entries"] if one["current"]] == ["3"]
    assert "700 g cod" in kitchen.text("family/leek-pot.txt")
    rules = {line["text"]: line["rule"] for line in _ask(kitchen, whose=True).data["lines"]}
    assert "changed by hand" not in rules["700 g cod"]
    with pytest.raises(FamilyError, match="there are 1, 2, 3"):
        _ask(kitchen, edition="9")


def test_each_line_says_whose_it_is_since_when_and_by_which_choice(kitchen: Kitchen) -> None:
    """Every line of every version is in the recipe's lines or not taken, once, also after a hand edit."""
    _two_editions(kitchen)
    data = _ask(kitchen, whose=True).data
    by_text = {line["text"]: line for line in data["lines"]}
    assert by_text["600 ml milk"]["choice"] == "take milk=Nuala"
    assert by_text["600 ml milk"]["from"] == ["versions/nuala.txt"]
    assert (by_text["650 g cod"]["from"], by_text["650 g cod"]["since"]) == ([], "2")
    assert by_text["50 g butter"]["since"] == "1"
    for path in ("versions/brigid.txt", "versions/nuala.txt", "versions/tomasz.txt"):
        card = kitchen.index.card(path)
        count = sum(path in line["from"] for line in data["lines"] if line["part"] in ("ingredient", "step"))
        count += sum(one["path"] == path for one in data["not_taken"])
        assert count == len(card.ingredients) + len(card.steps)


def test_words_and_cards_of_the_past_are_found(kitchen: Kitchen) -> None:
    """Words that no longer stand, and cards that are gone, are found again."""
    _two_editions(kitchen)
    found = _ask(kitchen, None, find="700 g cod").data["found"]
    assert "family/leek-pot.txt" in {one["path"] for one in found}
    (kitchen.box.root / "versions/tomasz.txt").unlink()
    kitchen.history.snapshot("Edited by hand")
    kitchen.index.refresh()
    assert [one["path"] for one in _ask(kitchen, None, gone=True).data["gone"]] == ["versions/tomasz.txt"]
    _ask(kitchen, "versions/tomasz.txt", bring_back="1")
    assert (kitchen.box.root / "versions/tomasz.txt").exists()


def test_a_versions_lines_are_its_cooks_own(kitchen: Kitchen) -> None:
    """Asked of a version, every line is its cook's, and nothing is called the family's."""
    kitchen.history.snapshot("Edited by hand")
    data = _ask(kitchen, "versions/tomasz.txt", whose=True).data
    assert {(tuple(line["from"]), line["rule"]) for line in data["lines"]} == {
        (("versions/tomasz.txt",), "Tomasz's own card")
    }
