"""Making and renewing a family recipe in a box."""

from collections.abc import Callable

import pytest

from recipebox.family import FamilyError
from recipebox.family.which import find_dish
from tests.family.conftest import LINES, STEPS, Kitchen

Differ = Callable[[str, str], list[tuple[str, str]]]


def test_a_first_edition_is_written_once_and_versions_stay(kitchen: Kitchen) -> None:
    """Looking writes nothing; writing makes edition 1 and touches no version; merging again changes nothing."""
    before = {path.name: path.read_bytes() for path in (kitchen.box.root / "versions").iterdir()}
    looked = kitchen.merge(write=False)
    assert (looked.changed, looked.written, looked.asks, looked.was) == (True, False, True, None)
    assert not (kitchen.box.root / "family").exists()
    made = kitchen.merge()
    assert (made.written, made.data["edition"], made.data["path"]) == (True, "1", "family/leek-pot.txt")
    assert kitchen.text("family/leek-pot.txt").encode() == made.text == looked.text
    again = kitchen.merge()
    assert (again.changed, again.written, again.asks, again.data["edition"]) == (False, False, False, "1")
    assert before == {path.name: path.read_bytes() for path in (kitchen.box.root / "versions").iterdir()}


def test_only_what_is_new_comes_in_and_a_hand_edit_stays(kitchen: Kitchen, lines_differ: Differ) -> None:
    """A version's change since the last edition comes in; a line the family wrote by hand is only offered another."""
    path = kitchen.merge().data["path"]
    kitchen.edit(path, "500 ml milk", "450 ml milk, warmed")
    base = "versions/brigid.txt"
    kitchen.edit(base, "500 ml milk", "550 ml milk")
    kitchen.edit(base, "700 g cod", "750 g cod")
    before = kitchen.text(path)
    renewed = kitchen.merge()
    assert renewed.written
    assert lines_differ(before, kitchen.text(path)) == [("  700 g cod", "  750 g cod")]
    (offer,) = [one for one in renewed.data["offers"] if one["source"] is None]
    assert (offer["instead"], offer["who"], offer["from"]) == ("550 ml milk", "Brigid", [base])
    (own,) = [line for line in renewed.data["lines"] if line["text"] == "450 ml milk, warmed"]
    assert own["from"] == [] and "by hand" in own["rule"]
    assert {"path": base, "text": "550 ml milk", "where": "version"}.items() <= next(
        one.items() for one in renewed.data["not_taken"] if one["text"] == "550 ml milk"
    )
    assert not kitchen.merge().written


def test_what_was_decided_before_stays_when_versions_change(kitchen: Kitchen) -> None:
    """A row that a person chose keeps its choice through renewals, and a later choice replaces it."""
    path = kitchen.merge(take=["milk=Nuala"], leave_out=["salt"], why="creamier").data["path"]
    assert "600 ml milk" in kitchen.text(path) and "1 tsp salt\n" not in kitchen.text(path).split("Some add")[0]
    kitchen.edit("versions/brigid.txt", "700 g cod", "750 g cod")
    kitchen.merge()
    assert "750 g cod" in kitchen.text(path) and "600 ml milk" in kitchen.text(path)
    chosen = kitchen.merge(take=["milk=Brigid"])
    assert chosen.written and "500 ml milk" in kitchen.text(path)
    (line,) = [line for line in chosen.data["lines"] if line["text"] == "500 ml milk"]
    assert line["choice"] == "take milk=Brigid"


def test_a_choice_that_is_no_longer_possible_is_passed_over(kitchen: Kitchen) -> None:
    """What was taken from a version that no longer has it does not stop a renewal; a new such choice is refused."""
    kitchen.merge(take=["nutmeg=Tomasz"])
    kitchen.edit("versions/tomasz.txt", "  1/2 tsp nutmeg\n", "")
    kitchen.edit("versions/tomasz.txt", "salt and nutmeg", "salt")
    renewed = kitchen.merge()
    assert "nutmeg" not in [line["text"] for line in renewed.data["lines"] if line["part"] == "ingredient"]
    with pytest.raises(FamilyError, match="nutmeg"):
        kitchen.merge(take=["nutmeg=Tomasz"])


