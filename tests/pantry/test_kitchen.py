"""The kitchen of a laptop and its list."""

from pathlib import Path

import pytest

from recipebox.box import Box, create
from recipebox.pantry import PantryError, add_on_hand, on_hand_data, read_kitchen, set_kitchen, use_on_hand


@pytest.fixture
def box(tmp_path: Path) -> Box:
    """A box with nothing in it."""
    return create(tmp_path / "box", "kitchen")


def test_what_is_added_and_used_stands_in_the_list(box: Box) -> None:
    """Adding grows an entry, using shrinks the one that must go first; what is not there is told in one line."""
    add_on_hand(box, "fridge", "2 leeks, use by 2026-12-01")
    add_on_hand(box, "fridge", "1 litre milk")
    add_on_hand(box, "fridge", "1 litre milk")
    use_on_hand(box, "1 leek")
    use_on_hand(box, "1 litre milk")
    entries = on_hand_data(box)["entries"]
    assert [(one["item"], one["amount"]["low"], one["use_by"]) for one in entries] == [
        ("leek", "1", "2026-12-01"),
        ("milk", "1", None),
    ]
    with pytest.raises(PantryError, match="saffron"):
        use_on_hand(box, "saffron")
    with pytest.raises(PantryError):
        add_on_hand(box, "cellar", "2 leeks")


def test_each_kitchen_has_its_own_list(box: Box) -> None:
    """The first kitchen keeps on-hand.txt; a second writes a file of its own, and both stay."""
    add_on_hand(box, "pantry", "1 kg flour")
    set_kitchen(box, "Cork")
    assert read_kitchen(box)[0] == "Cork"
    assert [entry.item for entry in read_kitchen(box)[1].entries] == ["flour"]
    (box.root / "on-hand-leeds.txt").write_text("Pantry\n  2 kg rice\n")
    set_kitchen(box, "Leeds")
    assert [entry.item for entry in read_kitchen(box)[1].entries] == ["rice"]
    with pytest.raises(PantryError):
        set_kitchen(box, "!!")


def test_a_list_that_is_no_text_is_trouble_not_a_crash(box: Box) -> None:
    """A broken file is named, and nothing is on hand."""
    (box.root / "on-hand.txt").write_bytes(b"\0\0")
    data = on_hand_data(box)
    assert data["entries"] == [] and data["trouble"][0]["path"] == "on-hand.txt"
