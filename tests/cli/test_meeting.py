"""`sync` as a person types it: what came and went in words, what is asked, and what is wrong in one line."""

import builtins
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Answer, Type, valid

CARD = (
    "Jam {n}\nfrom: Ilse\ntags: sweet\n\nIngredients\n  {n} cups plums\n  1 cup sugar\n\nMethod\n  1. Boil the plums.\n"
)


class Two:
    """Two laptops of one box that meet at a stick; `type` types a command in a laptop's box."""

    def __init__(self, recipebox: Type, folder: Path) -> None:
        self.recipebox = recipebox
        self.stick = folder / "stick"
        self.stick.mkdir()
        self.first, self.second = folder / "kitchen", folder / "study"
        for n in range(2, 26):
            file = self.first / ("letters" if n < 20 else "notes") / f"jam{n}.txt"
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(CARD.format(n=n), encoding="utf-8")
        assert recipebox("start", str(self.first), "--laptop", "kitchen").code == 0
        assert self.sync(self.first, str(self.stick)).code == 0
        self.second.mkdir()
        assert self.sync(self.second, str(self.stick), "--laptop", "study").code == 0

    def sync(self, box: Path, *words: str) -> Answer:
        return self.recipebox("sync", *words, "--box", str(box))


@pytest.fixture
def two(recipebox: Type, tmp_path: Path) -> Two:
    """Two laptops, met once."""
    return Two(recipebox, tmp_path)


@pytest.fixture
def at_terminal(monkeypatch: pytest.MonkeyPatch) -> Callable[..., list[str]]:
    """Let commands think a person sits there, who answers so; gives the questions that were asked."""

    def answering(*answers: str) -> list[str]:
        asked: list[str] = []
        waiting = list(answers)

        def answer(question: str = "") -> str:
            asked.append(question)
            return waiting.pop(0)

        monkeypatch.setattr("recipebox.cli.say.on_terminal", lambda: True)
        monkeypatch.setattr(builtins, "input", answer)
        return asked

    return answering


def test_each_kind_of_change_has_its_own_words(two: Two) -> None:
    """New, changed, moved and removed files are told apart, with the laptop they come from."""
    (two.first / "notes/new.txt").write_text("Broth\n\n2 onions\n3 carrots\n\nSimmer for an hour.\n", encoding="utf-8")
    (two.first / "letters/jam3.txt").write_text(CARD.format(n=3).replace("1 cup", "2 cups"), encoding="utf-8")
    (two.first / "letters/jam4.txt").rename(two.first / "notes/four.txt")
    (two.first / "letters/jam5.txt").unlink()
    sent = two.sync(two.first)
    assert "1 file was removed on the other laptops too: letters/jam5.txt" in sent.out
    assert "1 new file went: notes/new.txt" in sent.out
    looked = two.sync(two.second, "--dry-run")
    assert "1 file would be removed by kitchen: letters/jam5.txt" in looked.out
    came = two.sync(two.second)
    assert "1 new file came from kitchen: notes/new.txt" in came.out
    assert "1 changed file came from kitchen: letters/jam3.txt" in came.out
    assert "1 file was moved from kitchen: letters/jam4.txt -> notes/four.txt" in came.out
    assert "1 file was removed by kitchen: letters/jam5.txt" in came.out
    assert came.out.count("letters/jam5.txt") == 1


def test_a_new_file_of_the_same_name_that_steps_aside_is_told(two: Two) -> None:
    """Two new texts of one name: whose stands under another name afterwards is told as a move, with both names."""
    (two.first / "notes/list.md").write_text("Things to ask Ilse when she comes\n", encoding="utf-8")
    (two.second / "notes/list.md").write_text("What we cooked in May\n", encoding="utf-8")
    two.sync(two.first)
    answers = [two.sync(box, "--json").data for box in (two.second, two.first)]
    moved = [one for answer in answers for one in answer["came_as"] if one["what"] == "moved"]
    assert [one["was"] for one in moved] == ["notes/list.md"]
    texts = {path.read_text() for path in (two.first / "notes").glob("list*.md")}
    assert texts == {"Things to ask Ilse when she comes\n", "What we cooked in May\n"}


