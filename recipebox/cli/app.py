"""The command `recipebox`: all commands, and the one place where errors become sentences."""

import errno
import os
import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from recipebox.cli import agreeing, finding, folder, kitchen, meeting, reading, say, sizing, tour
from recipebox.cli.common import WRONG_CALL
from recipebox.cli.harmless import harmless

# Every error of typer's about a call; the class has no public name of its own.
_WRONG_CALL = typer.BadParameter.__bases__[0]

app = typer.Typer(
    name="recipebox",
    help="Brings a family's versions of a dish together.",
    no_args_is_help=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    add_completion=False,
    context_settings={"help_option_names": ["--help", "-h"], "max_content_width": 80},
)
for room in (folder, reading, finding, agreeing, meeting, kitchen, sizing, tour):
    room.register(app)


@app.callback(invoke_without_command=True)
def standing(
    context: typer.Context,
    box: Annotated[
        Path | None, typer.Option("--box", metavar="FOLDER", help="The box, if not the folder you are in.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Answer as JSON.")] = False,
) -> None:
    """Alone, in a box: how things stand, and the one next thing to type."""
    if context.invoked_subcommand is None:
        folder.standing(box, as_json)


def main() -> None:
    """Run the command line. Every error ends in one line on stderr; exit codes are 0, 1, 2 and 3."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    sys.stdout, sys.stderr = harmless(sys.stdout), harmless(sys.stderr)
    try:
        command = plainly_helped(typer.main.get_command(app))
        with command.make_context("recipebox", in_any_place(_spread(sys.argv[1:]))) as context:
            command.invoke(context)
        sys.stdout.flush()
    except typer.Exit as ended:
        sys.exit(ended.exit_code)
    except KeyboardInterrupt:
        say.warn("broken off; what was written before stays")
        sys.exit(say.INTERRUPTED)
    except BrokenPipeError:
        # The reader of a pipe went away, as `head` does: nothing is left to say.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except Exception as error:
        if isinstance(error, _WRONG_CALL):
            say.warn(call_sentence(error))
            sys.exit(WRONG_CALL)
        if os.environ.get("RECIPEBOX_TRACE"):
            raise
        say.warn(sentence(error))
        sys.exit(1)


def plainly_helped(command: Any) -> Any:
    """The command, its help telling an argument's name alone: FILE..., not {FILE}... <list[str]>."""
    for one in command.params:
        if one.param_type_name == "argument":
            name = one.metavar + ("..." if one.nargs != 1 else "")
            usage = name if one.required else f"[{name}]"
            vars(one).update(_usage_display_name=lambda usage=usage: usage, display_type_rich=lambda ctx: "")
    for other in getattr(command, "commands", {}).values():
        plainly_helped(other)
    return command


def _spread(arguments: list[str]) -> list[str]:
    """Windows leaves `*.txt` to the program; every other shell has spread it out."""
    if os.name != "nt":
        return arguments
    spread: list[str] = []
    for one in arguments:
        anchor = Path(one).anchor
        fitting = Path(anchor or ".").glob(one.removeprefix(anchor)) if set(one) & set("*?") else ()
        spread += sorted(map(str, fitting)) or [one]
    return spread


def call_sentence(error: Exception) -> str:
    """One clear line for a call that typer could not read, and where help stands."""
    told = getattr(error, "format_message", error.__str__)()
    context = getattr(error, "ctx", None)
    return f"{' '.join(told.split()).rstrip('.')}; see: {context.command_path if context else 'recipebox'} --help"


def in_any_place(arguments: list[str]) -> list[str]:
    """A call with `--box` and `--json` that stand before the command moved behind it, where the command reads them."""
    moved: list[str] = []
    rest = list(arguments)
    while rest and (rest[0] in ("--box", "--json") or rest[0].startswith("--box=")):
        moved += [rest.pop(0) for _ in range(2 if rest[0] == "--box" and len(rest) > 1 else 1)]
    if not rest or rest[0].startswith("-"):
        return arguments
    end = rest.index("--") if "--" in rest else len(rest)
    return [*rest[:end], *moved, *rest[end:]]


def sentence(error: Exception) -> str:
    """One clear line for an error: what, where, what to do."""
    if isinstance(error, OSError) and error.errno == errno.ENOSPC:
        where = f" ({error.filename})" if error.filename else ""
        return f"the disk is full{where}; nothing was half written. Make room and type the same again"
    if isinstance(error, PermissionError):
        return f"{error.filename}: you may not read or write this; change its permissions or choose another folder"
    if isinstance(error, FileNotFoundError):
        return f"{error.filename}: there is no such file; check the name"
    if isinstance(error, OSError):
        return f"{error.filename or 'a file'}: {error.strerror or error}"
    if isinstance(error, UnicodeEncodeError):
        return "a name holds letters that this terminal's language setting cannot; set PYTHONUTF8=1 and type it again"
    words = " ".join(str(error).split())
    if type(error).__module__.startswith("recipebox."):
        return words
    return (
        f"something unforeseen went wrong ({type(error).__name__}: {words}). Your cards are as they were; "
        "set RECIPEBOX_TRACE=1 and type it again to see where"
    )
