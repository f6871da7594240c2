"""`add` and `read`: bringing cards in, and showing how a card is understood."""

import json
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

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
    wrong_call,
)

if TYPE_CHECKING:
    from recipebox.cards.model import Card
    from recipebox.cards.text import Text


def register(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command(epilog="Example: recipebox add letter.txt --from Ines")(add)
    app.command(epilog="Example: recipebox read versions/brigid-fish-bake.txt")(read)


def add(
    files: Annotated[list[str], typer.Argument(metavar="FILE", help="Files to bring in; - for what is pasted.")],
    sender: Annotated[str | None, typer.Option("--from", metavar="NAME", help="Who sent it.")] = None,
    share: Annotated[
        bool, typer.Option("--share-original", help="Let the original travel to the other laptops, too.")
    ] = False,
    yes: YesOption = False,
    dry_run: DryRunOption = False,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Bring cards in: text, mail, web pages, schema.org JSON, Word and PDF files, pictures, or what is pasted."""
    from recipebox.gather import GatherError, Sent, add_sent, read_sent

    here = find_box(box)
    sent: list[Sent] = []
    trouble: list[dict[str, Any]] = []
    for name in files:
        try:
            sent.append(read_sent(_bytes_of(name), name))
        except (OSError, GatherError) as error:
            trouble.append({"path": name, "line": 0, "what": _why(error).removeprefix(f"{name}: ")})

    def bring(write: bool) -> dict[str, Any]:
        added = add_sent(here, sent, sender=sender, today=date.today(), share=share, write=write)
        return {"added": added, "trouble": trouble}

    several = any(len(one.found) > 1 for one in sent)
    asks = several and not yes and not dry_run
    result = bring(write=False) if asks or dry_run else bring(write=True)
    if asks and all(one["already"] for one in result["added"]):
        asks = False
    if asks and say.on_terminal() and not as_json:
        _show_added(result, would=True)
        asks = say.ask("Bring these in, a file each?") != "y"
        if asks:
            say.warn("nothing is written")
            raise typer.Exit(PERSON_NEEDED)
        result = bring(write=True)
    if as_json:
        say.as_json(result)
    else:
        _show_added(result, would=asks or dry_run)
    say.trouble(trouble)
    if asks:
        say.warn("several recipes in one file: nothing is written yet; add --yes to bring in a card file each")
        raise typer.Exit(PERSON_NEEDED)
    if trouble:
        raise typer.Exit(FAILED)


def read(
    files: Annotated[list[str], typer.Argument(metavar="FILE", help="Cards, or with --lines lists of ingredients.")],
    lines: Annotated[bool, typer.Option("--lines", help="Read each line as an ingredient line.")] = False,
    form: Annotated[
        str | None, typer.Option("--as", metavar="FORM", help="Write the cards as schema.org (JSON-LD).")
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Show how a card, or each line of a list of ingredients, is understood. Needs no box."""
    from recipebox.cards.kinds import NotACardError
    from recipebox.cards.text import NotTextError
    from recipebox.gather import GatherError

    if form not in (None, "schema.org"):
        raise wrong_call(f"--as {form} is not known; the one form is --as schema.org")
    if form and lines:
        raise wrong_call("--as takes whole cards; leave --lines out")
    bad = False
    out: list[tuple[Card, Text]] = []
    for name in files:
        try:
            if lines:
                _read_lines(name, _bytes_of(name), as_json)
            elif form:
                out += _cards_of(name)
            else:
                _show_cards(_cards_of(name), as_json)
        except BrokenPipeError:
            raise  # whoever read our answers went away: not a fault of the file
        except (OSError, NotACardError, NotTextError, GatherError) as error:
            bad = True
            told = _why(error).removeprefix(f"{name}: ")
            if as_json and not form:
                print(json.dumps({"path": name, "trouble": told}, ensure_ascii=False))
            say.warn(f"{name}: {told}")
    if out:
        from recipebox.gather.recipes_out import recipes_data

        print(json.dumps(recipes_data(out), ensure_ascii=False, indent=2))
    if bad:
        raise typer.Exit(FAILED)


def _bytes_of(name: str) -> bytes:
    """A file's bytes, one more than its form may have at most: what reads them then says that it is too large."""
    from recipebox.gather import form_of, largest
    from recipebox.gather.forms import Form

    if name == "-":
        return sys.stdin.buffer.read(largest(Form.PDF) + 1)
    path = Path(name)
    if path.is_dir():
        raise IsADirectoryError(21, "this is a folder; name the files in it", name)
    if not path.is_file() and path.exists():
        raise OSError(22, "this is not a file that can be read", name)
    with path.open("rb") as file:
        return file.read(largest(form_of(name)) + 1)


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


def _cards_of(name: str) -> "list[tuple[Card, Text]]":
    """The cards of a file, each with its text; a text of any name is read where it stands, other forms are opened."""
    from recipebox.cards.reader import read_text
    from recipebox.cards.text import decode
    from recipebox.gather import GatherError, form_of, largest, read_sent
    from recipebox.gather.forms import Form

    data = _bytes_of(name)
    form = form_of(name, data)
    if form not in (None, Form.TEXT, Form.MARKDOWN):
        sent = read_sent(data, name)
        if not sent.cards():
            raise GatherError("a picture: there is nothing to read in it; add keeps it beside a new card")
        return sent.cards()
    if len(data) > largest(form):
        raise GatherError("over 1 MB, too much for a card; cut out the recipe and save that")
    text = decode(data)
    return [(card, text) for card in read_text(text, name)]


def _show_cards(cards: "list[tuple[Card, Text]]", as_json: bool) -> None:
    from recipebox.cards.data import card_data
    from recipebox.cli.show_card import show_card

    for card, _ in cards:
        if as_json:
            print(json.dumps(card_data(card), ensure_ascii=False))
        else:
            show_card(card)


def _read_lines(name: str, data: bytes, as_json: bool) -> None:
    from recipebox.cards.data import ingredient_data
    from recipebox.cards.ingredient import read_ingredient
    from recipebox.cards.text import decode
    from recipebox.cli.show_card import show_ingredient
    from recipebox.gather import GatherError, largest

    if len(data) > largest(None):
        raise GatherError("over 1 MB, too much for a list of ingredients; split it")
    for number, line in enumerate(decode(data).lines, 1):
        if not line.words.strip():
            continue
        ingredient = read_ingredient(line.words, number)
        if as_json:
            print(json.dumps(ingredient_data(ingredient), ensure_ascii=False))
        else:
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
                say.line(_kept(one["as_sent"]), first="  ")


def _kept(original: str) -> str:
    """Where an original lies; a picture lies beside its card and is its own."""
    if original.startswith("as-sent/"):
        return f"The original is kept, on this computer only, as {original}"
    if original.startswith("cards/as-sent/"):
        return f"The original is kept as {original}"
    return "A picture is no card yet: type its ingredients and steps in under the title"
