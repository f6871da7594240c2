"""Recording a box: what changed, what moved, what is torn."""

import os
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipebox.box import create
from recipebox.history import History, HistoryError, open_history


def write(history: History, path: str, text: str) -> None:
    file = history.box.root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(text.encode())


def test_only_changes_are_recorded(history: History, card: str) -> None:
    """A snapshot records exact bytes once; nothing new gives None."""
    write(history, "pies/a.txt", card.replace("\n", "\r\n"))
    first = history.snapshot("Started")
    assert first is not None
    assert first.changed == ("pies/a.txt",)
    assert history.text_at(first.id, "pies/a.txt") == card.replace("\n", "\r\n").encode()
    assert history.snapshot("Again") is None
    assert history.commit(first.id).message.facts["box"] == history.box.box_id


def test_an_empty_box_has_no_history(history: History) -> None:
    """Nothing is recorded before there is anything."""
    assert history.snapshot("Nothing") is None
    assert history.head is None
    assert history.log("a.txt") == []
    assert history.editions("a.txt") == []


def test_a_move_is_recorded_and_followed(history: History, card: str) -> None:
    """A card renamed and rewritten is the same card, and dishes.txt and Versions follow in the same snapshot."""
    write(history, "a.txt", card)
    write(history, "dishes.txt", "same: a.txt | z.txt\n")
    write(history, "family/leek-pie.txt", card + "\nVersions\n  Marit: a.txt | double batch\n")
    history.snapshot("Started")
    (history.box.root / "a.txt").unlink()
    write(history, "pies/b.txt", card.replace("3 eggs", "4 eggs"))
    made = history.snapshot("Moved")
    assert made is not None
    assert made.moves == {"a.txt": "pies/b.txt"}
    assert (history.box.root / "dishes.txt").read_text() == "same: pies/b.txt | z.txt\n"
    assert "Marit: pies/b.txt | double batch" in (history.box.root / "family/leek-pie.txt").read_text()
    assert [entry.path for entry in history.log("pies/b.txt")] == ["pies/b.txt", "a.txt"]
    assert history.snapshot("Again") is None


@pytest.mark.parametrize("torn", ["", "Lantern Street Leek Pie\nserves: 6\n\nIngredients\n"])
def test_a_torn_card_is_not_recorded(history: History, card: str, torn: str) -> None:
    """An emptied or cut-off card stays on disk as it is and history keeps the whole one, until told otherwise."""
    write(history, "a.txt", card)
    write(history, "b.txt", card)
    history.snapshot("Started")
    write(history, "a.txt", torn)
    write(history, "b.txt", card.replace("3 eggs", "4 eggs"))
    made = history.snapshot("Edited")
    assert made is not None
    assert made.changed == ("b.txt",)
    assert [path for path, _ in history.set_aside()] == ["a.txt"]
    assert (history.box.root / "a.txt").read_text() == torn
    assert history.text_at(made.id, "a.txt") == card.encode()
    told = history.snapshot("As it is", as_is=["a.txt"])
    assert told is not None
    assert history.text_at(told.id, "a.txt") == torn.encode()


def test_a_version_that_goes_is_marked_in_the_same_snapshot(history: History, card: str) -> None:
    """Its line in the family recipe stays and says so; other versions' lines stay as they are."""
    family = card + "\nVersions\n  Marit: a.txt | double batch\n  Ada: b.txt\n"
    for path, text in (("a.txt", card), ("b.txt", card + "\nNotes\n  Ours.\n"), ("family/leek-pie.txt", family)):
        write(history, path, text)
    history.snapshot("Started")
    history.snapshot("Again")
    (history.box.root / "a.txt").unlink()
    made = history.snapshot("Threw one away")
    assert made is not None
    assert set(made.changed) == {"a.txt", "family/leek-pie.txt"}
    marked = family.replace("double batch", "double batch | gone")
    assert (history.box.root / "family/leek-pie.txt").read_text() == marked
    assert history.snapshot("Again") is None


def test_a_torn_and_moved_card_keeps_its_old_place(history: History, card: str) -> None:
    """A card that was moved and cut off at once is neither deleted nor recorded torn."""
    write(history, "a.txt", card)
    history.snapshot("Started")
    (history.box.root / "a.txt").unlink()
    write(history, "b.txt", card[: card.index("Method")])
    history.snapshot("Moved")
    assert history.files(history.head).keys() & {"a.txt"} or history.set_aside() == ()
    assert history.find("Beat the eggs")


