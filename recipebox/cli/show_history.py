"""A card's past, and what is undecided, on the terminal."""

from typing import Any

from recipebox.cli import say


def show_history(data: dict[str, Any]) -> None:
    """Print an answer of `history` in any of its shapes."""
    if "text" in data:
        say.line(f"Edition {data['edition']}")
        print()
        print(data["text"].rstrip("\n"))
    elif "lines" in data:
        _show_whose(data)
    elif "ingredients" in data:
        from recipebox.cli.show_compare import show_comparison

        show_comparison(data, {called: _edition_of(called) for called in data["cards"]})
    elif "found" in data:
        for one in data["found"]:
            say.line(f"{one['path']}  {say.when(one['when'])}  {one['laptop']}: {one['text']}")
        if not data["found"]:
            say.line("These words never stood in a recorded card.")
    elif "gone" in data:
        for one in data["gone"]:
            say.line(f"{one['path']}  last there {say.when(one['when'])}  ({one['laptop']})")
        if not data["gone"]:
            say.line("No recorded card is gone.")
    else:
        _show_entries(data)


def _show_entries(data: dict[str, Any]) -> None:
    say.line(data["path"])
    if not data["entries"]:
        say.line("Nothing is recorded yet: the first sync or merge records it.", first="  ")
    for one in data["entries"]:
        edition = f"edition {one['edition']}" if one["edition"] else one["id"][:8]
        now = "  (as it is now)" if one["current"] else ""
        say.line(f"{edition}  {say.when(one['when'])}  {one['laptop']}: {one['why']}{now}", first="  ", rest="      ")
    if "torn" in data:
        last = data["entries"][-1]["edition"] if data["entries"] else "N"
        mend = f'recipebox history "{data["path"]}" --bring-back {last}'
        say.line(f"The file as it lies there is torn ({data['torn']}). To mend it: {mend}", first="  ")


def _show_whose(data: dict[str, Any]) -> None:
    for one in data["lines"]:
        since = f"since edition {one['since']}" if one["since"] else "not yet in an edition"
        why = one["choice"] or one["rule"]
        say.line(one["text"])
        say.line("; ".join([*([", ".join(one["who"])] if one["who"] else []), since, why]), first="      ")
    if data["not_taken"]:
        say.heading("Not in the recipe's lines")
        for one in data["not_taken"]:
            say.line(f"{one['text']}  ({one['path']}: {one['where']}, {one['why']})", first="  ", rest="      ")


def _edition_of(called: str) -> str:
    """ "edition 2" out of "family/fish-bake.txt (edition 2)"."""
    return called[called.rindex("(") + 1 : -1] if called.endswith(")") else called


def show_undecided(data: dict[str, Any]) -> None:
    """Print what is undecided and what was settled."""
    if not data["undecided"]:
        say.line("Nothing is undecided.")
    for entry in data["undecided"]:
        say.heading(f"{entry['path']}: {entry['about']}")
        for number, wording in enumerate(entry["wordings"], 1):
            who = f"  ({', '.join(wording['laptops'])})" if wording["laptops"] else ""
            say.line(wording["text"] + who, first=f"  {number}  ")
    if data["settled"]:
        say.heading("Settled")
        for entry in data["settled"]:
            chosen = "; ".join(wording["text"] for wording in entry["wordings"] if wording["chosen"])
            say.line(f"{entry['path']}: {entry['about']}: {chosen}", first="  ", rest="      ")
