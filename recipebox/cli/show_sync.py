"""What a sync came to, on the terminal: whom it met, what came and went, what waits for a person."""

from collections.abc import Mapping, Sequence
from typing import Any

from recipebox.cli import say

_FEW = 4
_FEW_GONE = 10  # a removal is looked at more closely
_KINDS = ("added", "changed", "moved", "gone")


def show_places(data: Mapping[str, Any], *, quiet: bool = False) -> None:
    """A line for each place: those met on the answer (not if `quiet`), trouble on stderr."""
    for one in data["places"]:
        place, who, why = one["place"], ", ".join(one["waits_for"]), one["why"]
        about = why if why.startswith(f"{place}: ") else f"{place}: {why}"
        if one["state"] == "met" and not quiet:
            say.line(f"{place}: met.")
        elif one["state"] == "incomplete":
            say.warn(f"{place}: met, but not all of {who}'s changes have arrived yet; sync again later")
        elif one["state"] == "refused" and who:
            say.warn(f"{place}: met, but some changes are not taken: {why}")
        elif one["state"] == "newer rule":
            say.warn(f"{place}: {who} has a newer recipebox: renew this one; what you changed was sent")
        elif one["state"] == "other box":
            say.warn(f"{about}; nothing was taken. To put both together: recipebox sync PLACE --join")
        elif one["state"] == "refused":
            say.warn(about)
        elif one["state"] == "not there":
            say.warn(f"{about if why else f'{place}: the box was not left there, or the stick is not in'}; skipped")
    if not data["places"]:
        say.warn("no meeting place is known yet; name one: recipebox sync PLACE. Your own changes are recorded")


def show_changes(data: Mapping[str, Any], dry_run: bool) -> None:
    """What came and what went, kind by kind."""
    came, went = data["came_as"], data["went_as"]
    for kind in _KINDS:
        _show_kind(kind, [one for one in came if one["what"] == kind], "come" if dry_run else "came")
    for kind in _KINDS:
        _show_kind(kind, [one for one in went if one["what"] == kind], "go" if dry_run else "went")
    if any(place["state"] in ("met", "incomplete") for place in data["places"]) and not (
        came or went or data["stopped"]
    ):
        say.line("Nothing new on either side.")


def show_waiting(data: Mapping[str, Any], *, asked_stop: bool, asked_aside: bool) -> None:
    """What waits for a person; what was just asked about is not said again."""
    for one in data["undecided"]:
        say.line(f"Undecided: {one['path']}, {one['about']}. To choose: recipebox settle")
    older = data["open"] - len(data["undecided"])
    if older > 0:
        say.line(f"{say.count(older, 'older question')} still open.")
    if data["laid_aside"]:
        if not asked_aside:
            show_aside(data)
        say.line("Still laid aside. To take them in: recipebox sync --yes")
    for one in data["set_aside"]:
        say.line(f'Set aside: {one["path"]} ({one["why"]}). To record it: recipebox sync --as-is "{one["path"]}"')
    if data["stopped"]:
        if not asked_stop:
            show_stop(data)
        say.line("That direction was not carried out. To go on: recipebox sync --yes")


def show_stop(data: Mapping[str, Any]) -> None:
    """What a sync would take away, from whom, and by whom."""
    stopped = data["stopped"]
    if stopped["direction"] == "out":
        say.line(f"Stopped: your changes would remove from the other laptops {stopped['why']}.")
    else:
        who = " and ".join(stopped["laptops"])
        say.line(f"Stopped: changes{f' from {who}' if who else ''} would remove here {stopped['why']}.")
    _list(stopped["paths"], _FEW_GONE)


def show_aside(data: Mapping[str, Any]) -> None:
    """What came by a sync that was taken back here."""
    say.line(f"Laid aside since a sync was undone: {say.count(len(data['laid_aside']), 'file')}.")
    _list(data["laid_aside"], _FEW_GONE)


def _list(paths: Sequence[str], most: int) -> None:
    for path in paths[:most]:
        say.line(path, first="  ")
    if len(paths) > most:
        say.line(f"and {len(paths) - most} more", first="  ")


def _show_kind(kind: str, changes: Sequence[Mapping[str, Any]], verb: str) -> None:
    if not changes:
        return
    here = verb in ("come", "came")
    done = verb in ("came", "went")
    many = len(changes)
    laptops = sorted({laptop for one in changes for laptop in one["laptops"]})
    who = f" from {' and '.join(laptops)}" if laptops and here else ""
    if kind == "gone":
        by = f" by {' and '.join(laptops)}" if laptops else ""
        words = f"{say.count(many, 'file')} {_were(many, done)} removed{by if here else ' on the other laptops too'}"
    elif kind == "moved":
        words = f"{say.count(many, 'file')} {_were(many, done)} moved{who if here else ' on the other laptops too'}"
    else:
        sort = {"added": "new file", "changed": "changed file"}[kind]
        words = f"{say.count(many, sort)} {verb if done else f'would {verb}'}{who}"
    most = _FEW_GONE if kind == "gone" else _FEW
    shown = [f"{one['was']} -> {one['path']}" if one["was"] else one["path"] for one in changes[:most]]
    more = f" and {many - most} more" if many > most else ""
    say.line(f"{words}: {', '.join(shown)}{more}")
    if kind == "gone" and here and done:
        say.line("The removed are in history: recipebox history --gone", first="  ")


def _were(many: int, done: bool) -> str:
    return ("was" if many == 1 else "were") if done else "would be"
