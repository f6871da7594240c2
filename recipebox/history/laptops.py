"""What the laptops of a box are called."""

from collections import Counter
from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from recipebox.history.history import History


def laptop_names(history: "History") -> dict[str, str]:
    """What each laptop calls itself, by id; two of one name, or of none, with the first letters of their ids."""
    return with_letters({**said_names(history), history.box.laptop_id: history.box.laptop})


def said_names(history: "History") -> dict[str, str]:
    """The name in each laptop's last known edit, by id; a laptop that gives none is left out."""
    names = {}
    for laptop, commit_id in history.laptops():
        message = history.commit(commit_id).message
        if message.laptop_id == laptop and message.laptop:
            names[laptop] = message.laptop
    return names


def with_letters(names: Mapping[str, str]) -> dict[str, str]:
    """Names by id, with the first letters of the id where two are the same."""
    several = Counter(names.values())
    return {laptop: f"{name} ({laptop[:4]})" if several[name] > 1 else name for laptop, name in names.items()}
