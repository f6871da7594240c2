"""What was found at a meeting place, and how laptops and paths are named from it."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field

from recipebox.history import History
from recipebox.sync.folder import Left
from recipebox.sync.outcome import MET

Say = Callable[[str], None]
Step = Callable[[int, int], None]


@dataclass(slots=True)
class Gathered:
    """What was found at a place: the files (folder) or branches (server) there, its state, and names of laptops.

    `strange` tells that another computer writes under our laptop's id.
    """

    lying: list[Left] = field(default_factory=list)
    refs: Mapping[str, str] = field(default_factory=dict)
    state: str = MET
    waits_for: list[str] = field(default_factory=list)
    why: str = ""
    strange: bool = False


def name_of(history: History, laptop_id: str, claimed: str = "") -> str:
    """A laptop's name; two of one name, or one that is not known, are told by the first letters of their ids.

    `claimed` is what a laptop that is not known calls itself.
    """
    names: dict[str, str] = {}
    for commit_id in history.graph.oldest_first(history.graph.ancestors(history.heads())):
        message = history.commit(commit_id).message
        if message.laptop_id and message.laptop:
            names[message.laptop_id] = message.laptop
    names[history.box.laptop_id] = history.box.laptop
    if claimed:
        names.setdefault(laptop_id, claimed)
    name = names.get(laptop_id)
    if name is None:
        return laptop_id[:4]
    return f"{name} ({laptop_id[:4]})" if list(names.values()).count(name) > 1 else name


def new_paths(history: History, present: Collection[str]) -> list[str]:
    """Paths changed by this laptop's edits that a place does not hold, where `present` are the edits it has."""
    own = history.own
    if own is None or own in present:
        return []
    new = history.graph.ancestors([own]) - history.graph.ancestors(present)
    paths: set[str] = set()
    for commit_id in new:
        commit = history.commit(commit_id)
        if commit.message.laptop_id == history.box.laptop_id:
            before = history.commit(commit.parents[0]).tree if commit.parents else None
            paths.update(history.store.changes(before, commit.tree))
    return sorted(paths)
