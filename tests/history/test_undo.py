"""Taking back commands."""

import pytest

from recipebox.history import History, NothingToUndoError


def command(history: History, what: str, path: str, text: str | None) -> None:
    """What a command does: record what stands, write, record with its name."""
    history.snapshot("Edited by hand")
    file = history.box.root / path
    if text is None:
        file.unlink()
    else:
        file.write_text(text)
    history.snapshot(f"Did {what}", {"command": what})


def test_undo_is_a_new_edit_that_keeps_what_was_written_since(history: History, card: str) -> None:
    """Undoing takes back the command's change and no other, not even one in the same card."""
    (history.box.root / "a.txt").write_text(card)
    command(history, "merge", "a.txt", card.replace("1 cup milk", "2 cups milk"))
    (history.box.root / "a.txt").write_text(card.replace("1 cup milk", "2 cups milk").replace("3 eggs", "4 eggs"))
    looked = history.undo(dry_run=True)
    assert "2 cups milk" in (history.box.root / "a.txt").read_text()
    undone = history.undo()
    assert undone.changed == looked.changed == ("a.txt",)
    assert undone.deed.what == "merge"
    assert (history.box.root / "a.txt").read_text() == card.replace("3 eggs", "4 eggs")
    assert len(history.log("a.txt")) == 4


def test_undo_again_takes_back_the_one_before(history: History, card: str) -> None:
    """Commands are taken back one by one, each once; an undo is not itself undone."""
    (history.box.root / "a.txt").write_text(card)
    command(history, "add", "b.txt", "Jam\n\n2 cups plums\n")
    command(history, "settle", "a.txt", card.replace("3 eggs", "4 eggs"))
    assert [deed.what for deed in history.undoable()] == ["settle", "add"]
    history.undo()
    assert (history.box.root / "a.txt").read_text() == card
    history.undo()
    assert not (history.box.root / "b.txt").exists()
    with pytest.raises(NothingToUndoError):
        history.undo()


def test_a_new_command_after_an_undo_is_the_next_to_go(history: History, card: str) -> None:
    """Undo, then another command: that one is taken back first, and then no more of what was undone."""
    (history.box.root / "a.txt").write_text(card)
    command(history, "add", "b.txt", "Jam\n\n2 cups plums\n")
    history.undo()
    command(history, "add", "c.txt", "Broth\n\n2 onions\n")
    assert [deed.why for deed in history.undoable()] == ["Did add"]
    history.undo()
    assert sorted(file.name for file in history.box.root.iterdir()) == [".recipebox", "a.txt"]


def test_a_bring_back_can_be_undone(history: History, card: str) -> None:
    """Bringing back is a command like others."""
    (history.box.root / "a.txt").write_text(card)
    first = history.snapshot("Started")
    (history.box.root / "a.txt").write_text(card.replace("3 eggs", "4 eggs"))
    assert first is not None
    history.bring_back("a.txt", first.id)
    assert history.undo().deed.what == "bring-back"
    assert "4 eggs" in (history.box.root / "a.txt").read_text()


def test_hand_edits_are_not_commands(history: History, card: str) -> None:
    """What a person typed is never taken back by undo."""
    (history.box.root / "a.txt").write_text(card)
    history.snapshot("Edited by hand")
    assert history.undoable() == []
