"""Read a shipped table."""

import csv
from functools import cache
from importlib.resources import files


class TableError(LookupError):
    """No table of this name is shipped."""


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """All rows of a table, in the file's order, each a dict of column name to text.

    `name` is the file's name without its ending ("kitchen_units"). Cells are text exactly as published; empty cells
    are "". Every published table has `source`, and most have `url` and `basis` (seen, checked or memory).

    Raises TableError when no such table is shipped.
    """
    file = files("recipebox.tables").joinpath(f"{name}.csv")
    try:
        text = file.read_text(encoding="utf-8")
    except FileNotFoundError as error:
        raise TableError(f"no table named {name} is shipped with recipebox") from error
    return tuple(csv.DictReader(text.splitlines(keepends=True)))
