"""The command line as a whole: help, exit codes, and what it loads."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import Type

COMMANDS = [
    "start", "add", "read", "watch", "find", "same", "compare", "merge", "history", "settle", "sync", "undo", "batch",
    "onhand", "tonight", "tour",
]  # fmt: skip


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself_with_one_example(recipebox: Type, command: str) -> None:
    """Help names --json, holds one example of the command itself, and fits 80 columns."""
    answer = recipebox(command, "--help")
    assert answer.code == 0
    assert "--json" in answer.out
    assert " ".join(answer.out.split()).count(f"Example: recipebox {command}") == 1
    assert max(map(len, answer.out.splitlines())) <= 80


@pytest.mark.parametrize(
    "words",
    [
        ["find", "--colour"],
        ["find", ""],
        ["find", "--has", " "],
        ["nosuch"],
        ["batch"],
        ["start", "a", "b"],
        ["same", "a", "--yes", "b", "--no", "c"],
        ["tonight", "--within", "soon"],
        ["tonight", "--avoid", "xyz"],
    ],
)
def test_a_wrong_call_is_one_line_and_exit_2(recipebox: Type, box: Path, words: list[str]) -> None:
    """An option, command or value that does not exist is told in one line of ours, nothing on stdout."""
    answer = recipebox(*words)
    assert (answer.code, answer.out) == (2, "")
    (told,) = answer.err.splitlines()
    assert told.startswith("recipebox: ")


def test_arguments_are_told_by_name(recipebox: Type) -> None:
    """Help says FILE..., not how a program keeps it."""
    assert recipebox("add", "--help").out.splitlines()[0] == "Usage: recipebox add [OPTIONS] FILE..."
    for command in COMMANDS:
        assert "<" not in recipebox(command, "--help").out


@pytest.mark.skipif(sys.platform == "win32", reason="a shell's pipe")
def test_a_pipe_that_is_closed_early_is_no_failure(box: Path) -> None:
    """`find ... | head -1` ends well, without a word."""
    code = "from recipebox.cli.app import main; main()"
    with subprocess.Popen(
        [sys.executable, "-c", code, "same", "--json"], cwd=box, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as typed:
        assert typed.stdout is not None
        assert typed.stderr is not None
        typed.stdout.close()
        assert typed.stderr.read() == b""
    assert typed.returncode == 0


@pytest.mark.parametrize("words", [["--help"], ["find", "leeks"]])
def test_light_commands_load_no_heavy_library(box: Path, words: list[str]) -> None:
    """`--help` and a search over an index that is up to date import neither pint, pygit2 nor sqlite_utils."""
    code = (
        "import sys; from recipebox.cli.app import main; sys.argv = ['recipebox', *sys.argv[1:]]\n"
        "try: main()\n"
        "except SystemExit: pass\n"
        "print([m for m in ('pint', 'pygit2', 'sqlite_utils', 'numpy') if m in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code, *words], cwd=box, capture_output=True, text=True, check=True)
    assert done.stderr.strip().splitlines()[-1] == "[]"


def test_box_and_json_may_stand_before_the_command(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """`--box` and `--json` mean the same before the command and behind it; a wrong box is never passed over."""
    behind = recipebox("find", "leeks", "--box", str(box), "--json")
    assert recipebox("--box", str(box), "--json", "find", "leeks").out == behind.out
    assert recipebox(f"--box={tmp_path}", "find", "leeks").code == 1
    assert recipebox("--json", "onhand", "add", "pantry", "1 pear").data["entries"]


def test_nothing_unforeseen_shows_a_traceback(recipebox: Type, box: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault within the tool ends in one line and exit 1."""
    from recipebox import index

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a fault\nof two lines")

    monkeypatch.setattr(index, "open_index", broken)
    answer = recipebox("find", "leeks")
    assert answer.code == 1
    assert len(answer.err.splitlines()) == 1
    assert "Traceback" not in answer.err
