"""A proposed or written family recipe on the terminal, and going through its rows with a person."""

from collections import Counter
from typing import Any

from recipebox.cli import say


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
    offers: dict[str, dict[str, list[str]]] = {}
    for swap in data["offers"]:
        offers.setdefault(swap["item"], {}).setdefault(swap["instead"], swap["brings_in"])
    if offers:
        say.heading("Published swaps, not in the card (sources and amounts: --json)")
        for item, insteads in offers.items():
            words = [f"{one} (brings in {', '.join(brings)})" if brings else one for one, brings in insteads.items()]
            say.line("; ".join(words), first=f"  {item} -> ", rest="      ")


def ask_rows(data: dict[str, Any], chosen: dict[str, Any]) -> dict[str, Any]:
    """Go row by row through what was not taken; give back the choices a person made, added to `chosen`.

    Each row: keep the proposal, take theirs, keep both as a swap, leave the family's line out, or stop here.
    """
    take, swap, leave_out = list(chosen["take"]), list(chosen["swap"]), list(chosen["leave_out"])
    rows = [one for one in data["not_taken"] if one.get("item")]
    for number, one in enumerate(rows, 1):
        say.heading(f"{number} of {len(rows)}: {one['item']}")
        say.line(one["text"], first=f"  {one['name']}: ")
        say.line(f"{one['where']}: {one['why']}", first="  now: ")
        typed = say.ask("k keep  t take theirs  s both, as a swap  o leave out  e end here", "ktsoe")
        if typed == "e":
            break
        pair = f"{one['item']}={one['name']}"
        if typed == "t":
            take.append(pair)
        elif typed == "s":
            swap.append(pair)
        elif typed == "o":
            leave_out.append(one["item"])
    return {**chosen, "take": take, "swap": swap, "leave_out": leave_out}
