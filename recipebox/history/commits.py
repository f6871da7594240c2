"""A recorded state as its bytes say. States come from other laptops too: what is not in git's exact form is damage.

Read by ourselves and not by the library, so that nothing can pass a check and then not be read.
Format: git's documentation, git-commit-tree and gitformat-signature.
"""

import re
from typing import NamedTuple

from recipebox.history.objects import HistoryError

_HEAD = re.compile(
    rb"tree ([0-9a-f]{40})\n((?:parent [0-9a-f]{40}\n)*)"
    rb"author ([^<>\n]*)<[^<>\n]*> (-?[0-9]{1,20}) [+-][0-9]{4}\n"
    rb"committer [^<>\n]*<[^<>\n]*> ([0-9]{1,20}) [+-][0-9]{4}\n"
)
_MOST_PARENTS = 1_000


class State(NamedTuple):
    """Tree, parents, whose it says it is, when it says it was made, the step it counts, and its message."""

    tree: str
    parents: tuple[str, ...]
    author: str
    when: int
    step: int
    message: str


def read_state(data: bytes) -> State:
    """Take a commit's bytes apart. Raises HistoryError."""
    head = _HEAD.match(data)
    # Other lines of the head (a signature, an encoding) may follow; an empty line ends it.
    stop = data.find(b"\n\n", head.end() - 1) if head else -1
    if head is None or stop < 0 or head[2].count(b"\n") > _MOST_PARENTS:
        raise HistoryError("a recorded state is damaged")
    parents = tuple(line[7:].decode() for line in head[2].splitlines())
    author = head[3].decode("utf-8", "replace").strip()
    message = data[stop + 2 :].decode("utf-8", "replace")
    return State(head[1].decode(), parents, author, int(head[4]), int(head[5]), message)
