"""Going through the open rows with a person, who may break off and take it up again."""

import pytest

from recipebox.cli import say
from recipebox.cli.show_merge import ask_rows
from recipebox.family import Answers, FamilyError, answers_so_far, keep_answers, open_rows
from tests.family.conftest import Kitchen


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What a person will type, in order."""
    keys: list[str] = []
    monkeypatch.setattr(say, "ask", lambda question, answers="yn": keys.pop(0))
    return keys


def _go(kitchen: Kitchen, path: str) -> tuple[bool, Answers]:
    """Ask all that is open, as `merge --ask` does."""
    data = kitchen.merge(write=False).data
    answers = answers_so_far(kitchen.box, path)

    def fits(trial: Answers) -> str | None:
        try:
            kitchen.merge(write=False, take=trial.take, swap=trial.swap, leave_out=trial.leave_out)
        except FamilyError as error:
            return str(error)
        return None

    ended = ask_rows(open_rows(data), answers, fits, lambda: keep_answers(kitchen.box, path, answers))
    return ended, answers


def test_each_row_is_asked_once_with_all_who_say_otherwise(kitchen: Kitchen) -> None:
    """A row for each line that some version has otherwise, in the card's order, then what only some have."""
    rows = open_rows(kitchen.merge(write=False).data)
    assert [row.line for row in rows] == ["3 leeks, sliced", "500 ml milk", None]
    assert [[(name, text) for name, _, text, _ in row.theirs] for row in rows] == [
        [("Tomasz", "2 onions, sliced")],
        [("Nuala", "600 ml milk")],
        [("Tomasz", "1/2 tsp nutmeg")],
    ]


def test_what_was_answered_is_known_after_breaking_off(kitchen: Kitchen, typed: list[str]) -> None:
    """Broken off at the second row: taken up there, not at the first; the choices of both times make the card."""
    path = "family/leek-pot.txt"
    typed += ["k", "e"]
    assert _go(kitchen, path)[0] is False
    typed += ["t", "t"]
    ended, answers = _go(kitchen, path)
    assert (ended, typed) == (True, [])
    assert answers.take == ["milk=Nuala", "nutmeg=Tomasz"]
    kitchen.merge(**answers.choices({"take": [], "swap": [], "leave_out": []}))
    assert "  600 ml milk\n" in kitchen.text(path)
    assert "  1/2 tsp nutmeg\n" in kitchen.text(path).split("Method")[0]
    keep_answers(kitchen.box, path, None)
    assert answers_so_far(kitchen.box, path) == Answers()


def test_a_row_that_says_something_new_is_asked_again(kitchen: Kitchen, typed: list[str]) -> None:
    """An answer holds for the words it was given to: when a version changes meanwhile, that row is open again."""
    typed += ["k", "k", "e"]
    assert _go(kitchen, "family/leek-pot.txt")[0] is False
    kitchen.edit("versions/nuala.txt", "600 ml", "700 ml")
    typed += ["s", "e"]
    assert _go(kitchen, "family/leek-pot.txt")[0] is False
    assert answers_so_far(kitchen.box, "family/leek-pot.txt").swap == ["milk=Nuala"]


def test_leaving_out_and_both_as_a_swap(kitchen: Kitchen, typed: list[str]) -> None:
    """The four answers do what they say."""
    typed += ["o", "s", "k"]
    ended, answers = _go(kitchen, "family/leek-pot.txt")
    assert ended
    assert (answers.leave_out, answers.swap) == (["onions"], ["milk=Nuala"])
    made = kitchen.merge(**answers.choices({"take": [], "swap": [], "leave_out": []}))
    assert not any("leek" in line["text"] for line in made.data["lines"] if line["part"] == "ingredient")
    assert [one["how"] for one in made.data["swaps"] if one["item"] == "milk"] == ["600 ml for 500 ml"]


def test_a_question_mark_says_what_the_letters_mean(
    kitchen: Kitchen, typed: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """ "?" explains and asks again; what is typed on the command line wins over an earlier answer about that item."""
    typed += ["?", "k", "t", "e"]
    _, answers = _go(kitchen, "family/leek-pot.txt")
    assert "what was answered is kept" in capsys.readouterr().out
    assert answers.take == ["milk=Nuala"]
    more = answers.choices({"take": ["milk=Tomasz"], "swap": [], "leave_out": ["salt"]})
    assert (more["take"], more["leave_out"]) == (["milk=Tomasz"], ["salt"])
