"""When nothing can have changed since the box was last recorded, so that a look at the files is all it takes."""

import json

from recipebox.box import Box, Scan, keep, kept
from recipebox.merge import RULE

_NAME = "recorded"


def is_quiet(box: Box, found: Scan, head: str | None) -> bool:
    """Whether the disk is known to hold just what the head does: `keep_quiet` was told so of this very scan."""
    return head is not None and not found.leftovers and kept(box, _NAME) == _mark(found.state, head)


def changed_since_quiet(box: Box, found: Scan, head: str) -> frozenset[str] | None:
    """The only paths in which the disk may differ from the head; None where that is not known."""
    if found.leftovers or found.unreadable:
        return None
    try:
        state = str(json.loads(kept(box, _NAME) or b"{}")["scan"])
    except (ValueError, KeyError, TypeError):
        return None
    return found.changed_since(state) if kept(box, _NAME) == _mark(state, head) else None


def keep_quiet(box: Box, found: Scan, head: str) -> None:
    """Note that the disk, as this scan found it, holds just what the head does."""
    if not is_quiet(box, found, head):
        keep(box, _NAME, _mark(found.state, head), settle=False)


def _mark(state: str, head: str) -> bytes:
    return json.dumps({"scan": state, "head": head, "rule": RULE}).encode()
