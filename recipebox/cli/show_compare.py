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
_NEARLY_ALIKE = 0.6  # two wordings in which the words that differ can be marked without marking nearly all
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
    _show_pan(data["pan"], paths, names)


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
            which = f"Version{'s' if len(numbers) > 1 else ''} {' to '.join(map(str, numbers))} of {len(paths)}"
            say.line(say.paint(which, "dim"))
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


def _show_method(steps: Sequence[Mapping[str, Any]], paths: Sequence[str], names: Mapping[str, str]) -> None:
    if not steps:
        return
    say.heading("Method")
    differing = [row for row in steps if row["kind"] != "same"]
    for row in differing:
        if len(paths) == 2:
            _steps_beside(row, paths, names)
        else:
            say.line(_step_words(row, paths, names), first="  ", rest="    ")
    if len(differing) < len(steps):
        say.line("The other steps are the same." if differing else "The steps are the same.", first="  ")


def _steps_beside(row: Mapping[str, Any], paths: Sequence[str], names: Mapping[str, str]) -> None:
    """The words of a differing step of two cards, and what of it differs."""
    half = (say.width() - 6) // 2
    texts = [row["texts"].get(path, "") for path in paths]
    if difflib.SequenceMatcher(None, *(text.split() for text in texts)).ratio() >= _NEARLY_ALIKE:
        texts = list(mark_differences(*texts))
    words = [f"{_numbers(row, path)}. {text}" if text else "" for path, text in zip(paths, texts, strict=True)]
    say.columns([["+" if row["kind"] == "only" else "#", *words]], [1, half, half])
    if row["kind"] == "only":
        return
    told = [f"only {names[path]}: {', '.join(facts)}" for path, facts in zip(paths, _facts(row), strict=True) if facts]
    if row["kind"] == "moved":
        told = ["at another place"]
    say.line(f"[{'; '.join(told)}]", first="   ", rest="   ")


def _step_words(row: Mapping[str, Any], paths: Sequence[str], names: Mapping[str, str]) -> str:
    """A differing step of several cards: how it begins, who has it, and what of it differs."""
    having = [path for path in paths if path in row["cells"]]
    lacking = [path for path in paths if path not in row["cells"]]
    first = having[0]
    begins = textwrap.shorten(row["texts"][first], 60, placeholder=" ...")
    who = f"{names[first]} {_numbers(row, first)}. {begins}"
    if row["kind"] == "moved":
        return f"# {who} (at another place in some)"
    if lacking and len(having) <= len(lacking):
        others = ", ".join(f"{names[path]} {_numbers(row, path)}" for path in having[1:])
        who += f" (also {others})" if others else " (nobody else)"
    elif lacking:
        who += f" (all but {', '.join(names[path] for path in lacking)})"
    less, more = _facts(row) if len(having) > 1 else ([], [])
    asides = [f"some also say {', '.join(more)}"] if more else []
    asides += [f"not all say {', '.join(less)}"] if less else []
    return f"{'+' if row['kind'] == 'only' else '#'} {who}{': ' if asides else ''}{'; '.join(asides)}"


def _facts(row: Mapping[str, Any]) -> tuple[list[str], list[str]]:
    """What of a step the first card alone says, and what only others say."""
    return row["removed"], row["added"]


def _numbers(row: Mapping[str, Any], path: str) -> str:
    return ", ".join(map(str, row["cells"][path]))


def _show_oven(oven: Mapping[str, Any], paths: Sequence[str], names: Mapping[str, str]) -> None:
    if not oven["cells"]:
        return
    from recipebox.cards.data import bake_from_data
    from recipebox.cli.show_card import bake_words

    said = {
        path: "; then ".join(bake_words(bake_from_data(bake)) for bake in oven["cells"].get(path, ())) for path in paths
    }
    _show_each("Oven", "The same heat and time." if oven["kind"] == "same" else "", said, names)


def _show_pan(pan: Mapping[str, Any], paths: Sequence[str], names: Mapping[str, str]) -> None:
    if pan["cells"]:
        same = "The same, for the batch that each holds." if pan["kind"] == "same" and len(pan["cells"]) > 1 else ""
        _show_each("Pan", same, {path: pan["cells"].get(path, "") for path in paths}, names)


def _show_each(heading: str, same: str, said: Mapping[str, str], names: Mapping[str, str]) -> None:
    """What each version says of one thing, a line each."""
    say.heading(heading)
    if same:
        say.line(same, first="  ")
    longest = min(24, max(len(names[path]) for path in said))
    for path, words in said.items():
        name = textwrap.shorten(names[path], 24, placeholder=" ...")
        say.line(words or "says nothing", first=f"  {name:<{longest}}  ")
