"""The index follows the disk, and can always be made anew."""

import json
import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipebox.box import Box, create
from recipebox.cards.data import card_data
from recipebox.index import (
    Event,
    Index,
    IndexLockedError,
    NotFoundError,
    open_index,
)

CARD = "{title}\nfrom: {who}\n\nIngredients\n{items}\n\nMethod\n1. Mix all of it.\n2. Bake it for {minutes} minutes.\n"
ITEMS = ["1 lb cod", "3 leeks", "2 cups cream", "1 lb quinces", "4 eggs", "2 cups rye flour", "1 cup honey", "5 figs"]


def answers(index: Index) -> str:
    """All that the index tells, as text."""
    dishes = index.dishes()
    told = {
        "cards": [card_data(card) for card in index.cards()],
        "find": [repr(index.find(words)) for words in ("leek", "bake", "quinse", "honey figs", "pim")],
        "has": [repr(index.find(has=[item], without=["egg"])) for item in ("leek", "fig")],
        "dishes": [repr(dish) for dish in dishes.dishes],
        "singles": dishes.singles,
        "trouble": index.trouble(),
        "words": index._connection.execute("SELECT * FROM vocabulary ORDER BY term").fetchall(),
    }
    return json.dumps(told, indent=1)


def fresh_answers(box: Box) -> str:
    """The same from an index made from nothing."""
    for file in box.hidden.glob("index.sqlite*"):
        file.unlink()
    (box.hidden / "stats").unlink()
    with open_index(box) as index:
        index.refresh()
        return answers(index)


