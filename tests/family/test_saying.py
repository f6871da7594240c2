"""The family's own say about its dishes."""

import pytest

from recipebox.family import FamilyError, say_of_dishes
from recipebox.family.which import find_dish
from tests.family.conftest import Kitchen


def _say(kitchen: Kitchen, *words: str) -> list[str]:
    return say_of_dishes(kitchen.box, kitchen.index, *words)


def test_what_is_said_is_written_and_can_be_taken_back(kitchen: Kitchen) -> None:
    """`different` takes a card out of its dish, `name` names it, `forget` takes the saying out of dishes.txt."""
    assert _say(kitchen, "versions/brigid.txt", "different", "versions/tomasz.txt") == []
    assert "different: versions/brigid.txt | versions/tomasz.txt\n" in kitchen.text("dishes.txt")
    assert "versions/tomasz.txt" not in find_dish(kitchen.index, "versions/brigid.txt").versions
    _say(kitchen, "versions/brigid.txt", "forget", "versions/tomasz.txt")
    assert "different:" not in kitchen.text("dishes.txt")
    _say(kitchen, "versions/brigid.txt", "name", "Sunday Pot")
    assert find_dish(kitchen.index, "Sunday Pot").versions == find_dish(kitchen.index, "versions/brigid.txt").versions
    assert kitchen.merge("Sunday Pot").data["path"] == "family/sunday-pot.txt"


def test_what_cannot_be_said_is_told_and_changes_nothing(kitchen: Kitchen) -> None:
    """A card with itself, a card that is not there, nothing to forget: one line each, and no file is made."""
    with pytest.raises(FamilyError, match="same dish as itself"):
        _say(kitchen, "versions/brigid.txt", "same", "versions/brigid.txt")
    with pytest.raises(FamilyError):
        _say(kitchen, "versions/brigid.txt", "same", "no-such-card.txt")
    assert _say(kitchen, "versions/brigid.txt", "forget", "versions/nuala.txt") != []
    assert not (kitchen.box.root / "dishes.txt").exists()


def test_a_dish_of_one_left_by_the_others_is_still_one_dish(kitchen: Kitchen) -> None:
    """When all versions but one are gone, the recipe, the version and the title still mean the same dish."""
    path = kitchen.merge().data["path"]
    for name in ("nuala", "tomasz"):
        (kitchen.box.root / f"versions/{name}.txt").unlink()
    renewed = kitchen.merge("Leek Pot")
    assert kitchen.text(path).count("| gone\n") == 2
    assert next(line["text"] for line in renewed.data["lines"] if line["part"] == "ingredient") == "3 leeks, sliced"
    assert find_dish(kitchen.index, "versions/brigid.txt") == find_dish(kitchen.index, path)
