"""`tour`: the main job, start to finish, on a copy of sample_box, with the real commands."""

import io
import os
import shlex
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import FAILED, JsonOption

_DISH = "Harbour Fish and Leek Bake"
_FAMILY = "family/harbour-fish-and-leek-bake.txt"
_BRIGID = "versions/brigid-fish-bake.txt"
_NUALA = "versions/nuala-fish-bake.txt"


def register(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command(epilog="Example: recipebox tour --keep my-first-look")(tour)


def tour(
    keep: Annotated[
        Path | None, typer.Option("--keep", metavar="FOLDER", help="Leave the two boxes there to play with.")
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Show the main job on an invented family's box. It is a copy; it takes less than a minute."""
    with tempfile.TemporaryDirectory(prefix="recipebox-tour-") as temporary:
        root = keep or Path(temporary)
        if root.exists() and any(root.iterdir()):
            say.warn(f"{root}: this folder is not empty; name a new one")
            raise typer.Exit(FAILED)
        guide = _Guide(root, quiet=as_json)
        alike = guide.run()
        if as_json:
            say.as_json({"steps": guide.steps, "boxes_alike": alike})
        if not alike:
            say.warn("the two boxes are not alike: this is a fault of the tool; please report it")
            raise typer.Exit(FAILED)


@contextmanager
def _columns(number: int) -> Iterator[None]:
    """Let commands write this many columns wide."""
    before = os.environ.get("COLUMNS")
    os.environ["COLUMNS"] = str(number)
    try:
        yield
    finally:
        if before is None:
            del os.environ["COLUMNS"]
        else:
            os.environ["COLUMNS"] = before


class _Guide:
    """Walks through the job; `steps` records each command with its exit code."""

    def __init__(self, root: Path, quiet: bool) -> None:
        self.quiet = quiet
        self.root = root = root.resolve()
        self.kitchen, self.study, self.stick = root / "kitchen", root / "study", root / "stick"
        self.steps: list[dict[str, Any]] = []

    def run(self) -> bool:
        self._gather()
        self._see_what_is_the_same()
        self._agree()
        self._keep_alike()
        self._cook()
        return self._alike()

    def _gather(self) -> None:
        from recipebox.box import sample_box

        shutil.copytree(sample_box(), self.kitchen)
        self.stick.mkdir(parents=True)
        self._tell("1. An invented family's folder of cards becomes a box. No card is changed.")
        self._do(["start", str(self.kitchen), "--laptop", "kitchen"])

    def _see_what_is_the_same(self) -> None:
        self._tell("2. Which cards are versions of the same dish, whatever they are called?")
        self._do(["same", _BRIGID], self.kitchen)
        self._tell("   A fish pie, a gratin and a fish soup from the same pantry stay apart:")
        for path in ("pies/brigid-fish-pie.txt", "sides/nuala-leek-potato-gratin.txt"):
            self._do(["same", path], self.kitchen)
        self._tell("3. What truly differs, once Brigid's double batch is put on Tomasz's?")
        self._do(["compare", "letters/tomasz.txt", _BRIGID], self.kitchen)

    def _agree(self) -> None:
        self._tell("4. The versions become the family's recipe, edition 1. Nobody's card is touched.")
        self._do(["merge", _DISH, "--yes", "--why", "first family edition"], self.kitchen)
        self._tell("5. Nuala writes her card anew: more leeks, and a longer bake. That renews it: edition 2.")
        self._edit(self.kitchen / _NUALA, "3 leeks (about 450g)", "4 leeks (about 600g)")
        self._edit(self.kitchen / _NUALA, "Bake for 30 minutes", "Bake for 35 minutes")
        self._do(["merge", _DISH, "--yes", "--why", "Nuala: more leeks, a longer bake"], self.kitchen, most=24)
        self._do(["history", _DISH, "--compare", "1", "2"], self.kitchen)
        self._do(["history", _DISH], self.kitchen)

    def _keep_alike(self) -> None:
        self._tell("6. A second laptop takes the whole box from a stick.")
        self._do(["sync", str(self.stick)], self.kitchen)
        self._do(["sync", str(self.stick), "--laptop", "study"], self.study)
        self._tell("   Apart from each other, both change the same line of the family's recipe.")
        crumbs = self._line_with("readcrumbs")
        self._edit(self.kitchen / _FAMILY, crumbs, _other_amount(crumbs, 1))
        self._edit(self.study / _FAMILY, crumbs, _other_amount(crumbs, 2))
        for box in (self.kitchen, self.study, self.kitchen):
            self._do(["sync"], box)
        self._tell("   Nobody's words are lost: the card can be cooked from, and says what is undecided.")
        self._do(["settle", _FAMILY], self.study)
        about = self._open_question()
        self._do(["settle", _FAMILY, about, "--take", "2"], self.study)
        for box in (self.study, self.kitchen):
            self._do(["sync"], box)

    def _cook(self) -> None:
        self._tell("7. And tonight? From pantry, fridge and freezer, what must be used soon first:")
        self._do(["tonight"], self.kitchen, most=12)

    def _alike(self) -> bool:
        boxes = [
            {
                str(path.relative_to(box)): path.read_bytes()
                for path in sorted(box.rglob("*"))
                if path.is_file() and ".recipebox" not in path.parts
            }
            for box in (self.kitchen, self.study)
        ]
        alike = boxes[0] == boxes[1]
        if alike:
            self._tell(f"Both boxes are alike, byte for byte: {len(boxes[0])} files.")
        return alike

    def _tell(self, words: str) -> None:
        if not self.quiet:
            print()
            say.line(say.paint(words, "bold"))

    def _do(self, arguments: Sequence[str], box: Path | None = None, most: int = 0) -> None:
        """Run a command of the tool as a person would, and show what it prints (`most` lines of it)."""
        from recipebox.cli.app import app

        shown = shlex.join(str(one).replace(f"{self.root}/", "") for one in arguments)
        if not self.quiet:
            place = f"{box.name}> " if box else "> "
            print()
            say.line(f"recipebox {shown}", first=f"  {place}", rest="      ")
        heard = io.StringIO()
        extra = ["--box", str(box)] if box else []
        with redirect_stdout(heard), redirect_stderr(heard), _columns(say.width() - 2):
            code = app([*arguments, *extra], standalone_mode=False) or 0
        self.steps.append({"command": f"recipebox {shown}", "exit": code})
        if code not in (0, 3):
            say.warn(f"'recipebox {shown}' ended with {code}")
            raise typer.Exit(FAILED)
        if not self.quiet:
            lines = heard.getvalue().replace(f"{self.root}/", "").rstrip().splitlines()
            for line in lines[: most or None]:
                indent = len(line) - len(line.lstrip())
                say.line(line.strip(), first=" " * (2 + indent), rest=" " * (4 + indent))
            if most and len(lines) > most:
                print("  ...")

    def _edit(self, path: Path, old: str, new: str) -> None:
        text = path.read_text(encoding="utf-8")
        if old not in text:
            raise ValueError(f"{path} does not hold the line the tour changes")
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
        if not self.quiet:
            box = path.relative_to(self.root).parts[0]
            say.line(f"{old.strip()} -> {new.strip()}", first=f"  {box}, {path.name}: ", rest="      ")

    def _line_with(self, words: str) -> str:
        text = (self.kitchen / _FAMILY).read_text(encoding="utf-8")
        return next(line for line in text.splitlines() if words in line)

    def _open_question(self) -> str:
        from recipebox.cards.reader import read_cards

        card = read_cards((self.study / _FAMILY).read_bytes(), _FAMILY)[0]
        return card.undecided[0].about


def _other_amount(line: str, more: int) -> str:
    """The same line with another first digit: with 1 more, 100 g becomes 200 g."""
    at = next(at for at, character in enumerate(line) if character.isdigit())
    digit = (int(line[at]) - 1 + more) % 9 + 1
    return f"{line[:at]}{digit}{line[at + 1 :]}"
