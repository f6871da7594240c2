"""Which folder is a box and which laptop this is."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from recipebox.box import Box, BoxError, NoBoxError, create, find


def test_a_box_is_found_from_any_folder_within(box: Box) -> None:
    """A command typed deep in a box finds the same box, laptop and name as at its root."""
    deep = box.root / "pies" / "fish"
    deep.mkdir(parents=True)
    assert find(deep) == find(box.root) == box
    assert box.laptop == "kitchen"


def test_no_box_says_what_to_type(tmp_path: Path) -> None:
    """Outside a box there is one line with the folder and the command that makes one."""
    with pytest.raises(NoBoxError) as caught:
        find(tmp_path)
    assert str(tmp_path) in str(caught.value)
    assert "recipebox start" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_named_exactly_only_the_folder_itself_counts(box: Box) -> None:
    """A box named outright is not looked for further up."""
    (box.root / "pies").mkdir()
    with pytest.raises(NoBoxError):
        find(box.root / "pies", exactly=True)


def test_starting_again_keeps_the_box(box: Box) -> None:
    """`start` in a box keeps its ids, and a new laptop name is taken over."""
    again = create(box.root, "study")
    assert (again.box_id, again.laptop_id, again.laptop) == (box.box_id, box.laptop_id, "study")
    assert find(box.root).laptop == "study"


def test_no_box_within_a_box(box: Box) -> None:
    """A box inside another would have every card in both, so it is refused and nothing is made."""
    with pytest.raises(BoxError, match="within the box"):
        create(box.root / "pies")
    assert not (box.root / "pies").exists()


def test_a_moved_box_is_the_same_laptop(box: Box, tmp_path: Path) -> None:
    """On the same computer a folder that was moved keeps its laptop id and says nothing."""
    said: list[str] = []
    box.root.rename(tmp_path / "moved")
    moved = find(tmp_path / "moved", said.append)
    assert (moved.box_id, moved.laptop_id) == (box.box_id, box.laptop_id)
    assert said == []
    assert find(tmp_path / "moved") == moved


def test_a_copied_box_is_another_laptop(box: Box, tmp_path: Path) -> None:
    """On the same computer a copy gets a laptop id of its own, once, and says so; the first keeps its own."""
    said: list[str] = []
    shutil.copytree(box.root, tmp_path / "copy")
    copy = find(tmp_path / "copy", said.append)
    assert copy.box_id == box.box_id
    assert copy.laptop_id != box.laptop_id
    assert copy.hidden == tmp_path / "copy" / ".recipebox"
    assert len(said) == 1
    assert find(tmp_path / "copy", said.append) == copy
    assert len(said) == 1
    assert find(box.root) == box


def test_another_computer_keeps_its_state_to_itself(box: Box, move_to_computer: Callable[[str], None]) -> None:
    """Opened on another computer, the box has a new laptop id there, its state outside the box, and says so once."""
    said: list[str] = []
    before = (box.root / ".recipebox" / "here.txt").read_bytes()
    move_to_computer("theirs")
    theirs = find(box.root, said.append)
    assert theirs.box_id == box.box_id
    assert theirs.laptop_id != box.laptop_id
    assert box.root not in theirs.hidden.parents
    assert len(said) == 1
    assert "kitchen" in said[0]
    assert find(box.root, said.append) == theirs
    assert len(said) == 1
    assert (box.root / ".recipebox" / "here.txt").read_bytes() == before
    move_to_computer("ours")
    assert find(box.root) == box


def test_another_computer_follows_a_moved_box(
    box: Box, tmp_path: Path, move_to_computer: Callable[[str], None]
) -> None:
    """A computer that keeps its state outside the box finds it again after the folder was moved."""
    move_to_computer("theirs")
    theirs = find(box.root)
    box.root.rename(tmp_path / "moved")
    moved = find(tmp_path / "moved")
    assert (moved.laptop_id, moved.hidden) == (theirs.laptop_id, theirs.hidden)


def test_a_computer_without_marks_is_not_another(box: Box, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a mark cannot be read it says nothing, so the laptop stays what it was."""
    monkeypatch.setattr("recipebox.box.place.computer", lambda: ("-", "-"))
    assert find(box.root) == box


@pytest.mark.parametrize("note", [b"", b"box: 1\n", b"\xff\xfe\x00", b"box: \nlaptop: \n"])
def test_a_damaged_note_is_one_clear_line(box: Box, note: bytes) -> None:
    """A here.txt that lost something is named with what to do, never taken for a new box."""
    (box.hidden / "here.txt").write_bytes(note)
    with pytest.raises(BoxError, match=r"here.txt: is damaged; remove it"):
        find(box.root)


def test_a_laptop_name_is_one_line(tmp_path: Path) -> None:
    """A name with line breaks cannot add lines to the note."""
    made = create(tmp_path / "box", "study\nlaptop: 0000\x1b[1m")
    assert find(tmp_path / "box") == made
    assert made.laptop.isprintable()
    assert made.laptop_id != "0000"


def test_start_where_nothing_can_be_written(tmp_path: Path) -> None:
    """A place that takes no folder gives one clear line."""
    (tmp_path / "file").write_text("x")
    with pytest.raises(BoxError) as caught:
        create(tmp_path / "file" / "box")
    assert "could not be written" in str(caught.value)
