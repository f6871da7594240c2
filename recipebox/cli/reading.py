"""`add` and `read`: bringing cards in, and showing how a card is understood."""

import json
import sys
from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import (
    FAILED,
    PERSON_NEEDED,
    BoxOption,
    DryRunOption,
    JsonOption,
    YesOption,
    find_box,
)

_LARGEST = 1_000_000


def register(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command(epilog="Example: recipebox add letter.txt --from Ines")(add)
    app.command(epilog="Example: recipebox read versions/brigid-fish-bake.txt")(read)


def add(
    files: Annotated[list[str], typer.Argument(metavar="FILE...", help="Files to bring in; - for what is pasted.")],
    sender: Annotated[str | None, typer.Option("--from", metavar="NAME", help="Who sent it.")] = None,
    yes: YesOption = False,
    dry_run: DryRunOption = False,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Bring cards in: text (.txt) and Markdown (.md) files, or what is pasted."""
    from recipebox.gather import add_files

    here = find_box(box)
    sent: list[tuple[str, bytes]] = []
    unread: list[dict[str, Any]] = []
    for name in files:
        try:
            sent.append((name, _bytes_of(name)))
        except (OSError, _TooLargeError) as error:
            unread.append({"path": name, "line": 0, "what": _why(error)})
    looked = add_files(here, sent, sender=sender, today=date.today(), write=False)
    several = len(looked["added"]) > len(sent)
    asks = several and not yes and not dry_run
    if asks and say.on_terminal() and not as_json:
        _show_added(looked, would=True)
        asks = say.ask("Bring these in, a file each?") != "y"
        if asks:
            raise typer.Exit(PERSON_NEEDED)
    write = not dry_run and not asks
    result = add_files(here, sent, sender=sender, today=date.today()) if write else looked
    result["trouble"] = unread + result["trouble"]
    if as_json:
        say.as_json(result)
    else:
        _show_added(result, would=not write)
    say.trouble(result["trouble"])
    if asks:
        say.warn("several recipes in one file: nothing is written yet; add --yes to bring in a card file each")
        raise typer.Exit(PERSON_NEEDED)
    if result["trouble"]:
        raise typer.Exit(FAILED)


def read(
    files: Annotated[list[str], typer.Argument(metavar="FILE...", help="Cards, or with --lines lists of ingredients.")],
    lines: Annotated[bool, typer.Option("--lines", help="Read each line as an ingredient line.")] = False,
    as_json: JsonOption = False,
) -> None:
    """Show how a card, or each line of a list of ingredients, is understood. Needs no box."""
    from recipebox.cards.kinds import NotACardError
    from recipebox.cards.text import NotTextError

    bad = False
    for name in files:
        try:
            data = _bytes_of(name)
            if lines:
                _read_lines(name, data, as_json)
            else:
                _read_cards(name, data, as_json)
        except (OSError, NotACardError, NotTextError, _TooLargeError) as error:
            bad = True
            told = _why(error)
            if as_json:
                print(json.dumps({"path": name, "trouble": told}, ensure_ascii=False))
            say.warn(f"{name}: {told}")
    if bad:
        raise typer.Exit(FAILED)


class _TooLargeError(Exception):
    pass


def _bytes_of(name: str) -> bytes:
    if name == "-":
        data = sys.stdin.buffer.read(_LARGEST + 1)
    else:
        path = Path(name)
        if path.is_dir():
            raise IsADirectoryError(21, "this is a folder; name the files in it", name)
        if not path.is_file() and path.exists():
            raise OSError(22, "this is not a file that can be read", name)
        with path.open("rb") as file:
            data = file.read(_LARGEST + 1)
    if len(data) > _LARGEST:
        raise _TooLargeError("over 1 MB, too much for a card; cut out the recipe and save that")
    return data


def _why(error: Exception) -> str:
    from recipebox.cards.kinds import NotACardError
    from recipebox.cards.text import NotTextError

    if isinstance(error, NotACardError):
        where = f"line {error.line}: " if error.line else ""
        return f"not a card: {where}{error.why}"
    if isinstance(error, NotTextError):
        return f"not a card: {error}"
    if isinstance(error, FileNotFoundError):
        return "there is no such file; check the name"
    if isinstance(error, PermissionError):
        return "you may not read this file; change its permissions"
    return str(error.strerror) if isinstance(error, OSError) else str(error)


def _read_cards(name: str, data: bytes, as_json: bool) -> None:
    from recipebox.cards.data import card_data
    from recipebox.cards.reader import read_cards

    for card in read_cards(data, name):
        if as_json:
            print(json.dumps(card_data(card), ensure_ascii=False))
        else:
            from recipebox.cli.show_card import show_card

            show_card(card)


def _read_lines(name: str, data: bytes, as_json: bool) -> None:
    from recipebox.cards.data import ingredient_data
    from recipebox.cards.ingredient import read_ingredient
    from recipebox.cards.text import decode

    for number, line in enumerate(decode(data).lines, 1):
        if not line.words.strip():
            continue
        ingredient = read_ingredient(line.words, number)
        if as_json:
            print(json.dumps(ingredient_data(ingredient), ensure_ascii=False))
        else:
            from recipebox.cli.show_card import show_ingredient

            show_ingredient(ingredient)


def _show_added(result: dict[str, Any], *, would: bool) -> None:
    for one in result["added"]:
        sender = f", from {one['from']}" if one["from"] else ""
        if one["already"]:
            say.line(f"In the box already: {one['title']} ({one['path']})")
        else:
            verb = "Would bring in" if would else "Brought in"
            say.line(f"{verb}: {one['title']}{sender} -> {one['path']}")
            if one["as_sent"] and not would:
                say.line(f"The original is kept, on this computer only, as {one['as_sent']}", first="  ")