def test_a_stop_says_what_would_be_removed_and_by_whom_once(two: Two) -> None:
    """A stop names how many, the folders and tags, the laptop and the files; alone, `recipebox` tells of it too."""
    shutil.rmtree(two.first / "letters")
    held = two.sync(two.first)
    assert held.code == 3
    assert "would remove from the other laptops 18 of 24 cards, every card in letters/, 18 of 24 sweet" in " ".join(
        held.out.split()
    )
    assert "and 8 more" in held.out
    assert "Nothing new" not in held.out
    assert "The last sync stopped" in two.recipebox("--box", str(two.first)).out
    assert two.sync(two.first, "--yes").code == 0
    assert "The last sync stopped" not in two.recipebox("--box", str(two.first)).out
    stopped = valid(two.sync(two.second, "--json").data, "sync")["stopped"]
    assert (stopped["direction"], stopped["laptops"], stopped["cards"]) == ("in", ["kitchen"], 18)
    assert "Stopped: changes from kitchen would remove here 18 of 24 cards" in two.sync(two.second).out
    assert (two.second / "letters/jam3.txt").exists()


def test_at_a_terminal_a_stop_is_asked_about_once(two: Two, at_terminal: Callable[..., list[str]]) -> None:
    """A no leaves all as it is, with the files named once; a yes goes on."""
    shutil.rmtree(two.first / "letters")
    asked = at_terminal("n", "y")
    held = two.sync(two.first)
    assert (held.code, held.out.count("letters/jam10.txt")) == (3, 1)
    assert two.sync(two.first).code == 0
    assert len(asked) == 2


def test_at_a_terminal_what_is_laid_aside_is_shown_and_asked(two: Two, at_terminal: Callable[..., list[str]]) -> None:
    """Guarantee 10: the sync after an undone one shows what is laid aside, and takes it in only after a yes."""
    (two.first / "letters/jam3.txt").write_text(CARD.format(n=3).replace("1 cup", "2 cups"), encoding="utf-8")
    two.sync(two.first)
    two.sync(two.second)
    assert two.recipebox("undo", "--yes", "--box", str(two.second)).code == 0
    asked = at_terminal("n", "y")
    answer = two.sync(two.second)
    assert answer.code == 3
    assert "letters/jam3.txt" in answer.out
    assert "1 cup sugar" in (two.second / "letters/jam3.txt").read_text()
    assert two.sync(two.second).code == 0
    assert "2 cups sugar" in (two.second / "letters/jam3.txt").read_text()
    assert len(asked) == 2


def test_taking_in_what_is_laid_aside_goes_over_no_brake(two: Two, at_terminal: Callable[..., list[str]]) -> None:
    """A yes to what is laid aside is no yes to a great removal: that is asked about by itself."""
    shutil.rmtree(two.first / "letters")
    two.sync(two.first, "--yes")
    two.sync(two.second, "--yes")
    assert two.recipebox("undo", "--yes", "--box", str(two.second)).code == 0
    at_terminal("y", "n")
    assert two.sync(two.second).code == 3
    assert (two.second / "letters/jam3.txt").exists()


def test_recording_a_torn_card_that_is_not_there_is_one_line(two: Two) -> None:
    """`--as-is` with a name that is in no box is an error, not a yes."""
    answer = two.sync(two.first, "--as-is", "nosuch.txt")
    assert (answer.code, answer.out, len(answer.err.splitlines())) == (1, "", 1)
    assert "nosuch.txt" in answer.err


