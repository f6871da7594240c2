"""A proposed or written family recipe on the terminal, and going through its rows with a person."""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from recipebox.cli import say

if TYPE_CHECKING:
    from recipebox.family import Answers, OpenRow


def show_nothing_new(data: dict[str, Any]) -> None:
    """Say that the family recipe stands as it is, and what of the versions differs from the family's own lines."""
    say.line(f"Nothing is new since edition {data['edition']} of {data['dish']}: {data['path']}")
    _show_kept(data)
    for entry in data["undecided"]:
        say.line(f"Undecided: {entry['about']}. To choose: recipebox settle")


def show_merge(data: dict[str, Any], text: bytes) -> None:
    """Print the family recipe as it stands or would stand, and what was not taken and why."""
    edition = data["edition"]
    if data["written"]:
        say.line(f"Edition {edition} of {data['dish']} is written: {data['path']}")
    else:
        say.line(f"{data['dish']} ({data['path']}), edition {edition}:")
    print()
    for line in text.decode("utf-8", "replace").splitlines():
        indent = len(line) - len(line.lstrip())
        say.line(line.strip(), first=" " * indent, rest=" " * (indent + 3))
    _show_the_rest(data)
    if any(swap.get("brings_in") for swap in [*data["swaps"], *data["offers"]]):
        print()
        say.line("A swap can bring in an allergen: always read the labels, and ask who will eat it.")
    for entry in data["undecided"]:
        say.line(f"Undecided: {entry['about']}. To choose: recipebox settle")


def _show_the_rest(data: dict[str, Any]) -> None:
    alone = Counter(one["path"] for one in data["not_taken"] if one["where"] == "version")
    if alone:
        print()
        say.line(
            f"{say.count(sum(alone.values()), 'line')} of {say.count(len(alone), 'version')} stay there only, "
            f'with a reason each: recipebox history "{data["dish"]}" --whose'
        )
    _show_kept(data)
    offers: dict[str, dict[str, list[str]]] = {}
    for swap in data["offers"]:
        if swap["source"] is None:
            continue
        offers.setdefault(swap["item"], {}).setdefault(swap["instead"], swap["brings_in"])
    if offers:
        say.heading("Published swaps, not in the card (sources and amounts: --json)")
        for item, insteads in offers.items():
            words = [f"{one} (brings in {', '.join(brings)})" if brings else one for one, brings in insteads.items()]
            say.line("; ".join(words), first=f"  {item} -> ", rest="      ")


def _show_kept(data: dict[str, Any]) -> None:
    """Changes of versions to lines that the family wrote by hand: said, not taken."""
    kept = [swap for swap in data["offers"] if swap["source"] is None]
    if kept:
        say.heading("Changed in a version; the family's own line stays")
        for swap in kept:
            say.line(f"{swap['who'] or 'a version'} has now: {swap['instead']}", first=f"  {swap['item']}: ")
        say.line('To take one: --take "ITEM=NAME"', first="  ")


def ask_rows(
    rows: Sequence["OpenRow"], answers: "Answers", fits: Callable[["Answers"], str | None], keep: Callable[[], None]
) -> bool:
    """Go row by row through what versions say otherwise, putting what a person chooses into `answers`.

    Each row: keep the family's line, take theirs, keep both (theirs as a swap), leave it out, or break off. `fits` says
    why choices cannot be, `keep` keeps the answers so far. Gives back whether the end was reached.
    """
    open_ones = [row for row in rows if row.key not in answers.keys]
    if answers.keys and open_ones:
        say.line(f"Going on where it was broken off: {say.count(len(open_ones), 'row')} to go.")
    for number, row in enumerate(open_ones, 1):
        say.heading(f"{number} of {len(open_ones)}: {row.line or 'not in the recipe'}")
        for at, (name, _, text, why) in enumerate(row.theirs, 1):
            say.line(f"{text}  ({why})", first=f"  {at}  {name}: ", rest="       ")
        while True:
            letters = "ktsoe" if row.line else "kte"
            words = "k keep  t take theirs" + ("  s both, as a swap  o leave out" if row.line else "")
            typed = say.ask(f"{words}  e break off  ? help", f"?{letters}")
            if typed == "?":
                _explain(bool(row.line))
                continue
            if typed == "e":
                return False
            trial = _with(answers, row, typed)
            problem = fits(trial)
            if problem is None:
                break
            say.line(problem, first="  ")
        for name in ("take", "swap", "leave_out"):
            setattr(answers, name, getattr(trial, name))
        answers.keys.append(row.key)
        keep()
    return True


def _explain(listed: bool) -> None:
    here = "the family's line stays as it is shown above" if listed else "it stays out of the recipe, where it is now"
    say.line(f"k  {here}", first="  ")
    say.line("t  theirs comes into the recipe" + (" in its place" if listed else ""), first="  ")
    if listed:
        say.line("s  the family's line stays, and theirs stands under Swaps with their name", first="  ")
        say.line("o  the family's line goes; each version keeps its own", first="  ")
    say.line("e  stop here; what was answered is kept, and --ask goes on from here", first="  ")


def _with(answers: "Answers", row: "OpenRow", typed: str) -> "Answers":
    """The answers with one more row answered."""
    more = replace(answers, take=[*answers.take], swap=[*answers.swap], leave_out=[*answers.leave_out])
    if typed == "o":
        more.leave_out.append(row.theirs[0][1])
    elif typed in "ts":
        at = 1
        if len(row.theirs) > 1:
            numbers = "".join(str(number) for number in range(1, min(len(row.theirs), 9) + 1))
            at = int(say.ask("Whose?", numbers))
        name, item, _, _ = row.theirs[at - 1]
        (more.take if typed == "t" else more.swap).append(f"{item}={name}")
    return more
