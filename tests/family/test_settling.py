"""What is undecided in a box, and settling it."""

import pytest

from recipebox.family import FamilyError, open_entries, settle_entry
from recipebox.merge import merge_card
from tests.family.conftest import Kitchen

_PATH = "versions/brigid.txt"


def _quarrel(kitchen: Kitchen) -> None:
    base = kitchen.text(_PATH).encode()
    sides = [base.replace(b"700 g cod", b"750 g cod"), base.replace(b"700 g cod", b"650 g cod")]
    (kitchen.box.root / _PATH).write_bytes(merge_card(base, sides, _PATH))
    kitchen.index.refresh()


def test_an_entry_is_listed_settled_and_opened_again(kitchen: Kitchen) -> None:
    """A quarrel is shown with its wordings and who wrote them; a choice moves it to settled, `again` takes it back."""
    _quarrel(kitchen)
    kitchen.history.snapshot("Edited by hand")
    (entry,) = open_entries(kitchen.box, kitchen.index, kitchen.history)["undecided"]
    assert entry["path"] == _PATH
    assert [one["text"] for one in entry["wordings"]] == ["650 g cod", "750 g cod"]
    assert {laptop for one in entry["wordings"] for laptop in one["laptops"]} == {"kitchen"}
    settle_entry(kitchen.box, kitchen.index, kitchen.history, _PATH, entry["about"], take="2")
    data = open_entries(kitchen.box, kitchen.index, kitchen.history, _PATH)
    assert data["undecided"] == [] and len(data["settled"]) == 1
    assert "  750 g cod\n" in kitchen.text(_PATH)
    settle_entry(kitchen.box, kitchen.index, kitchen.history, _PATH, entry["about"], again=True)
    assert len(open_entries(kitchen.box, kitchen.index, kitchen.history)["undecided"]) == 1


def test_settling_can_be_undone(kitchen: Kitchen) -> None:
    """Settling is one deed that undo takes back whole."""
    _quarrel(kitchen)
    (entry,) = open_entries(kitchen.box, kitchen.index, kitchen.history)["undecided"]
    kitchen.history.snapshot("Edited by hand")
    before = kitchen.text(_PATH)
    settle_entry(kitchen.box, kitchen.index, kitchen.history, _PATH, entry["about"], take="650 g cod")
    assert kitchen.text(_PATH) != before
    kitchen.history.undo()
    assert kitchen.text(_PATH) == before


@pytest.mark.parametrize(("about", "take"), [("cod", "7"), ("saffron", "1"), ("cod", "a whole whale")])
def test_what_is_not_there_is_told_in_one_line(kitchen: Kitchen, about: str, take: str) -> None:
    """No such entry, number or wording: one clear line, and the card as it was."""
    _quarrel(kitchen)
    before = kitchen.text(_PATH)
    with pytest.raises(FamilyError) as caught:
        settle_entry(kitchen.box, kitchen.index, kitchen.history, _PATH, about, take=take)
    assert "\n" not in str(caught.value) and kitchen.text(_PATH) == before


def test_what_dishes_txt_says_both_ways_is_undecided_too(kitchen: Kitchen) -> None:
    """`same` and `different` of one pair are listed, and taking one takes the other out."""
    pair = "versions/brigid.txt | versions/nuala.txt"
    (kitchen.box.root / "dishes.txt").write_text(f"same: {pair}\ndifferent: {pair}\n")
    (entry,) = open_entries(kitchen.box, kitchen.index, kitchen.history)["undecided"]
    settle_entry(kitchen.box, kitchen.index, kitchen.history, "dishes.txt", entry["about"], take="2")
    assert kitchen.text("dishes.txt") == f"{entry['wordings'][1]['text']}\n"
    assert open_entries(kitchen.box, kitchen.index, kitchen.history)["undecided"] == []