def test_joining_can_be_looked_at_first(two: Two, tmp_path: Path) -> None:
    """`--join --dry-run` tells what would come; nothing changes, and later syncs know nothing of the other box."""
    garden = tmp_path / "garden"
    garden.mkdir()
    (garden / "herbs.txt").write_text(CARD.format(n=50), encoding="utf-8")
    two.recipebox("start", str(garden), "--laptop", "garden")
    refused = two.sync(garden, str(two.stick))
    assert refused.code == 3
    assert (refused.out + refused.err).count("here lies another box") == 1
    looked = two.sync(garden, str(two.stick), "--join", "--dry-run")
    assert "24 new files would come" in looked.out
    assert "1 new file would go: herbs.txt" in looked.out
    assert sorted(path.name for path in garden.iterdir()) == [".recipebox", "herbs.txt"]
    assert two.sync(garden, str(two.stick)).code == 3
    assert two.sync(garden, str(two.stick), "--join").code == 0
    assert len(list(garden.rglob("jam*.txt"))) == 24


def test_a_new_laptop_can_look_first(two: Two, tmp_path: Path) -> None:
    """In an empty folder `sync PLACE --dry-run` tells what would come, and the folder stays empty."""
    empty = tmp_path / "attic"
    empty.mkdir()
    answer = two.sync(empty, str(two.stick), "--dry-run")
    assert answer.code == 0
    assert "24 new files would come" in answer.out
    assert list(empty.iterdir()) == []
    nothing = two.sync(empty, str(tmp_path / "nowhere"), "--dry-run")
    assert (nothing.code, len(nothing.err.splitlines())) == (1, 1)


def test_a_place_that_is_not_there_is_one_line_and_changes_nothing(two: Two, tmp_path: Path) -> None:
    """A folder that does not exist, or is a file, is said on stderr; no file of the box is renamed for it."""
    (two.first / "a\nb.txt").write_text(CARD.format(n=60), encoding="utf-8")
    for place, why in ((tmp_path / "nowhere", "no such folder"), (two.first / "letters/jam3.txt", "outside the box")):
        answer = two.sync(two.first, str(place))
        assert answer.code == 1
        assert why in answer.err
        assert len(answer.err.splitlines()) == 1
    (tmp_path / "file").write_text("x")
    assert "is a file" in two.sync(two.first, str(tmp_path / "file")).err
    assert (two.first / "a\nb.txt").exists()


def test_whose_changes_are_not_taken_is_said(two: Two) -> None:
    """A half-copied bundle and one that is no bundle name the laptop on stderr; exit 0, as others were met."""
    import hashlib

    (two.first / "notes/new.txt").write_text(CARD.format(n=40), encoding="utf-8")
    two.sync(two.first)
    newest = max(two.stick.rglob("*.bundle"), key=lambda file: file.stat().st_mtime_ns)
    newest.write_bytes(newest.read_bytes()[:50])
    half = two.sync(two.second)
    assert half.code == 0
    assert "not all of kitchen's changes have arrived yet" in half.err
    newest.unlink()
    bad = newest.parent / f"000009-{hashlib.sha256(b'no').hexdigest()}.bundle"
    bad.write_bytes(b"no")
    answer = two.sync(two.second)
    assert answer.code == 0
    assert "some changes are not taken: kitchen: is no bundle of changes" in answer.err


def test_the_history_of_a_torn_card_says_that_the_file_is_torn(two: Two) -> None:
    """No edition is called the present one while the file breaks off, and the way to mend it is named, and works."""
    card = two.first / "letters/jam3.txt"
    whole = card.read_bytes()
    card.write_bytes(whole[:40])
    assert two.sync(two.first).code == 0
    shown = two.recipebox("history", "letters/jam3.txt", "--box", str(two.first))
    assert "as it is now" not in shown.out
    assert "The file as it lies there is torn" in shown.out
    assert "--bring-back 1" in shown.out
    data = two.recipebox("history", "letters/jam3.txt", "--json", "--box", str(two.first)).data
    assert [entry["current"] for entry in data["entries"]] == [False]
    assert two.recipebox("history", "letters/jam3.txt", "--bring-back", "1", "--box", str(two.first)).code == 0
    assert card.read_bytes() == whole
