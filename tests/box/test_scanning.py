"""The one look at all files."""

import os
import subprocess
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipebox.box import Box, Scan, blob_id, create, scan
from recipebox.box.files import read_whole
from recipebox.box.stats import load

OLD_NS = 1_600_000_000_000_000_000


def put(box: Box, path: str, data: bytes, *, old: bool = False) -> Path:
    file = box.root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)
    if old:
        os.utime(file, ns=(OLD_NS, OLD_NS))
    return file


def ids(found: Scan) -> dict[str, str]:
    return {path: file.blob_id for path, file in found.files.items()}


@pytest.fixture
def settled(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every stamp counts as old enough to trust."""
    monkeypatch.setattr("recipebox.box.scanning._YOUNG_NS", -(10**12))


@pytest.fixture
def readings(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The paths whose bytes a scan reads."""
    read: list[str] = []

    def watched(folder, name, path, limit):  # type: ignore[no-untyped-def]
        read.append(path)
        return read_whole(folder, name, path, limit)

    monkeypatch.setattr("recipebox.box.scanning.read_whole", watched)
    return read


def test_ids_are_gits_own(box: Box) -> None:
    """Blob ids are those of git hash-object; outside check: the git command itself, and its id of no bytes."""
    assert blob_id(b"") == "e69de29bb2d1d6434b8b29ae775ad8c2e48c5391"
    file = put(box, "pie.txt", b"Fish Pie\r\n\n1 lb fish\n")
    try:
        said = subprocess.run(["git", "hash-object", "--no-filters", file], capture_output=True, text=True, check=True)
    except FileNotFoundError:
        pytest.skip("git is not installed")
    assert ids(scan(box)) == {"pie.txt": said.stdout.strip()}


def test_what_is_carried(box: Box) -> None:
    """Hidden things, as-sent/, links and editors' leftovers are passed over without a word; all else is there."""
    for path in ("a.txt", "b/c.md", "b/photo.jpg", "b/as-sent/d.txt", "no ending", "b/tilde~x.txt"):
        put(box, path, b"x")
    for path in (".hidden", ".git/a", "as-sent/mail.eml", "~$a.txt", "a.txt~", "b/x.tmp", "b/x.part", "b/.c.md.swp"):
        put(box, path, b"x")
    (box.root / "link.txt").symlink_to(box.root / "a.txt")
    (box.root / "round").symlink_to(box.root)
    found = scan(box)
    assert set(found.files) == {"a.txt", "b/c.md", "b/photo.jpg", "b/as-sent/d.txt", "no ending", "b/tilde~x.txt"}
    assert found.trouble == []


def test_only_what_changed_is_read_again(box: Box, settled: None, readings: list[str]) -> None:
    """A second look reads nothing, and after one save only that file."""
    put(box, "a.txt", b"one")
    put(box, "b.txt", b"two")
    first = scan(box)
    assert sorted(readings) == ["a.txt", "b.txt"]
    readings.clear()
    again = scan(box)
    assert readings == []
    assert again == first._replace(was=first.state, changed=frozenset())
    assert (first.changed, first.was) == ({"a.txt", "b.txt"}, "")
    put(box, "b.txt", b"two!")
    changed = scan(box)
    assert readings == ["b.txt"]
    assert changed.state != first.state
    assert (changed.was, changed.changed) == (first.state, {"b.txt"})
    assert changed.files["b.txt"].blob_id == blob_id(b"two!")


def test_a_young_file_is_read_again(box: Box, readings: list[str]) -> None:
    """A file saved twice within the same tick and with the same size shows its second bytes at the next look."""
    put(box, "a.txt", b"one")
    scan(box)
    (box.root / "a.txt").write_bytes(b"two")
    assert ids(scan(box)) == {"a.txt": blob_id(b"two")}
    scan(box)
    assert readings == ["a.txt"] * 3


def test_a_save_that_keeps_size_and_time_is_seen(box: Box, settled: None) -> None:
    """A program that puts back the old time after a save of the same size is found out where the system tells."""
    file = put(box, "a.txt", b"one", old=True)
    scan(box)
    file.write_bytes(b"two")
    os.utime(file, ns=(OLD_NS, OLD_NS))
    assert ids(scan(box)) == {"a.txt": blob_id(b"two")}


def test_the_state_word_follows_the_bytes(box: Box, settled: None) -> None:
    """The state word stays through a touch and a lost table's re-reading of nothing new, and changes with a removal."""
    file = put(box, "a.txt", b"one")
    put(box, "b.txt", b"two")
    state = scan(box).state
    file.touch()
    assert scan(box).state == state
    file.unlink()
    assert scan(box).state != state


@pytest.mark.parametrize("damage", [lambda d: b"", lambda d: d[:40], lambda d: d[:-3] + b"xyz", lambda d: b"\0" * 99])
def test_a_damaged_table_costs_only_time(box: Box, settled: None, damage) -> None:  # type: ignore[no-untyped-def]
    """Whatever happens to the stat table, the next look gives the same files."""
    put(box, "a.txt", b"one")
    put(box, "é/ü.txt", b"two")
    first = ids(scan(box))
    table = box.hidden / "stats"
    table.write_bytes(damage(table.read_bytes()))
    assert ids(scan(box)) == first
    assert load(box).files.keys() == first.keys()


def test_a_table_that_cannot_be_kept_is_done_without(box: Box, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a full or read-only disk a scan still tells what is there."""
    put(box, "a.txt", b"one")

    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.write", full)
    assert ids(scan(box)) == {"a.txt": blob_id(b"one")}
    assert [file.name for file in box.hidden.iterdir()] == ["here.txt"]


def test_large_and_deep_files_are_named_and_not_gone(box: Box, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is too large or too deep is named, and counts as unknown instead of gone."""
    monkeypatch.setattr("recipebox.box.scanning.MAX_FILE", 10)
    put(box, "big.txt", b"x" * 11)
    put(box, "fits.txt", b"x" * 10)
    deep = "/".join(["d"] * 31)
    put(box, f"{deep}/ok.txt", b"x")
    put(box, f"{deep}/e/deep.txt", b"x")
    found = scan(box)
    assert set(found.files) == {"fits.txt", f"{deep}/ok.txt"}
    assert [trouble.path for trouble in found.trouble] == ["big.txt", f"{deep}/e"]
    assert found.unknown("big.txt")
    assert found.unknown(f"{deep}/e/deep.txt")
    assert not found.unknown("fits.txt")


def test_too_many_files_are_told(box: Box, monkeypatch: pytest.MonkeyPatch) -> None:
    """A box with more files than sync carries says so, and all of them are still seen."""
    monkeypatch.setattr("recipebox.box.scanning.MAX_FILES", 2)
    for number in range(3):
        put(box, f"{number}.txt", b"x")
    found = scan(box)
    assert len(found.files) == 3
    assert ["3 files" in trouble.what for trouble in found.trouble] == [True]


def test_an_unreadable_file_and_folder_are_named(box: Box, monkeypatch: pytest.MonkeyPatch) -> None:
    """No permission: the file or folder is named once and what lay there is not gone. (The refusal is made up here,
    since whoever runs the tests may be allowed everything.)
    """
    put(box, "shut/a.txt", b"one")
    put(box, "b.txt", b"two")
    put(box, "c.txt", b"three")
    really_open = os.open

    def refuse(path, *rest, **named):  # type: ignore[no-untyped-def]
        if str(path).endswith(("shut", "b.txt")):
            raise PermissionError(13, "Permission denied", path)
        return really_open(path, *rest, **named)

    monkeypatch.setattr("os.open", refuse)
    found = scan(box)
    assert set(found.files) == {"c.txt"}
    assert [(t.path, t.what) for t in found.trouble] == [
        ("b.txt", "could not be read: no permission"),
        ("shut", "could not be read: no permission"),
    ]
    assert found.unknown("shut/a.txt")
    assert found.unknown("b.txt")


def test_what_is_no_plain_file_is_named(box: Box) -> None:
    """A pipe among the cards does not hold up the scan."""
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system has no pipes among files")
    os.mkfifo(box.root / "pipe.txt")
    found = scan(box)
    assert found.files == {}
    assert [trouble.path for trouble in found.trouble] == ["pipe.txt"]


def test_a_name_that_is_no_text_is_named(box: Box) -> None:
    """A file's name in bytes that are no UTF-8 is shown readably and passed over."""
    try:
        with open(os.fsencode(box.root) + b"/caf\xe9.txt", "wb") as file:  # noqa: PTH123 - pathlib takes no bytes
            file.write(b"x")
    except OSError:
        pytest.skip("this disk takes no such name")
    found = scan(box)
    assert found.files == {}
    assert "\\udce9" in found.trouble[0].path


def test_leftovers_of_a_killed_recipebox_are_found(box: Box) -> None:
    """Temporary files of our own are no files of the box, and are handed out for sweeping."""
    put(box, "pies/.recipebox-0123456789abcdef.tmp", b"half")
    found = scan(box)
    assert found.files == {}
    assert found.leftovers == ("pies/.recipebox-0123456789abcdef.tmp",)


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    rounds=st.lists(
        st.dictionaries(
            st.sampled_from(["a.txt", "b.md", "c/a.txt", "c/d/e.txt", "ü.txt"]), st.binary(max_size=3), max_size=5
        ),
        min_size=1,
        max_size=4,
    )
)
def test_the_look_equals_the_disk(tmp_path_factory: pytest.TempPathFactory, rounds: list[dict[str, bytes]]) -> None:
    """However files come, change and go between looks, each look has exactly the bytes on the disk."""
    box = create(tmp_path_factory.mktemp("looks"), "kitchen")
    here: set[str] = set()
    for files in rounds:
        for path in here - set(files):
            (box.root / path).unlink()
        for path, data in files.items():
            put(box, path, data)
        here = set(files)
        assert ids(scan(box)) == {path: blob_id(data) for path, data in files.items()}