def test_another_amount_can_be_kept_as_a_swap(kitchen: Kitchen) -> None:
    """With --swap, Nuala's milk stands under Swaps with how much for how much, and is accounted for there."""
    made = kitchen.merge(swap=["milk=Nuala"])
    (swap,) = [one for one in made.data["swaps"] if one["who"] == "Nuala"]
    assert (swap["item"], swap["how"]) == ("milk", "600 ml for 500 ml")
    assert [one["where"] for one in made.data["not_taken"] if one["text"] == "600 ml milk"] == ["swap"]


def test_two_family_recipes_of_one_dish_become_one(kitchen: Kitchen) -> None:
    """Made apart on two laptops under two names: one stays, under the path that sorts first; nothing is lost."""
    path = kitchen.merge().data["path"]
    twin = kitchen.box.root / "family/our-leek-pot.txt"
    twin.write_text(kitchen.text(path).replace("\nVersions\n", "\nNotes\n  Easter: for ten\n\nVersions\n"))
    made = kitchen.merge()
    assert (made.data["path"], twin.exists()) == (path, False)
    assert "  Easter: for ten\n" in kitchen.text(path)
    assert not kitchen.merge().changed


def test_a_choice_goes_over_a_hand_edit(kitchen: Kitchen) -> None:
    """What a person takes now stands, though the line was changed by hand before; other hand edits stay."""
    path = kitchen.merge().data["path"]
    kitchen.edit(path, "500 ml milk", "450 ml milk")
    kitchen.edit(path, "700 g cod", "650 g cod")
    kitchen.merge(take=["milk=Nuala"])
    card = kitchen.index.card(path)
    assert [line.text for line in card.ingredients][2:4] == ["600 ml milk", "650 g cod"]
    assert card.undecided == ()


def test_a_new_version_comes_in_with_its_own(kitchen: Kitchen) -> None:
    """A fourth version adds its line to Versions and what only it has to Some add; the recipe's lines stay."""
    path = kitchen.merge().data["path"]
    kitchen.write("Heike", [*LINES, "1 tbsp dill"], [*STEPS[:2], "Lay in the cod and the dill and bake 20 minutes."])
    renewed = kitchen.merge()
    assert renewed.written
    assert "  1 tbsp dill | Heike\n" in kitchen.text(path)
    assert "  Heike: versions/heike.txt\n" in kitchen.text(path)
    assert not kitchen.merge().written


def test_a_version_that_moved_is_the_same_and_one_that_is_gone_stays_named(kitchen: Kitchen) -> None:
    """Moving a version changes its path only; deleting it marks its line gone and takes nothing from the recipe."""
    path = kitchen.merge().data["path"]
    root = kitchen.box.root
    (root / "letters").mkdir()
    (root / "versions/nuala.txt").rename(root / "letters/from-nuala.txt")
    kitchen.history.snapshot("Edited by hand")
    assert "  Nuala: letters/from-nuala.txt\n" in kitchen.text(path)
    moved = kitchen.text(path)
    assert not kitchen.merge().written and kitchen.text(path) == moved
    (root / "versions/tomasz.txt").unlink()
    kitchen.merge()
    assert kitchen.text(path) == moved.replace("versions/tomasz.txt\n", "versions/tomasz.txt | gone\n")


def test_an_undone_merge_is_as_if_it_had_not_been(kitchen: Kitchen) -> None:
    """After undoing a renewal, merging brings in the same again."""
    path = kitchen.merge().data["path"]
    kitchen.edit("versions/brigid.txt", "700 g cod", "750 g cod")
    kitchen.merge()
    kitchen.history.undo()
    assert "700 g cod" in kitchen.text(path)
    kitchen.merge()
    assert "750 g cod" in kitchen.text(path)


