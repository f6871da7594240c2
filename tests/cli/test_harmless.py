"""Words of other people cannot steer a terminal."""

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

TITLE = "Plum \x1b]0;mine\x07 cake \x1b[2J\x9b2J"
CARD = f"{TITLE}\n\n2 cups flour\n3 plums\n\nMix and bake.\n"


@pytest.mark.skipif(sys.platform == "win32", reason="there is no pseudo-terminal")
def test_a_card_cannot_steer_a_terminal(tmp_path: Path) -> None:
    """A title that would rename the window and clear the screen is shown with `?` in those places."""
    (tmp_path / "plum.txt").write_text(CARD, encoding="utf-8")
    ours, theirs = pty.openpty()
    command = [sys.executable, "-c", "from recipebox.cli.app import main; main()", "read", "plum.txt"]
    with subprocess.Popen(command, cwd=tmp_path, stdout=theirs, stderr=theirs, close_fds=True) as typed:
        os.close(theirs)
        shown = b""
        try:
            while part := os.read(ours, 4096):
                shown += part
        except OSError:
            pass  # the other end of a pseudo-terminal was closed: all is read
        finally:
            os.close(ours)
        assert typed.wait() == 0
    words = shown.decode("utf-8")
    assert "Plum ?" in words and "cake ?" in words
    assert not any(sign in words for sign in ("\x1b]", "\x07", "\x1b[2J", "\x9b"))


def test_a_pipe_gets_the_words_as_they_are(tmp_path: Path) -> None:
    """What is not shown to a person is handed on untouched."""
    (tmp_path / "plum.txt").write_text(CARD, encoding="utf-8")
    command = [sys.executable, "-c", "from recipebox.cli.app import main; main()", "read", "plum.txt"]
    told = subprocess.run(command, cwd=tmp_path, capture_output=True, check=True)
    assert b"\x1b]0;mine" in told.stdout
