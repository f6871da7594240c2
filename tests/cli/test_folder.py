"""`start`, `recipebox` alone, and bad files in a box."""

import os
import shutil
import sqlite3
from pathlib import Path

import pytest

from tests.cli.conftest import Type, valid


def test_start_counts_cards_and_changes_none(recipebox: Type, tmp_path: Path, sample_box: Path) -> None:
    """Making a folder a box reads every card and leaves each file's bytes as they were."""
    root = tmp_path / "box"
    shutil.copytree(sample_box, root)
    before = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
    answer = recipebox("start", str(root), "--json")
    assert answer.code == 0, answer.err
    assert valid(answer.data, "start")["cards"] == len(before) - 1  # on-hand.txt is no card
    assert {path: path.read_bytes() for path in before} == before
    assert answer.data["trouble"] == []


def test_a_folder_above_another_box_is_asked_about(recipebox: Type, box: Path) -> None:
    """Cards would be in two boxes: off a terminal that is exit 3 and one line, and nothing is made."""
    answer = recipebox("start", str(box.parent))
    assert answer.code == 3
    assert "is a box of its own" in answer.err
    assert not (box.parent / ".recipebox").exists()
    assert recipebox("start", str(box.parent), "--yes").code == 0


def test_standing_as_data(recipebox: Type, box: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`recipebox --json` has its shape; where there is no box, stdout stays empty and one line says so."""
    assert valid(recipebox("--json").data, "standing")["cards"] > 50
    monkeypatch.chdir(tmp_path)
    outside = recipebox("--json")
    assert (outside.code, outside.out) == (1, "")
    assert len(outside.err.splitlines()) == 1


def test_standing_says_the_next_thing_to_type(recipebox: Type, box: Path) -> None:
    """`recipebox` alone in a box says how things stand in at most ten lines and ends with a command."""
    answer = recipebox()
    assert answer.code == 0, answer.err
    lines = answer.out.splitlines()
    assert len(lines) <= 10
    assert "64 cards" in lines[0]
    assert lines[-1].startswith("Next: recipebox ")


def test_a_folder_that_is_no_box_says_what_to_do(
    recipebox: Type, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Outside a box a command ends with exit 1 and one line that names `start`."""
    monkeypatch.chdir(tmp_path)
    answer = recipebox("find", "leeks")
    assert answer.code == 1
    assert answer.out == ""
    assert len(answer.err.splitlines()) == 1
    assert "recipebox start" in answer.err


def test_bad_files_are_named_and_the_rest_goes_on(recipebox: Type, box: Path) -> None:
    """An empty file, a picture named .txt, 50 MB, broken UTF-8, only a title, a link loop: the box is searched on."""
    (box / "empty.txt").write_bytes(b"")
    (box / "picture.txt").write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")
    with (box / "huge.txt").open("wb") as file:
        file.truncate(50_000_000)
    (box / "title.txt").write_text("Only a title\n", encoding="utf-8")
    (box / "latin.txt").write_bytes(
        "Crème\n\n2 cups cream\n3 eggs\n\nWhisk the cream. Fold in the eggs.\n".encode("cp1252")
    )
    (box / "wide.txt").write_bytes(
        "Wide buns\n\n2 cups flour\n1 egg\n\nMix the flour and egg. Bake.\n".encode("utf-16")
    )
    (box / "round").symlink_to(box)
    (box / "self.txt").symlink_to(box / "self.txt")
    answer = recipebox("find", "leeks", "--json")
    assert answer.code == 0, answer.err
    data = valid(answer.data, "find")
    assert {"empty.txt", "picture.txt", "huge.txt", "title.txt"} <= {one["path"] for one in data["trouble"]}
    assert all("Traceback" not in line for line in answer.err.splitlines())
    assert len(data["hits"]) >= 8
    assert [hit["path"] for hit in recipebox("find", "crème", "--json").data["hits"]] == ["latin.txt"]
    assert next(hit["path"] for hit in recipebox("find", "wide", "buns", "--json").data["hits"]) == "wide.txt"
    assert not any("round" in hit["path"] or "self" in hit["path"] for hit in data["hits"])


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="permissions do not bind this user")
def test_a_card_that_may_not_be_read_is_not_gone(recipebox: Type, box: Path) -> None:
    """Without read permission a card is named, and is still found by what was known of it or named as trouble."""
    path = box / "versions/brigid-fish-bake.txt"
    path.chmod(0)
    answer = recipebox("find", "leeks", "--json")
    path.chmod(0o644)
    assert answer.code == 0
    assert "versions/brigid-fish-bake.txt" in {one["path"] for one in answer.data["trouble"]}


@pytest.mark.parametrize("words", [["find", "leeks"], ["same"], ["tonight"]])
def test_a_lost_or_broken_index_comes_back_the_same(recipebox: Type, box: Path, words: list[str]) -> None:
    """Answers are byte-equal after the index was deleted, and after it was overwritten with noise."""
    first = recipebox(*words, "--json")
    for file in (box / ".recipebox").glob("index.sqlite*"):
        file.unlink()
    assert recipebox(*words, "--json").out == first.out
    for file in (box / ".recipebox").glob("index.sqlite-*"):
        file.unlink()
    (box / ".recipebox/index.sqlite").write_bytes(os.urandom(40_000))
    mended = recipebox(*words, "--json")
    assert (mended.code, mended.out) == (0, first.out)
    assert len(mended.err.splitlines()) == 1


def test_a_locked_index_is_waited_for_and_named(recipebox: Type, box: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another program holds the index, a command that must write ends with one clear line and exit 1."""
    from recipebox.index import database

    (box / "new.txt").write_text("New\n\n2 cups oats\n1 egg\n\nMix the oats and egg.\n", encoding="utf-8")
    monkeypatch.setattr(database, "WAIT", 0.2)
    other = sqlite3.connect(box / ".recipebox/index.sqlite", isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    answer = recipebox("find", "oats")
    other.execute("ROLLBACK")
    other.close()
    assert answer.code == 1
    assert len(answer.err.splitlines()) == 1
    assert recipebox("find", "oats").code == 0
