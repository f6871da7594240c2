"""A comparison on the terminal: two cards side by side, more as a table of a column each."""

import difflib
import re
import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

from recipebox.cards.data import amount_from_data
from recipebox.cli import say
from recipebox.cli.finding import batch_words
from recipebox.cli.show_card import amount_words

_SIGNS = {"same": "=", "amount": "#", "unclear": "?", "stands-in": "~", "only": "+"}
_LEGEND = "= same   # other amount   ~ stands in for   + only here   ? cannot be compared   [ ] differs"
_ORDER = ("same", "amount", "unclear", "stands-in", "only")


def show_comparison(data: Mapping[str, Any], names: Mapping[str, str]) -> None:
    """Print a comparison in the shape of `compare --json`; `names` are the versions' names by path."""
    paths: list[str] = data["cards"]
    if not data["same_dish"]:
        say.line("These are not the same dish; here they are side by side all the same.")
    batches = [f"{names[path]} {batch_words(data['batch'][path])}" for path in paths]
    say.line(f"Amounts on the batch of {names[paths[0]]}. Batches: {', '.join(batches)}.")
    say.line(_LEGEND)
    if len(paths) == 2:
        _side_by_side(data, names)
    else:
        _table(data, names)
    _show_method(data["steps"], paths, names)
    _show_oven(data["oven"], paths, names)


def _side_by_side(data: Mapping[str, Any], names: Mapping[str, str]) -> None:
    first, second = data["cards"]
    half = (say.width() - 6) // 2
    print()
    say.columns([["", names[first], names[second]]], [1, half, half])
    for row in sorted(data["ingredients"], key=lambda row: _ORDER.index(row["kind"])):
        cells = row["cells"]
        left, right = (_cell_words(cells.get(path), row["kind"]) for path in (first, second))
        if row["kind"] in ("amount", "stands-in", "unclear") and left and right:
            left, right = mark_differences(left, right)
        say.columns([[_SIGNS[row["kind"]], left, right]], [1, half, half])


def _table(data: Mapping[str, Any], names: Mapping[str, str]) -> None:
    paths: list[str] = data["cards"]
    item_width = 18
    per_page = max(2, (say.width() - item_width - 3) // 14)
    pages = -(-len(paths) // per_page)
    per_page = -(-len(paths) // pages)
    column = (say.width() - item_width - 3) // per_page - 2
    rows = sorted(data["ingredients"], key=lambda row: (_ORDER.index(row["kind"]), -len(row["cells"])))
    for page in range(pages):
        shown = paths[page * per_page : (page + 1) * per_page]
        print()
        if pages > 1:
            numbers = dict.fromkeys((page * per_page + 1, page * per_page + len(shown)))
            say.line(say.paint(f"Version {' to '.join(map(str, numbers))} of {len(paths)}", "dim"))
        sizes = [1, item_width, *[column] * len(shown)]
        say.columns([["", "", *[names[path] for path in shown]]], sizes)
        for row in rows:
            if not any(path in row["cells"] for path in shown):
                continue
            cells = [_short_words(row["cells"].get(path), row["item"]) for path in shown]
            say.columns([[_SIGNS[row["kind"]], row["item"], *cells]], sizes)


def mark_differences(left: str, right: str) -> tuple[str, str]:
    """Put the words that differ between two wordings into brackets."""
    a, b = left.split(), right.split()
    matcher = difflib.SequenceMatcher(None, [w.lower().strip(",") for w in a], [w.lower().strip(",") for w in b])
    marked_a, marked_b = [], []
    for kind, a1, a2, b1, b2 in matcher.get_opcodes():
        marked_a += [_bracket(a[a1:a2])] if kind != "equal" and a2 > a1 else a[a1:a2]
        marked_b += [_bracket(b[b1:b2])] if kind != "equal" and b2 > b1 else b[b1:b2]
    return " ".join(marked_a), " ".join(marked_b)


def _bracket(words: Sequence[str]) -> str:
    whole = " ".join(words)
    return f"[{whole[:-1]}]," if whole.endswith(",") else f"[{whole}]"


def _cell_words(cell: Mapping[str, Any] | None, kind: str) -> str:
    if cell is None:
        return ""
    if kind == "amount" and cell["amount"]:
        return f"{cell['text']} (= {_amount(cell)} on this batch)" if _rescaled(cell) else cell["text"]
    return str(cell["text"])


def _rescaled(cell: Mapping[str, Any]) -> bool:
    said = re.match(r"[\d\s./½¼¾⅓⅔⅛]+", cell["text"])
    return not said or said.group().strip() != amount_words(amount_from_data(cell["amount"]))


def _short_words(cell: Mapping[str, Any] | None, item: str) -> str:
    if cell is None:
        return "-"
    words = _amount(cell) or "some"
    own = cell.get("item")
    return f"{words} {own}" if own and own.lower() != item.lower() else words


def _amount(cell: Mapping[str, Any]) -> str:
    if not cell["amount"]:
        return ""
    amount = amount_from_data(cell["amount"])
    if amount is None or amount.low <= 0:
        return ""
    from recipebox.measures import kitchen

    ends = [kitchen(end, cell["unit"], "").text for end in dict.fromkeys((amount.low, amount.high))]
    return " to ".join(ends)


def _step_words(row: Mapping[str, Any], paths: Sequence[str], names: Mapping[str, str]) -> str:
    where = " and ".join(
        f"{names[path]} {'step' if len(row['cells'][path]) == 1 else 'steps'} {', '.join(map(str, row['cells'][path]))}"
        for path in paths
        if row["cells"].get(path)
    )
    if row["kind"] == "only":
        return f"+ only {where}"
    if row["kind"] == "moved":
        return f"# {where}: at another place"
    added = f" added: {', '.join(row['added'])}." if row["added"] else ""
    removed = f" gone: {', '.join(row['removed'])}." if row["removed"] else ""
    return f"# {where}:{added}{removed}"


def _show_method(steps: Sequence[Mapping[str, Any]], paths: Sequence[str], names: Mapping[str, str]) -> None:
    if not steps:
        return
    say.heading("Method")
    differing = [row for row in steps if row["kind"] != "same"]
    for row in differing:
        say.line(_step_words(row, paths, names), first="  ", rest="    ")
    if not differing:
        say.line("The steps are the same.", first="  ")


def _show_oven(oven: Mapping[str, Any], paths: Sequence[str], names: Mapping[str, str]) -> None:
    if not oven["cells"]:
        return
    say.heading("Oven")
    if oven["kind"] == "same":
        say.line("The same heat and time.", first="  ")
    from recipebox.cards.data import bake_from_data
    from recipebox.cli.show_card import bake_words

    longest = min(24, max(len(names[path]) for path in paths))
    for path in paths:
        bakes = oven["cells"].get(path) or []
        words = "; then ".join(bake_words(bake_from_data(bake)) for bake in bakes) or "says nothing"
        say.line(words, first=f"  {textwrap.shorten(names[path], 24, placeholder=' ...'):<{longest}}  ")