def test_what_cannot_be_read_is_not_deleted(history: History, card: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that cannot be read keeps what was recorded in it."""
    write(history, "pies/a.txt", card)
    write(history, "b.txt", card)
    history.snapshot("Started")
    real = os.scandir

    def refusing(folder: Any) -> Any:
        there = str(Path(f"/proc/self/fd/{folder}").readlink()) if isinstance(folder, int) else str(folder)
        if there.endswith("/pies"):
            raise PermissionError(13, "Permission denied")
        return real(folder)

    monkeypatch.setattr(os, "scandir", refusing)
    write(history, "b.txt", card.replace("3 eggs", "4 eggs"))
    made = history.snapshot("Edited")
    assert made is not None
    assert history.files(made.id).keys() == {"pies/a.txt", "b.txt"}


def test_too_large_a_card_is_set_aside(history: History, card: str) -> None:
    """A card over 1 MB is named and not recorded, since no other laptop would take it."""
    write(history, "a.txt", card)
    write(history, "big.txt", card + "note\n" * 300_000)
    made = history.snapshot("Started")
    assert made is not None
    assert made.changed == ("a.txt",)
    assert [path for path, _ in history.set_aside()] == ["big.txt"]


def test_bringing_back_mends_a_torn_card(history: History, card: str) -> None:
    """An earlier state comes back as a new edit, also over a torn file and for a card that is gone."""
    write(history, "a.txt", card)
    first = history.snapshot("Started")
    assert first is not None
    write(history, "a.txt", "")
    history.snapshot("Torn")
    history.bring_back("a.txt", first.id)
    assert (history.box.root / "a.txt").read_bytes() == card.encode()
    assert history.set_aside() == ()
    (history.box.root / "a.txt").unlink()
    history.snapshot("Deleted")
    [gone] = history.gone()
    assert (gone.path, gone.laptop) == ("a.txt", "kitchen")
    made = history.bring_back("a.txt", gone.had)
    assert made is not None
    assert history.gone() == []
    with pytest.raises(HistoryError):
        history.bring_back("never.txt", first.id)


def test_history_outlives_the_process(history: History, card: str) -> None:
    """A history opened anew knows all that was recorded."""
    write(history, "a.txt", card)
    made = history.snapshot("Started", {"command": "add", "rows": ["1"]})
    again = open_history(history.box)
    assert made is not None
    assert again.head == again.own == made.id
    assert again.commit(made.id).message.facts["rows"] == ["1"]


def test_only_what_may_travel_is_recorded(history: History, card: str) -> None:
    """Hidden files, as-sent/, editors' leftovers and links stay on this laptop."""
    write(history, "a.txt", card)
    for path in (".secret.txt", "as-sent/mail.eml", "a.txt~", "~$a.txt", "b.tmp"):
        write(history, path, "x")
    Path(history.box.root / "link.txt").symlink_to(history.box.root / "a.txt")
    made = history.snapshot("Started")
    assert made is not None
    assert made.changed == ("a.txt",)


def test_what_a_command_shortened_is_not_torn_and_what_was_torn_stays_so(history: History, card: str) -> None:
    """A command may take a card's last section out; a card torn before the command is not recorded through it."""
    whole = card + "\nNotes\n  good\n"
    write(history, "a.txt", whole)
    write(history, "b.txt", whole)
    history.snapshot("Started")
    write(history, "b.txt", card)
    assert history.snapshot("Edited by hand") is None
    write(history, "a.txt", card)
    made = open_history(history.box).snapshot("Settled", {"command": "settle"})
    assert made is not None
    assert made.changed == ("a.txt",)
    assert [path for path, _ in history.set_aside()] == ["b.txt"]


actions = st.lists(
    st.tuples(
        st.sampled_from(["write", "delete", "move"]),
        st.sampled_from(["a.txt", "pies/b.txt", "pies/c.txt", "note.jpg", "x/y/z.txt"]),
        st.integers(1, 3),
    ),
    max_size=4,
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rounds=st.lists(actions, min_size=2, max_size=5))
def test_looking_only_at_what_changed_records_all(tmp_path_factory: Any, card: str, rounds: list[Any]) -> None:
    """Snapshot upon snapshot, what is recorded is what stands in the box, though unchanged files are not looked at."""
    history = open_history(create(tmp_path_factory.mktemp("box") / "box", "kitchen"))
    root = history.box.root
    for acts in rounds:
        for act, path, number in acts:
            file = root / path
            if act == "write":
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_text(card.replace("3 eggs", f"{number} eggs").replace("Leek", path))
            elif act == "delete":
                file.unlink(missing_ok=True)
            elif file.exists():
                file.rename(root / f"moved{number}.txt")
        history.snapshot("Edited by hand")
        standing = {f.relative_to(root).as_posix(): f.read_bytes() for f in root.rglob("*") if f.is_file()}
        recorded = {path: blob.read() for path, blob in history.tree(history.head).items()}
        assert recorded == {path: data for path, data in standing.items() if not path.startswith(".")}
        assert history.snapshot("Again") is None
        assert history.on_disk == history.files(history.head)
