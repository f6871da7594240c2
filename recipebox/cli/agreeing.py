"""`merge`, `history` and `settle`: the family recipe, its past, and what is undecided."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import (
    ANSWERED,
    PERSON_NEEDED,
    BoxOption,
    DryRunOption,
    JsonOption,
    YesOption,
    opened,
    wrong_call,
)

if TYPE_CHECKING:
    from recipebox.box import Box


def register(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command(epilog='Example: recipebox merge "Harbour Fish and Leek Bake" --start-from Brigid')(merge)
    app.command(epilog='Example: recipebox history "Harbour Fish and Leek Bake" --whose')(history)
    app.command(epilog='Example: recipebox settle family/fish-bake.txt "hard cheese" --take 1')(settle)


def merge(
    dish: Annotated[str, typer.Argument(metavar="DISH", help="A dish as `same` names it, or any card of it.")],
    start_from: Annotated[str | None, typer.Option("--start-from", metavar="NAME", help="Whose version leads.")] = None,
    ask: Annotated[bool, typer.Option("--ask", help="Go through the open rows one by one.")] = False,
    take: Annotated[list[str] | None, typer.Option("--take", metavar="ITEM=NAME", help="Take NAME's line.")] = None,
    leave_out: Annotated[list[str] | None, typer.Option("--leave-out", metavar="ITEM", help="Leave it out.")] = None,
    swap: Annotated[list[str] | None, typer.Option("--swap", metavar="ITEM=NAME", help="NAME's as a swap.")] = None,
    why: Annotated[str | None, typer.Option("--why", metavar="TEXT", help="A line on why, kept in history.")] = None,
    yes: YesOption = False,
    dry_run: DryRunOption = False,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Make or renew the family recipe of a dish; nobody's version is changed."""
    from recipebox.cli.show_merge import show_merge, show_nothing_new
    from recipebox.family import contradiction, keep_answers, merge_dish
    from recipebox.history import open_history

    for pair in [*(take or []), *(swap or [])]:
        if "=" not in pair:
            raise wrong_call(f"'{pair}' should be ITEM=NAME, as in 'hard cheese=Tomasz'")
    if quarrel := contradiction(take or [], leave_out or [], swap or []):
        raise wrong_call(quarrel)
    chosen: dict[str, Any] = {
        "start_from": start_from,
        "take": list(take or []),
        "leave_out": list(leave_out or []),
        "swap": list(swap or []),
        "why": why,
    }
    with opened(box) as here:
        past = open_history(here.box)

        def run(write: bool) -> Any:
            return merge_dish(here.box, here.index, past, dish, **chosen, write=write)

        outcome = run(write=yes and not ask and not dry_run)
        path = outcome.data["path"]
        if ask and not dry_run:
            chosen = _asked_rows(here.box, outcome.data, chosen, lambda more: _refused(here, past, dish, more))
            outcome = run(write=yes)
        asks = outcome.changed and not outcome.written and not dry_run
        if asks and say.on_terminal() and not as_json:
            show_merge(outcome.data, outcome.text)
            if say.ask("Write this edition?") == "y":
                outcome = run(write=True)
                asks = False
            else:
                say.warn("nothing is written")
                raise typer.Exit(PERSON_NEEDED)
        if outcome.written:
            keep_answers(here.box, path, None)
    if as_json:
        say.as_json(outcome.data)
    elif outcome.changed or dry_run:
        show_merge(outcome.data, outcome.text)
    else:
        show_nothing_new(outcome.data)
    if asks:
        say.warn("nothing is written yet; add --yes to write this edition, or --take, --leave-out, --swap to change it")
    raise typer.Exit(PERSON_NEEDED if asks or outcome.data["undecided"] else ANSWERED)


def _asked_rows(
    box: "Box", data: dict[str, Any], typed: dict[str, Any], refused: Callable[[dict[str, Any]], str | None]
) -> dict[str, Any]:
    """Ask row by row from where it was broken off; the choices made. Off a terminal, or broken off: exit 3."""
    from recipebox.cli.show_merge import ask_rows
    from recipebox.family import answers_so_far, keep_answers, open_rows

    rows, path = open_rows(data), data["path"]
    answers = answers_so_far(box, path)
    if not say.on_terminal():
        row = next((row for row in rows if row.key not in answers.keys), None)
        if row is None:
            return answers.choices(typed)
        name, item, text, _ = row.theirs[0]
        say.warn(f'{row.line or "not in the recipe"}; {name}: {text}. To answer: --take "{item}={name}", --yes to keep')
        raise typer.Exit(PERSON_NEEDED)
    ended = ask_rows(
        rows,
        answers,
        lambda trial: refused(trial.choices(typed)),
        lambda: keep_answers(box, path, answers),
    )
    if not ended:
        say.line(f'Broken off, nothing is written. To go on: recipebox merge "{data["dish"]}" --ask')
        raise typer.Exit(PERSON_NEEDED)
    return answers.choices(typed)


