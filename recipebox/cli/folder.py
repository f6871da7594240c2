"""`start`, `watch`, and `recipebox` alone: the folder as a box."""

import json
import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import (
    FAILED,
    PERSON_NEEDED,
    BoxOption,
    JsonOption,
    YesOption,
    find_box,
    opened,
    trouble_of,
)
from recipebox.cli.progress import progress

_MANY_OTHER_FILES = 2_000


def register(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command(epilog="Example: recipebox start recipes --laptop kitchen")(start)
    app.command(epilog="Example: recipebox watch")(watch)


def start(
    folder: Annotated[Path | None, typer.Argument(metavar="FOLDER", help="The folder with the cards.")] = None,
    laptop: Annotated[str | None, typer.Option("--laptop", metavar="NAME", help="What this laptop is called.")] = None,
    again: Annotated[bool, typer.Option("--again", help="Read every card anew.")] = False,
    yes: YesOption = False,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Make a folder of cards a box. Says what was found in it; the cards stay as they are."""
    from recipebox.box import create
    from recipebox.index import open_index

    root = folder or box or Path.cwd()
    if not root.exists():
        say.warn(f"{root}: there is no such folder; check the name, or make it first")
        raise typer.Exit(FAILED)
    if not root.is_dir():
        say.warn(f"{root}: this is a file, not a folder; name the folder it is in")
        raise typer.Exit(FAILED)
    doubt = None if (root / ".recipebox").exists() or yes else _doubt(root)
    if doubt:
        if not say.on_terminal() or as_json:
            say.warn(f"{doubt} If it is the right folder, add --yes")
            raise typer.Exit(PERSON_NEEDED)
        if say.ask(f"{doubt} Is it the right folder?") != "y":
            say.warn("nothing is written")
            raise typer.Exit(PERSON_NEEDED)
    here = create(root, laptop, say=say.warn)
    index = open_index(here, say=say.warn)
    try:
        with progress("reading cards") as step:
            refreshed = index.refresh(progress=step, again=again)
        trouble = trouble_of(index)
        dishes = index.dishes()
    finally:
        index.close()
    data: dict[str, Any] = {"cards": refreshed.cards, "changed": refreshed.changed, "trouble": trouble}
    say.trouble(trouble)
    if as_json:
        say.as_json(data)
        return
    say.line(f"{here.root} is a box; this laptop is called {here.laptop}.")
    several = len(dishes.dishes)
    say.line(
        f"{say.count(data['cards'], 'card')}; {say.count(several, 'dish', 'dishes')} with several versions; "
        f"{say.count(len(trouble), 'file')} to look at."
    )
    say.line("Next: recipebox same" if several else "Next: recipebox find WORDS")


def watch(box: BoxOption = None, as_json: JsonOption = False) -> None:
    """Keep the index current while files change. Ctrl-C ends it."""
    from recipebox.index import watch as watch_box

    here = find_box(box)

    def tell(event: dict[str, Any]) -> None:
        if as_json:
            print(json.dumps(event, ensure_ascii=False))
        elif event["what"] == "ready":
            say.line(f"Watching {here.root}. Ctrl-C ends it; nothing is lost by that.")
        elif event["what"] == "moved":
            say.line(f"{event['what']:<8} {event['was']} -> {event['path']}")
        else:
            say.line(f"{event['what']:<8} {event['path']}")
        sys.stdout.flush()

    watch_box(here, tell, say=say.warn)


def standing(folder: Path | None, as_json: bool) -> None:
    """How things stand, in at most ten lines, and the one next thing to type."""
    from recipebox.box import NoBoxError
    from recipebox.sync import last_met, last_stop

    try:
        find_box(folder)
    except NoBoxError:
        if folder is not None or as_json:
            raise
        say.line("recipebox brings a family's versions of a dish together.")
        say.line("This folder is not a box yet. In the folder with your recipes, type: recipebox start")
        say.line("To see it all on an invented family first: recipebox tour. All commands: recipebox --help")
        return
    with opened(folder) as here:
        cards = list(here.index.open_cards())
        dishes = here.index.dishes()
        undecided = [(card.called, entry.about) for card in cards for entry in card.undecided]
        from recipebox.history import open_history

        history = open_history(here.box)
        data: dict[str, Any] = {
            "cards": here.index.count(),
            "dishes": len(dishes.dishes),
            "undecided": [{"path": path, "about": about} for path, about in undecided],
            "laid_aside": list(history.laid_aside()),
            "set_aside": [{"path": path, "why": why} for path, why in history.set_aside()],
            "met": last_met(here.box),
            "stopped": _stop_of(last_stop(here.box)),
            "trouble": here.trouble,
        }
        agreed = {line.path for card in cards for line in card.versions}
        waiting = [dish for dish in dishes.dishes if not {member.called for member in dish.cards} <= agreed]
        begun = [dish.name for dish in waiting if {member.called for member in dish.cards} & agreed]
        new = [dish.name for dish in waiting if dish.name not in begun]
    if as_json:
        say.as_json(data)
        return
    say.line(
        f"{say.count(data['cards'], 'card')}, {say.count(data['dishes'], 'dish', 'dishes')} with several versions."
    )
    if undecided:
        say.line(f"Undecided: {len(undecided)}, the first in {undecided[0][0]} ({undecided[0][1]}).")
    if data["laid_aside"]:
        say.line(f"Laid aside: {say.count(len(data['laid_aside']), 'card')} that came by sync.")
    if data["stopped"]:
        whom = "from the other laptops" if data["stopped"]["direction"] == "out" else "here"
        say.line(f"The last sync stopped: it would remove {whom} {data['stopped']['why']}.")
    for one in data["set_aside"][:2]:
        say.line(f"Set aside, torn: {one['path']} ({one['why']}).")
    if data["trouble"]:
        say.line(f"To look at: {say.count(len(data['trouble']), 'file')}; recipebox start names them.")
    say.line(
        f"The laptops last met {say.when(data['met'])}." if data["met"] else "This laptop has not met another yet."
    )
    say.line(f"Next: {_next_step(data, begun, new)}")


def _stop_of(stop: tuple[str, str] | None) -> dict[str, str] | None:
    return None if stop is None else {"why": stop[0], "direction": stop[1]}


def _next_step(data: dict[str, Any], begun: list[str], new: list[str]) -> str:
    """What to type: `begun` are dishes whose family recipe lacks a version, `new` those that have none yet."""
    if data["set_aside"]:
        return f'mend the torn card, or: recipebox history "{data["set_aside"][0]["path"]}"'
    if data["undecided"]:
        return "recipebox settle"
    if data["laid_aside"] or data["stopped"]:
        return "recipebox sync"
    if begun:
        return f'recipebox merge "{begun[0]}"'
    if new:
        return f'recipebox compare "{new[0]}"'
    return "recipebox add FILE" if data["cards"] < 2 else "recipebox tonight"


def _doubt(root: Path) -> str | None:
    """Why this may be the wrong folder: somebody's home, one above another box, or a deep tree of other things."""
    if root.resolve() == Path.home().resolve():
        return f"{root} is your home folder, not a folder of recipes."
    others = cards = 0
    waiting = [root]
    while waiting and others + cards < 20 * _MANY_OTHER_FILES:
        try:
            entries = sorted(waiting.pop().iterdir())
        except OSError:
            continue
        for entry in entries:
            if entry.name == ".recipebox" and entry.parent != root:
                return f"{entry.parent} is a box of its own; its cards would be in both."
            if entry.name.startswith(".") or entry.is_symlink():
                continue
            if entry.is_dir():
                waiting.append(entry)
            elif entry.suffix.lower() in (".txt", ".md"):
                cards += 1
            else:
                others += 1
    if others > _MANY_OTHER_FILES and others > 10 * cards:
        return f"{root} holds {others} files that are not cards and {cards} that may be."
    return None
