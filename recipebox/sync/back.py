"""Taking back the last thing, as data for `undo --json`."""

from typing import Any

from recipebox.box import Box
from recipebox.history import History


def undo_last(box: Box, history: History, *, write: bool) -> dict[str, Any]:
    """What was (with `write`) or would be taken back. Raises NothingToUndoError or CannotUndoError.

    `sent` tells that the thing had gone out to other laptops, so that the undoing will too.
    """
    done = history.undo(dry_run=not write)
    return {
        "undone": {"what": done.deed.what, "when": done.deed.when, "sent": done.deed.sent},
        "changed": list(done.changed),
        "laid_aside": list(done.laid_aside),
    }
