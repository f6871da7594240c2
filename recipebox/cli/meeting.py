"""`sync` and `undo`: meeting the other laptops, and taking the last thing back."""

import tempfile
from collections.abc import Callable, Collection, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import PERSON_NEEDED, BoxOption, DryRunOption, JsonOption, YesOption, opened
from recipebox.cli.progress import progress
from recipebox.cli.show_sync import show_aside, show_changes, show_places, show_stop, show_waiting

if TYPE_CHECKING:
    from recipebox.box import Box, Scan


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
    folder = box or Path.cwd()
    if place is not None and _empty(folder):
        if dry_run:
            raise typer.Exit(_look_first(place, laptop, as_json))
        _take(folder, place, laptop)
    with opened(box) as here:
        here_as_is = tuple(_in_box(path, here.box.root) for path in as_is or ())

        def go(over: Collection[str], take_aside: bool) -> Mapping[str, Any]:
            from recipebox.sync import meet, outcome_data

            with progress("meeting") as step:
                outcome = meet(
                    here.box,
                    place,
                    dry_run=dry_run,
                    yes=yes,
                    over=over,
                    take_aside=take_aside,
                    as_is=here_as_is,
                    join=join,
                    at_terminal=say.on_terminal(),
                    say=say.warn,
                    progress=step,
                )
            looked[:] = [outcome.looked]
            return {**outcome_data(outcome), "code": outcome.exit_code}

        looked: list[Scan | None] = [None]
        asks = say.on_terminal() and not as_json and not dry_run
        data, code = _with_questions(go) if asks else _once(go, as_json, dry_run)
        here.index.refresh(found=looked[0])
    if as_json:
        say.as_json({key: value for key, value in data.items() if key != "code"})
    raise typer.Exit(code)


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
            before = _readable(here.box, data["changed"])
            data = undo_last(here.box, past, write=True)
            if data["undone"]["what"] == "add":
                from recipebox.gather import take_along

                gone = {path: text for path, text in before.items() if not (here.box.root / path).exists()}
                data["changed"] += take_along(here.box, gone)
            here.index.refresh()
    if as_json:
        say.as_json(data)
    else:
        _show_undo(data, would=asks or dry_run)
    if asks:
        say.warn("nothing is taken back yet; add --yes")
        raise typer.Exit(PERSON_NEEDED)


def _readable(box: "Box", paths: Collection[str]) -> dict[str, bytes]:
    """The files as they are now, those that can be read."""
    from recipebox.box import BoxError, read_file

    found = {}
    for path in paths:
        with suppress(BoxError):
            found[path] = read_file(box, path)
    return found


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


def _take(folder: Path, place: str, laptop: str | None) -> "Box":
    """Make an empty folder the box that lies at the place."""
    from recipebox.sync import PersonNeededError, SeveralBoxesError, take_box

    try:
        return take_box(folder, place, laptop=laptop, at_terminal=say.on_terminal(), say=say.warn)
    except (SeveralBoxesError, PersonNeededError) as error:
        say.warn(str(error))
        raise typer.Exit(PERSON_NEEDED) from error


def _look_first(place: str, laptop: str | None, as_json: bool) -> int:
    """What taking the box into this empty folder would bring; it is taken elsewhere, and thrown away."""
    from recipebox.sync import meet, outcome_data

    with tempfile.TemporaryDirectory() as folder:
        box = _take(Path(folder) / "box", place, laptop)
        with progress("meeting") as step:
            outcome = meet(box, place, dry_run=True, at_terminal=say.on_terminal(), say=say.warn, progress=step)
    data = outcome_data(outcome)
    show_places(data, quiet=True)
    if as_json:
        say.as_json(data)
    else:
        say.line(f"{place}: a box lies there. This folder would become it, with its history.")
        show_changes(data, dry_run=True)
    return outcome.exit_code


Go = Callable[[Collection[str], bool], Mapping[str, Any]]


def _once(go: Go, as_json: bool, dry_run: bool) -> tuple[Mapping[str, Any], int]:
    data = go((), False)
    show_places(data, quiet=as_json)
    if not as_json:
        show_changes(data, dry_run)
        show_waiting(data, asked_stop=False, asked_aside=False)
    return data, data["code"]


def _with_questions(go: Go) -> tuple[Mapping[str, Any], int]:
    """Sync, ask about what was held back or is laid aside, and go on with what was answered yes."""
    over: set[str] = set()
    declined: set[str] = set()
    aside = asked_aside = False
    undecided = []
    shown_places = False
    while True:
        data = go(over, aside)
        undecided += data["undecided"]
        if not shown_places:
            show_places(data)
            shown_places = True
        show_changes({**data, "places": [] if over or aside else data["places"]}, dry_run=False)
        stopped = data["stopped"]
        if stopped and stopped["direction"] not in over | declined:
            show_stop(data)
            if say.ask("Go on all the same?") == "y":
                over.add(stopped["direction"])
                continue
            declined.add(stopped["direction"])
        if data["laid_aside"] and not asked_aside:
            asked_aside = True
            show_aside(data)
            if say.ask("Take them in now?") == "y":
                aside = True
                continue
        break
    show_waiting({**data, "undecided": undecided}, asked_stop=bool(declined), asked_aside=asked_aside)
    return data, PERSON_NEEDED if undecided else data["code"]


def _in_box(path: str, root: Path) -> str:
    """A path as it is called in the box: from its root, or as it lies from here."""
    with suppress(ValueError, OSError):
        if not (root / path).exists():
            return (Path.cwd() / path).resolve().relative_to(root.resolve()).as_posix()
    return path


def _show_undo(data: dict[str, Any], *, would: bool) -> None:
    undone = data["undone"]
    say.line(f"{'Would take' if would else 'Took'} back: {undone['what']} ({say.when(undone['when'])}).")
    for path in data["changed"]:
        say.line(path, first="  ")
    if data["laid_aside"]:
        say.line(f"Laid aside: {', '.join(data['laid_aside'])}. The next sync asks about them.")
