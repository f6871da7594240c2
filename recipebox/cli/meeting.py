"""`sync` and `undo`: meeting the other laptops, and taking the last thing back."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import PERSON_NEEDED, BoxOption, DryRunOption, JsonOption, YesOption, opened
from recipebox.cli.progress import progress

if TYPE_CHECKING:
    from recipebox.sync import Outcome

_STATES = {
    "met": "met",
    "not there": "not there; skipped",
    "incomplete": "met, but not all of {} changes have arrived yet",
    "other box": "holds another box; nothing was taken. To put both together: recipebox sync PLACE --join",
    "newer rule": "{} has a newer recipebox: renew this one. Your own changes were sent",
    "refused": "refused",
}


def register(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command(epilog="Example: recipebox sync /media/stick")(sync)
    app.command(epilog="Example: recipebox undo")(undo)


def sync(
    place: Annotated[
        str | None, typer.Argument(metavar="PLACE", help="Where the laptops meet: a folder or a git server's address.")
    ] = None,
    as_is: Annotated[list[str] | None, typer.Option("--as-is", metavar="PATH", help="Record a torn card.")] = None,
    join: Annotated[bool, typer.Option("--join", help="Put two boxes together.")] = False,
    laptop: Annotated[
        str | None, typer.Option("--laptop", metavar="NAME", help="What this laptop is called, the first time.")
    ] = None,
    yes: YesOption = False,
    dry_run: DryRunOption = False,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Meet the other laptops at a folder (a stick, a network share, a cloud folder) or a git server."""
    from recipebox.sync import PersonNeededError, SeveralBoxesError, meet, outcome_data, take_box

    folder = box or Path.cwd()
    if place is not None and not dry_run and _empty(folder):
        try:
            take_box(folder, place, laptop=laptop, at_terminal=say.on_terminal(), say=say.warn)
        except (SeveralBoxesError, PersonNeededError) as error:
            say.warn(str(error))
            raise typer.Exit(PERSON_NEEDED) from error
    with opened(box) as here:

        def go(yes: bool) -> "Outcome":
            with progress("meeting") as step:
                return meet(
                    here.box,
                    place,
                    dry_run=dry_run,
                    yes=yes,
                    as_is=tuple(as_is or ()),
                    join=join,
                    at_terminal=say.on_terminal(),
                    say=say.warn,
                    progress=step,
                )

        outcome = go(yes)
        data = outcome_data(outcome)
        if data["stopped"] and say.on_terminal() and not as_json and not dry_run:
            _show_stop(data["stopped"])
            if say.ask("Go on all the same?") == "y":
                outcome = go(yes=True)
                data = outcome_data(outcome)
        here.index.refresh()
    if as_json:
        say.as_json(data)
    else:
        _show_sync(data, dry_run)
    raise typer.Exit(outcome.exit_code)


def undo(
    list_only: Annotated[bool, typer.Option("--list", help="What could be taken back, newest first.")] = False,
    yes: YesOption = False,
    dry_run: DryRunOption = False,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Take back the last sync, merge, add, settle or bring-back, whole."""
    from recipebox.history import open_history
    from recipebox.sync import undo_last

    with opened(box) as here:
        past = open_history(here.box)
        if list_only:
            found = past.undoable()
            if as_json:
                listed = [{"what": one.what, "when": one.when} for one in found]
                say.as_json({"undone": None, "changed": [], "laid_aside": [], "undoable": listed})
                return
            for one in found:
                say.line(f"{say.when(one.when)}  {one.what}")
            if not found:
                say.line("There is nothing to take back.")
            return
        data = undo_last(here.box, past, write=False)
        asks = not yes and not dry_run
        if asks and say.on_terminal() and not as_json:
            _show_undo(data, would=True)
            if say.ask("Take it back?") != "y":
                say.warn("nothing is taken back")
                raise typer.Exit(PERSON_NEEDED)
            asks = False
        if not asks and not dry_run:
            data = undo_last(here.box, past, write=True)
            here.index.refresh()
    if as_json:
        say.as_json(data)
    else:
        _show_undo(data, would=asks or dry_run)
    if asks:
        say.warn("nothing is taken back yet; add --yes")
        raise typer.Exit(PERSON_NEEDED)


def _empty(folder: Path) -> bool:
    """Whether this is a folder with nothing in it, and not within a box: a new laptop's."""
    from recipebox.box import NoBoxError, find

    if folder.is_dir() and any(folder.iterdir()):
        return False
    try:
        find(folder)
    except NoBoxError:
        return True
    return False


def _show_stop(stopped: Mapping[str, Any]) -> None:
    say.line(f"Stopped: {stopped['why']} ({stopped['cards']} of {stopped['of']} cards).")
    for path in stopped["paths"][:5]:
        say.line(path, first="  ")
    if len(stopped["paths"]) > 5:
        say.line(f"and {len(stopped['paths']) - 5} more", first="  ")


def _show_sync(data: Mapping[str, Any], dry_run: bool) -> None:
    for one in data["places"]:
        words = _STATES[one["state"]]
        waits = one["waits_for"]
        who = ", ".join(waits) if isinstance(waits, list) else waits
        say.line(f"{one['place']}: {words.format(f'{who}' if who else 'the other laptop')}.")
    if not data["places"]:
        say.warn("no meeting place is known yet; name one: recipebox sync PLACE. Your own changes are recorded")
    verbs = ("would come", "would go") if dry_run else ("came", "went")
    for verb, paths in zip(verbs, (data["came"], data["went"]), strict=True):
        if paths:
            say.line(
                f"{say.count(len(paths), 'file')} {verb}: {', '.join(paths[:4])}{' ...' if len(paths) > 4 else ''}"
            )
    if data["places"] and not data["came"] and not data["went"]:
        say.line("Nothing new on either side.")
    for one in data["undecided"]:
        say.line(f"Undecided: {one['path']}, {one['about']}. To choose: recipebox settle")
    older = data["open"] - len(data["undecided"])
    if older > 0:
        say.line(f"{say.count(older, 'older question')} still open.")
    if data["laid_aside"]:
        say.line(f"Laid aside: {', '.join(data['laid_aside'][:4])}. To take them: recipebox sync --yes")
    for one in data["set_aside"]:
        say.line(f'Set aside: {one["path"]} ({one["why"]}). To record it: recipebox sync --as-is "{one["path"]}"')
    if data["stopped"]:
        _show_stop(data["stopped"])
        say.line("That direction was not carried out. To go on: recipebox sync --yes")


def _show_undo(data: dict[str, Any], *, would: bool) -> None:
    undone = data["undone"]
    say.line(f"{'Would take' if would else 'Took'} back: {undone['what']} ({say.when(undone['when'])}).")
    for path in data["changed"]:
        say.line(path, first="  ")
    if data["laid_aside"]:
        say.line(f"Laid aside: {', '.join(data['laid_aside'])}. The next sync asks about them.")
