"""Going through the open rows of a proposal one by one: what to ask, and where a person broke off."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from recipebox.box import Box, keep, kept
from recipebox.cards.things import thing

_NAME = "asking"
_CHOICES = ("take", "swap", "leave_out")


@dataclass(frozen=True)
class OpenRow:
    """One row: the family's line as proposed (None: it has none), and each other version's (name, item, text, why).

    `key` is the same as long as the row says the same, so that an answer once given is known again.
    """

    key: str
    line: str | None
    theirs: tuple[tuple[str, str, str, str], ...]


@dataclass
class Answers:
    """What was answered so far: row keys, and the choices made by them as `merge_dish` takes them."""

    keys: list[str] = field(default_factory=list)
    take: list[str] = field(default_factory=list)
    swap: list[str] = field(default_factory=list)
    leave_out: list[str] = field(default_factory=list)

    def choices(self, typed: Mapping[str, Any]) -> dict[str, Any]:
        """These choices with those typed on the command line, which come last and so count."""
        told = {_item(one) for name in _CHOICES for one in typed[name]}
        return {
            **typed,
            **{
                name: [*(one for one in getattr(self, name) if _item(one) not in told), *typed[name]]
                for name in _CHOICES
            },
        }


def open_rows(data: Mapping[str, Any]) -> list[OpenRow]:
    """The rows of a proposal (the shape of `merge --json`) in which some version says otherwise, in the card's order.

    First rows that have a line in the recipe, then things only some versions have.
    """
    order = [line["text"] for line in data["lines"] if line["part"] == "ingredient"]
    rows: dict[tuple[int, str], list[tuple[str, str, str, str]]] = {}
    for one in data["not_taken"]:
        if not one.get("item") or one["where"] == "variation":
            continue
        beside = one.get("beside")
        place = (order.index(beside), beside) if beside in order else (len(order), one["item"])
        rows.setdefault(place, []).append((one["name"], one["item"], one["text"], f"{one['where']}: {one['why']}"))
    found = []
    for (at, about), theirs in sorted(rows.items(), key=lambda row: row[0]):
        line = about if at < len(order) else None
        words = json.dumps([line, sorted(theirs)], ensure_ascii=False)
        found.append(OpenRow(hashlib.sha256(words.encode()).hexdigest()[:16], line, tuple(theirs)))
    return found


def answers_so_far(box: Box, path: str) -> Answers:
    """What was answered for a family recipe before somebody broke off; nothing where nobody did."""
    said = _kept(box).get(path)
    if not isinstance(said, dict):
        return Answers()
    lists = {name: _words(said.get(name)) for name in ("keys", "take", "swap", "leave_out")}
    return Answers(**lists)


def keep_answers(box: Box, path: str, answers: Answers | None) -> None:
    """Keep what was answered so far on this laptop; None once the edition is written. Raises NotWrittenError."""
    every = _kept(box)
    if answers is None:
        if every.pop(path, None) is None:
            return
    else:
        every[path] = vars(answers)
    keep(box, _NAME, json.dumps(every, sort_keys=True).encode() if every else None)


def _item(words: str) -> str:
    item = words.rpartition("=")[0] or words
    return thing(item) or item.casefold()


def _kept(box: Box) -> dict[str, Any]:
    try:
        said = json.loads(kept(box, _NAME) or b"{}")
    except ValueError:
        return {}
    return said if isinstance(said, dict) else {}


def _words(said: object) -> list[str]:
    return [str(one) for one in said] if isinstance(said, Sequence) and not isinstance(said, str) else []
