"""The message of a commit: why, for a person, and facts for the tool as JSON after a line `recipebox:`.

Messages come from other laptops too, so reading one never fails: what is not understood is not there.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from recipebox.box.errors import one_line

_LINE = "\nrecipebox:\n"
_LONGEST = 8 << 20
_LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Message:
    """`why` is the first line; `facts` the JSON object, with `moves` and `rule` always of the right kind."""

    why: str
    facts: Mapping[str, Any]

    @property
    def moves(self) -> dict[str, str]:
        """Old path to new path, as recorded by the laptop that saw the file move."""
        return dict(self.facts["moves"])

    @property
    def rule(self) -> int:
        """The number of the merge rule of the laptop that wrote this."""
        return int(self.facts["rule"])

    @property
    def laptop_id(self) -> str:
        """The id of the laptop that recorded the edit, "" for a merge that every laptop makes alike."""
        return str(self.facts["laptop"].get("id", ""))

    @property
    def laptop(self) -> str:
        """The laptop's name, as it may be shown."""
        name: str = self.facts["laptop"].get("name", "")
        return " ".join(one_line(" ".join(name[:_LONGEST_NAME].split())).split())


def write_message(why: str, facts: Mapping[str, Any]) -> str:
    """The text of a message. The same facts give the same text."""
    first = " ".join(why.split()) or "Changed"
    moved = "".join(f"moved: {_shown(old)} -> {_shown(new)}\n" for old, new in facts.get("moves", ()))
    data = json.dumps(facts, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return f"{first}\n\n{moved}{_LINE}{data}\n"


def read_message(text: str) -> Message:
    """Take a message apart. Never raises; a foreign message has no facts."""
    head, mark, data = text.rpartition(_LINE)
    facts: Any = None
    if mark and len(data) <= _LONGEST:
        try:
            facts = json.loads(data)
        except (ValueError, RecursionError):
            facts = None
    if not isinstance(facts, dict):
        facts = {}
    first = (head if mark else text).strip().split("\n", 1)[0]
    laptop = facts.get("laptop")
    rule = facts.get("rule")
    known = {
        "moves": [pair for pair in _as_list(facts.get("moves")) if _is_pair(pair)],
        "rule": rule if isinstance(rule, int) and not isinstance(rule, bool) else 0,
        "laptop": {key: str(value) for key, value in laptop.items()} if isinstance(laptop, dict) else {},
    }
    return Message(first, {**facts, **known})


def _shown(path: str) -> str:
    return path.encode("unicode_escape").decode("ascii") if "\n" in path or "\r" in path else path


def _as_list(value: object) -> list[Any]:
    return value if isinstance(value, list) else []


def _is_pair(value: object) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(isinstance(path, str) for path in value)