def _refused(here: Any, past: Any, dish: str, choices: dict[str, Any]) -> str | None:
    """Why choices cannot be carried out, in words; None if they can."""
    from recipebox.family import FamilyError, merge_dish

    try:
        merge_dish(here.box, here.index, past, dish, **choices, write=False)
    except FamilyError as error:
        return str(error)
    return None


def history(
    card: Annotated[str | None, typer.Argument(metavar="CARD", help="A card or a dish.")] = None,
    edition: Annotated[str | None, typer.Option("--edition", metavar="N", help="Show edition N.")] = None,
    compare: Annotated[
        tuple[str, str] | None, typer.Option("--compare", metavar="N M", help="Compare two editions.")
    ] = None,
    whose: Annotated[bool, typer.Option("--whose", help="For each line, whose it is.")] = False,
    bring_back: Annotated[str | None, typer.Option("--bring-back", metavar="N", help="Make N current again.")] = None,
    find: Annotated[str | None, typer.Option("--find", metavar="WORDS", help="Where these words ever stood.")] = None,
    gone: Annotated[bool, typer.Option("--gone", help="Cards that are no longer there.")] = False,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Editions and changes of a card or dish; bring an earlier text back."""
    from recipebox.cli.show_history import show_history
    from recipebox.family import history_data
    from recipebox.history import open_history

    asked = [
        one
        for one in (edition is not None, compare is not None, whose, bring_back is not None, find is not None, gone)
        if one
    ]
    if len(asked) > 1:
        raise wrong_call("ask one thing at a time: one of --edition, --compare, --whose, --bring-back, --find, --gone")
    if card is None and not (gone or find):
        raise wrong_call('name a card or dish, as in: recipebox history "Fish Bake"')
    with opened(box) as here:
        past = open_history(here.box)
        answer = history_data(
            here.box,
            here.index,
            past,
            card,
            edition=edition,
            compare=compare,
            whose=whose,
            bring_back=bring_back,
            find=find,
            gone=gone,
        )
        if "entries" in answer.data:
            _note_torn(answer.data, dict(past.set_aside()))
    if as_json:
        say.as_json(answer.data)
    else:
        show_history(answer.data)
    if answer.asks:
        say.warn(answer.asks)
        raise typer.Exit(PERSON_NEEDED)


def _note_torn(data: dict[str, Any], torn: Mapping[str, str]) -> None:
    """Say of a card that lies there torn that none of its recorded editions is what the file holds."""
    why = torn.get(data["path"])
    if why is not None:
        data["torn"] = why
        for entry in data["entries"]:
            entry["current"] = False


def settle(
    card: Annotated[str | None, typer.Argument(metavar="CARD", help="The card.")] = None,
    about: Annotated[str | None, typer.Argument(metavar="ABOUT", help="What the entry is about.")] = None,
    take: Annotated[
        str | None, typer.Option("--take", metavar="N", help="The wording to take: its number or its words.")
    ] = None,
    again: Annotated[bool, typer.Option("--again", help="Take a choice back, so that it can be made anew.")] = False,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Go through what is undecided, one at a time."""
    from recipebox.cli.show_history import show_undecided
    from recipebox.family import open_entries, settle_entry
    from recipebox.history import open_history

    if (take or again) and not (card and about):
        raise wrong_call('say which entry, as in: recipebox settle CARD "hard cheese" --take 1')
    with opened(box) as here:
        past = open_history(here.box)
        if (take or again) and card and about:
            settle_entry(here.box, here.index, past, card, about, take=take, again=again)
        data = open_entries(here.box, here.index, past, card, about)
        if not take and not again and say.on_terminal() and not as_json:
            _go_through(here, past, data)
            data = open_entries(here.box, here.index, past, card, about)
    if as_json:
        say.as_json(data)
    else:
        show_undecided(data)
    if data["undecided"] and not (take or again):
        if not say.on_terminal():
            first = data["undecided"][0]
            say.warn(f'to settle one: recipebox settle "{first["path"]}" "{first["about"]}" --take 1')
        raise typer.Exit(PERSON_NEEDED)


def _go_through(here: Any, past: Any, data: dict[str, Any]) -> None:
    from recipebox.family import settle_entry

    for entry in data["undecided"]:
        say.heading(f"{entry['path']}: {entry['about']}")
        for number, wording in enumerate(entry["wordings"], 1):
            who = f"  ({', '.join(wording['laptops'])})" if wording["laptops"] else ""
            say.line(wording["text"] + who, first=f"  {number}  ")
        letters = "".join(str(number) for number in range(1, len(entry["wordings"]) + 1)) + "lq"
        typed = say.ask("Which one? (l: later, q: stop here)", letters)
        if typed == "q":
            say.warn("stopped; what was settled before stays")
            return
        if typed != "l":
            settle_entry(here.box, here.index, past, entry["path"], entry["about"], take=typed, again=False)