def test_a_card_by_itself_is_a_dish_of_one(kitchen: Kitchen) -> None:
    """A card in no dish can be merged: the recipe is that card, word for word."""
    kitchen.write(
        "Ines", ["300 g chickpeas", "2 lemons"], ["Boil the chickpeas.", "Squeeze the lemons over."], path="c.txt"
    )
    kitchen.edit("c.txt", "Leek Pot", "Lemon Peas")
    made = kitchen.merge("Lemon Peas")
    assert made.data["path"] == "family/lemon-peas.txt"
    assert [line["text"] for line in made.data["lines"] if line["part"] == "ingredient"] == [
        "300 g chickpeas",
        "2 lemons",
    ]


def test_words_that_fit_nothing_or_too_much_are_told_in_one_line(kitchen: Kitchen) -> None:
    """No dish of that name, or a choice nobody's card has, is one clear line and writes nothing."""
    for call in (lambda: kitchen.merge("Gooseberry Fool"), lambda: kitchen.merge(take=["saffron=Brigid"])):
        with pytest.raises(Exception) as caught:
            call()
        assert "\n" not in str(caught.value) and len(str(caught.value)) < 300
    assert not (kitchen.box.root / "family").exists()
    with pytest.raises(FamilyError):
        find_dish(kitchen.index, "Gooseberry Fool")


def test_a_step_written_by_hand_keeps_what_it_speaks_of(kitchen: Kitchen) -> None:
    """Most no longer have the salt, but the family wrote of it in a step of its own: it stays, and nothing is asked."""
    path = kitchen.merge().data["path"]
    kitchen.edit(path, "Pour on the milk and salt.", "Pour on the milk and all the salt, slowly.")
    for name in ("brigid", "nuala"):
        kitchen.edit(f"versions/{name}.txt", "  1 tsp salt\n", "")
        kitchen.edit(f"versions/{name}.txt", "milk and salt", "milk")
    kitchen.merge()
    card = kitchen.index.card(path)
    assert "1 tsp salt" in [line.text for line in card.ingredients]
    assert (card.undecided, [some for some in card.some_add if "salt" in some.ingredient.text]) == ((), [])


def test_a_recipe_whose_versions_are_all_gone_is_known_by_its_title(kitchen: Kitchen) -> None:
    """Its versions thrown away and others come: merging the dish by name renews that card and makes no second one."""
    path = kitchen.merge().data["path"]
    for name in ("brigid", "nuala", "tomasz"):
        (kitchen.box.root / f"versions/{name}.txt").unlink()
    kitchen.history.snapshot("Edited by hand")
    kitchen.write("Heike", LINES, STEPS)
    kitchen.write("Ines", LINES, STEPS)
    made = kitchen.merge()
    assert (made.data["path"], made.written) == (path, True)
    assert [line.split(":")[0].strip() for line in kitchen.text(path).split("Versions\n")[1].splitlines()] == [
        "Brigid",
        "Heike",
        "Ines",
        "Nuala",
        "Tomasz",
    ]


def test_the_edition_shown_first_is_the_one_that_writing_makes(kitchen: Kitchen) -> None:
    """A hand edit not recorded yet is an edition of its own: the preview counts it as the writing will."""
    path = kitchen.merge().data["path"]
    kitchen.edit(path, "3 leeks, sliced", "4 leeks, sliced")
    kitchen.edit("versions/nuala.txt", "600 ml", "500 ml")
    kitchen.write("Wanda", [*LINES, "1 tsp dill"], [*STEPS, "Strew the dill over."])
    shown = kitchen.merge(write=False)
    assert shown.changed
    assert kitchen.merge().data["edition"] == shown.data["edition"] == "3"
    again = kitchen.merge(write=False)
    assert (again.changed, again.data["edition"]) == (False, "3")
