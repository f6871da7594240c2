"""What a proposal for a family recipe is, as data."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from recipebox.cards.data import ingredient_data, swap_data
from recipebox.cards.model import Card, Entry, Ingredient, SomeAdd, Swap, Variation

_PART = re.compile(r"(?:the |finely |grated |fresh(?:ly)? )*(?P<part>juice|zest|rind|peel) of", re.IGNORECASE)
# What a line is for when it is no part of the dish: common practice, no source.
_ASIDE = re.compile(
    r"\b(?:greas\w*|oil\w*|butter\w*|brush\w*|dust\w*|flour\w*|lin(?:e|ing)|tins?|pans?|dish|griddle|skillet|serv\w*"
    r"|garnish\w*|decorat\w*|sprinkl\w*|drizzl\w*|glaz\w*|fry\w*|roll\w*|knead\w*|dredg\w*|work surface|top(?:ping|s)?"
    r"|finish\w*)\b",
    re.IGNORECASE,
)
_TO_SERVE = re.compile(r"^(?:to|for)\s+(?:serv\w+|garnish\w*|decorat\w+)\b", re.IGNORECASE)


class FamilyError(ValueError):
    """A choice or a name that cannot be carried out; the message is one clear line for a person."""


@dataclass(frozen=True, slots=True)
class Source:
    """One ingredient line or step of a version: what the card is called, its source line, its words as written."""

    path: str
    line: int
    text: str


@dataclass(frozen=True, slots=True)
class FamilyLine:
    """One line of title, headers, Ingredients or Method, and where it is from.

    `part` is title, header, ingredient or step. `sources` are the lines of versions that say the same, `rule` says why
    the line stands there, `choice` which choice of a person put it there.
    """

    part: str
    text: str
    sources: tuple[Source, ...]
    rule: str
    choice: str | None = None

    @property
    def paths(self) -> list[str]:
        """The versions that say the same, in order of path."""
        return sorted({source.path for source in self.sources})


@dataclass(frozen=True, slots=True)
class NotTaken:
    """A line of a version that is not in Ingredients or Method; `where` is swap, some add, variation or version.

    `beside` is the recipe's own line that it meets, if there is one.
    """

    source: Source
    where: str
    why: str
    beside: str | None = None


@dataclass(frozen=True, slots=True)
class FoundSwap:
    """A swap and the versions it is known from (none for a published one)."""

    swap: Swap
    paths: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Choices:
    """What people chose for a dish, all editions together: by what a version is called, items by their common name.

    `take` and `swap` map an item to the version, `leave_out` names items.
    """

    start_from: str | None = None
    take: Mapping[str, str] = field(default_factory=dict)
    leave_out: tuple[str, ...] = ()
    swap: Mapping[str, str] = field(default_factory=dict)

    def data(self) -> dict[str, Any]:
        """As kept in a snapshot's message."""
        return {
            "start_from": self.start_from,
            "take": dict(sorted(self.take.items())),
            "leave_out": sorted(self.leave_out),
            "swap": dict(sorted(self.swap.items())),
        }


@dataclass(frozen=True, slots=True)
class Proposal:
    """A family recipe as proposed: the whole card, its bytes, and where every line of every version went.

    `base` is what the version is called whose batch, order and method it stands on. `changed` is False where the
    current card says all of this already.
    """

    dish: str
    card: Card
    text: bytes
    base: str
    lines: tuple[FamilyLine, ...]
    swaps: tuple[FoundSwap, ...]
    some_add: tuple[tuple[SomeAdd, tuple[str, ...]], ...]
    variations: tuple[tuple[Variation, tuple[str, ...]], ...]
    offers: tuple[FoundSwap, ...]
    not_taken: tuple[NotTaken, ...]
    choices: Choices = Choices()
    changed: bool = True
    why: str | None = None

    @property
    def undecided(self) -> tuple[Entry, ...]:
        """What only a person can choose between."""
        return self.card.undecided


def proposal_data(proposal: Proposal, versions: Iterable[Card] = ()) -> dict[str, Any]:
    """The parts of `merge --json` that do not depend on the box: lines, swaps, some_add, variations and the rest.

    `versions` give the `name` and `item` that a choice about a line not taken is made with.
    """
    cards = {card.called: card for card in versions}
    return {
        "dish": proposal.dish,
        "lines": [
            {"part": line.part, "text": line.text, "from": line.paths, "rule": line.rule, "choice": line.choice}
            for line in proposal.lines
        ],
        "swaps": [found_swap_data(found) for found in proposal.swaps],
        "some_add": [
            {**ingredient_data(some.ingredient), "who": ", ".join(some.who), "from": list(paths)}
            for some, paths in proposal.some_add
        ],
        "variations": [
            {"name": one.name, "ingredients": [ingredient_data(i) for i in one.ingredients], "from": list(paths)}
            for one, paths in proposal.variations
        ],
        "undecided": [
            {"about": entry.about, "wordings": [{"text": w.text, "chosen": w.chosen} for w in entry.wordings]}
            for entry in proposal.undecided
        ],
        "offers": [found_swap_data(found) for found in proposal.offers],
        "not_taken": [
            {
                "path": left.source.path,
                "line": left.source.line,
                "text": left.source.text,
                "where": left.where,
                "why": left.why,
                "beside": left.beside,
                **_named(left.source, cards),
            }
            for left in proposal.not_taken
        ],
    }


def found_swap_data(found: FoundSwap) -> dict[str, Any]:
    """A swap in the card's shape with the versions it is known from."""
    return {**swap_data(found.swap), "from": list(found.paths)}


def _named(source: Source, cards: Mapping[str, Card]) -> dict[str, str | None]:
    card = cards.get(source.path)
    if card is None:
        return {"name": None, "item": None}
    line = next((one for one in card.ingredients if (one.line, one.text) == (source.line, source.text)), None)
    return {"name": card.name or card.called, "item": None if line is None else plain_item(line)}


def aside(ingredient: Ingredient) -> bool:
    """Whether a line is no part of the dish itself: for the tin, for dusting, to serve; "beef for braising" is one."""
    return bool(_ASIDE.search(ingredient.purpose or "") or _TO_SERVE.search(ingredient.group or ""))


def plain_item(ingredient: Ingredient) -> str:
    """The item as a cook says it in a sentence ("lemon juice" of "juice of 1 lemon"); capitals do not shout."""
    item = ingredient.item.strip() or ingredient.text.strip()
    if part_of(ingredient):
        item = f"{item.removesuffix('s')} {part_of(ingredient)}"
    return item.lower() if item.isupper() else item


def part_of(ingredient: Ingredient) -> str | None:
    """juice, zest, rind or peel where a line asks for that of a thing counted ("juice of 1/2 lemon")."""
    part = _PART.fullmatch(ingredient.preparation or "") if len(ingredient.items) < 2 else None
    return part["part"].lower() if part else None
