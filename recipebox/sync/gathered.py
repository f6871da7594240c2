"""What was found at a meeting place, and how laptops are named from it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from recipebox.history import History, laptop_names
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
    names = laptop_names(history)
    if claimed and laptop_id not in names:
        return f"{claimed} ({laptop_id[:4]})" if claimed in names.values() else claimed
    return names.get(laptop_id, laptop_id[:4])