def test_only_what_changed_is_taken_in(index: Index, put, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    """After one save one file is read; with nothing changed none is."""
    from recipebox.index import workers

    read: list[str] = []
    really = workers.take_in
    monkeypatch.setattr(workers, "take_in", lambda path, data: read.append(path) or really(path, data))
    assert index.refresh().events == ()
    assert read == []
    put("fudge.txt", index.box.root.joinpath("fudge.txt").read_text().replace("sugar", "honey"))
    assert index.refresh().events == (Event("changed", "fudge.txt"),)
    assert read == ["fudge.txt"]
    assert [hit.path for hit in index.find("honey").hits] == ["fudge.txt"]
    assert index.find("sugar").hits == ()


def test_added_moved_and_gone(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """A new file, a renamed one and a removed one are told apart, and so is a card that is one no longer."""
    root = index.box.root
    put("new.txt", CARD.format(title="Fig Tart", who="Pim", items="5 figs\n1 cup flour", minutes=5))
    (root / "fudge.txt").rename(root / "sweet.txt")
    (root / "soups/potato.md").unlink()
    refreshed = index.refresh()
    assert refreshed.events == (
        Event("added", "new.txt"),
        Event("gone", "soups/potato.md"),
        Event("moved", "sweet.txt", "fudge.txt"),
    )
    assert (refreshed.cards, refreshed.changed) == (3, 3)
    assert index.card("sweet.txt").title == "Walnut Fudge"
    with pytest.raises(NotFoundError):
        index.card("fudge.txt")
    put("sweet.txt", "")
    assert index.refresh().events == (Event("gone", "sweet.txt"),)


def test_an_unreadable_folder_loses_no_card(index: Index, monkeypatch: pytest.MonkeyPatch) -> None:
    """Cards in a folder that cannot be looked into stay known, and the folder is named."""
    really = os.open

    def refuse(path, *rest, **named):  # type: ignore[no-untyped-def]
        if str(path).endswith("soups"):
            raise PermissionError(13, "Permission denied", path)
        return really(path, *rest, **named)

    monkeypatch.setattr("os.open", refuse)
    assert index.refresh().events == ()
    assert index.card("soups/potato.md").title == "Potato Soup"
    assert [(t.path, t.what) for t in index.trouble()] == [("soups", "could not be read: no permission")]


def test_trouble_names_what_is_no_card(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """An empty file, a picture with a text's name, a lone title and a text too large are named; others are not."""
    put("empty.txt", b"")
    put("picture.txt", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")
    put("title.md", "Just a title\n")
    put("large.txt", b"word " * 250_000)
    put("photo.jpg", b"\xff\xd8\xff\0")
    put("on-hand.txt", "Pantry\n3 cans tomatoes\n")
    put("dishes.txt", "same: a.txt | b.txt\n")
    index.refresh()
    assert [t.path for t in index.trouble()] == ["empty.txt", "large.txt", "picture.txt", "title.md"]
    assert all("not a card" in t.what for t in index.trouble())
    assert "1 MB" in index.trouble()[1].what
    put("dishes.txt", b"same: a.txt | b.txt\n\0")
    index.refresh()
    assert [t.what for t in index.trouble() if t.path == "dishes.txt"] == [
        "not text (it holds a NUL byte, as pictures and programs do): nothing in it counts"
    ]
    put("dishes.txt", "")
    put("empty.txt", CARD.format(title="Fig Tart", who="Pim", items="5 figs\n1 cup flour", minutes=5))
    index.refresh()
    assert "empty.txt" not in [t.path for t in index.trouble()]


def test_bytes_that_are_no_utf8_are_read_and_marked(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """A card in an old encoding can be found, and is named as unsure."""
    put("old.txt", CARD.format(title="Rhubarb Fool", who="Zoé", items="1 lb rhubarb", minutes=5).encode("cp1252"))
    index.refresh()
    assert [hit.path for hit in index.find("zoe").hits] == ["old.txt"]
    assert "old.txt" in [t.path for t in index.trouble()]


_cards = st.builds(
    lambda title, who, items, minutes: CARD.format(title=title, who=who, items="\n".join(items), minutes=minutes),
    st.sampled_from(["Fish Bake", "Fig Bread", "Quince Cake"]),
    st.sampled_from(["Pim", "Odile"]),
    st.lists(st.sampled_from(ITEMS), min_size=2, max_size=4, unique=True),
    st.integers(20, 22),
)
_paths = st.sampled_from(["a.txt", "b.md", "c/a.txt", "c/d.txt", "e.txt", "f.txt"])
_sayings = st.lists(
    st.sampled_from(
        [
            "same: a.txt | b.md",
            "different: a.txt | b.md",
            "same: c/a.txt | e.txt",
            "name: Feast | a.txt",
            "name: Fast | b.md",
            "different: a.txt | e.txt",
        ]
    ),
    unique=True,
)
_family = st.none() | st.lists(_paths, min_size=1, max_size=3, unique=True)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(st.tuples(st.dictionaries(_paths, _cards, max_size=6), _sayings, _family), min_size=1, max_size=4))
def test_incremental_equals_from_scratch(tmp_path_factory: pytest.TempPathFactory, rounds: list) -> None:  # type: ignore[type-arg]
    """However cards, dishes.txt and a family recipe come and go, the answers are those of an index made anew."""
    box = create(tmp_path_factory.mktemp("rounds") / "box", "kitchen")
    with open_index(box) as index:
        for cards, sayings, family in rounds:
            for file in box.root.iterdir():
                if file.name != ".recipebox":
                    shutil.rmtree(file) if file.is_dir() else file.unlink()
            files = cards | {"dishes.txt": "\n".join(sayings)}
            if family:
                versions = "\n".join(f"  {path}: {path}" for path in family)
                text = CARD.format(title="Family Feast", who="us", items="1 lb cod\n2 eggs", minutes=9)
                files["family/feast.txt"] = f"{text}\nVersions\n{versions}\n"
            for path, text in files.items():
                (box.root / path).parent.mkdir(exist_ok=True)
                (box.root / path).write_text(text)
            index.refresh()
        told = answers(index)
    assert told == fresh_answers(box)


@pytest.mark.parametrize("damage", ["rubbish", "empty", "cut", "table gone", "newer", "middle"])
def test_a_broken_index_is_made_anew(index: Index, damage: str) -> None:
    """Whatever happened to the file, one line says that it is made anew, and the answers are the same as before."""
    told = answers(index)
    box = index.box
    index.close()
    file = box.hidden / "index.sqlite"
    data = file.read_bytes()
    if damage == "rubbish":
        file.write_bytes(b"not a database, but long enough to be read as one" * 100)
    elif damage == "empty":
        file.write_bytes(b"")
    elif damage == "cut":
        file.write_bytes(data[: len(data) // 3])
    elif damage == "middle":
        file.write_bytes(data[:4096] + os.urandom(len(data) - 4096))
    else:
        connection = sqlite3.connect(file)
        connection.execute("DROP TABLE cards" if damage == "table gone" else "PRAGMA user_version = 999")
        connection.commit()
        connection.close()
    said: list[str] = []
    with open_index(box, said.append) as mended:
        mended.refresh()
        assert answers(mended) == told
    assert len(said) == (0 if damage == "empty" else 1)
    assert all("made anew" in line for line in said)


def test_a_deleted_index_gives_the_same_answers(index: Index) -> None:
    """The index can be removed at any time: what comes back is the same, byte for byte."""
    told = answers(index)
    index.close()
    assert fresh_answers(index.box) == told


def test_another_recipebox_reads_anew(index: Index, monkeypatch: pytest.MonkeyPatch) -> None:
    """An index made by a recipebox that reads otherwise is not believed."""
    told = answers(index)
    index._connection.execute("UPDATE cards SET title = 'wrong', data = replace(data, 'Fudge', 'wrong')")
    index._connection.execute("UPDATE kept SET value = x'00' WHERE name = 'tool'")
    assert index.refresh().events == ()
    assert answers(index) == told


def test_again_reads_everything(index: Index) -> None:
    """`start --again` reads cards anew, though no file changed."""
    told = answers(index)
    index._connection.execute("UPDATE cards SET title = 'wrong', data = replace(data, 'Fudge', 'wrong')")
    assert index.refresh().cards == 3
    assert answers(index) != told
    index.refresh(again=True)
    assert answers(index) == told


def test_a_locked_index_is_waited_for_then_told(index: Index, put, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    """While another program writes, a refresh waits, then gives one clear line; a search goes on."""
    monkeypatch.setattr("recipebox.index.database.WAIT", 0.3)
    put("new.txt", CARD.format(title="Fig Tart", who="Pim", items="5 figs", minutes=5))
    with open_index(index.box) as mine, open_index(index.box) as theirs:
        theirs._connection.execute("BEGIN IMMEDIATE")
        start = time.monotonic()
        with pytest.raises(IndexLockedError, match="another program"):
            mine.refresh()
        assert 0.2 < time.monotonic() - start < 3
        assert [hit.path for hit in mine.find("fudge").hits] == ["fudge.txt"]
        theirs._connection.execute("ROLLBACK")
        assert mine.refresh().paths("added") == ("new.txt",)


def test_on_a_full_disk_the_answer_is_worked_out_in_memory(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """When the database cannot grow one line says so, all is answered, and the file stays. (The limit is SQLite's.)"""
    told, said = answers(index), []
    pages = index._connection.execute("PRAGMA page_count").fetchone()[0]
    index._connection.execute(f"PRAGMA max_page_count = {pages}")
    for number in range(50):
        put(f"n{number}.txt", CARD.format(title=f"Tart {number}", who="Pim", items="\n".join(ITEMS), minutes=number))
    index._say = said.append
    assert index.refresh().cards == 53
    assert len(said) == 1
    with open_index(index.box) as kept:
        assert answers(kept) == told
    assert answers(index) == fresh_answers(index.box)


def test_a_box_that_takes_no_index_can_still_be_searched(box: Box, put) -> None:  # type: ignore[no-untyped-def]
    """Where no database can be made one line says so, and the cards are found all the same."""
    put("fudge.txt", CARD.format(title="Fudge", who="Pim", items="1 cup honey", minutes=5))
    (box.hidden / "index.sqlite").mkdir()
    said: list[str] = []
    with open_index(box, said.append) as found:
        found.refresh()
        assert found.find("fudge").hits
    (line,) = said
    assert "worked out in memory" in line
    assert "\n" not in line


def test_open_cards_are_family_recipes_and_what_is_undecided(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """All other cards are left unread; the count is of all."""
    put("soup.txt", CARD.format(title="Soup", who="Pim", items="5 figs", minutes=5)
        + "\nUndecided\n  figs\n    - 5 figs\n    - 6 figs\n")  # fmt: skip
    put("family/tart.txt", CARD.format(title="Tart", who="Pim", items="5 figs", minutes=5)
        + "\nVersions\n  Pim: soup.txt\n")  # fmt: skip
    index.refresh()
    assert [card.called for card in index.open_cards()] == ["family/tart.txt", "soup.txt"]
    assert index.count() == len(list(index.cards()))


def test_killed_at_any_moment_it_is_old_or_new(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """SIGKILL at random moments of a refresh: the next look answers as an index made from nothing."""
    box = index.box
    index.close()
    script = (
        "import sys\nfrom pathlib import Path\nfrom recipebox.box import find\nfrom recipebox.index import open_index\n"
        "print('begun', flush=True)\n"
        "with open_index(find(Path(sys.argv[1]))) as index:\n    index.refresh()\nprint('done', flush=True)\n"
    )
    dice = random.Random(7)
    before = None
    for number in range(8):
        for at in range(30):
            put(f"c{at}.txt", CARD.format(title=f"Tart {number}", who="Pim", items=dice.choice(ITEMS), minutes=number))
        process = subprocess.Popen([sys.executable, "-c", script, str(box.root)], stdout=subprocess.PIPE)
        assert process.stdout is not None
        process.stdout.readline()
        time.sleep(dice.random() * 0.4)
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
        with open_index(box) as opened:
            titles = {card.title for card in opened.cards() if card.title.startswith("Tart")}
            assert titles in ({f"Tart {number}"}, before or titles)
            assert len(titles) <= 1
            opened.refresh()
            told = answers(opened)
        before = {f"Tart {number}"}
        assert told == fresh_answers(box)


def test_leftovers_of_a_killed_write_are_swept(index: Index, put) -> None:  # type: ignore[no-untyped-def]
    """A look removes the temporary files that a killed recipebox left among the cards."""
    left: Path = put("soups/.recipebox-0123456789abcdef.tmp", b"half")
    index.refresh()
    assert not left.exists()


def test_a_search_starts_without_what_it_does_not_need(index: Index) -> None:
    """With nothing changed, a look and a search import neither the reader of cards nor any heavy package."""
    script = (
        "import sys\nfrom pathlib import Path\nfrom recipebox.box import find\nfrom recipebox.index import open_index\n"
        "with open_index(find(Path(sys.argv[1]))) as index:\n"
        "    index.refresh()\n    print([hit.path for hit in index.find('fudge').hits])\n"
        "heavy = ('sqlite_utils', 'pint', 'pygit2', 'watchdog', 'recipebox.cards.reader', 'recipebox.dishes')\n"
        "print([name for name in heavy if name in sys.modules])\n"
    )
    from recipebox.index.database import made_by

    made_by.cache_clear()  # somebody may have changed the tool itself since it was first asked
    index.refresh()
    done = subprocess.run(
        [sys.executable, "-c", script, str(index.box.root)], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines() == ["['fudge.txt']", "[]"]


def test_answers_do_not_depend_on_the_process(box: Box, sample_box: Path) -> None:
    """Two processes that index the family's box from nothing give the same answers, byte for byte."""
    shutil.copytree(sample_box, box.root, dirs_exist_ok=True)
    script = (
        "import sys\nfrom pathlib import Path\nfrom recipebox.box import find\nfrom recipebox.index import open_index\n"
        "with open_index(find(Path(sys.argv[1]))) as index:\n"
        "    index.refresh()\n    print(index.dishes(), index.trouble(), list(index.cards()))\n"
        "    print([index.find(words) for words in ('leek', 'fish bake', 'brocoli', 'brigid')])\n"
    )
    told = []
    for seed in ("1", "2"):
        for file in box.hidden.glob("index.sqlite*"):
            file.unlink()
        done = subprocess.run(
            [sys.executable, "-c", script, str(box.root)],
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        told.append(done.stdout)
    assert len(told[0]) > 1000
    assert told[0] == told[1]
