"""The method while it is worked on, and whose each step is: every step of every version accounted for once."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from recipebox.cards.model import Card, Ingredient, Passage
from recipebox.compare import Kind, align_steps, compare
from recipebox.family.lineup import LineUp
from recipebox.family.model import NotTaken, Source


@dataclass
class Step:
    """One step while it is worked on: its words, the base's passage, the versions' steps it is from, and why."""

    passage: Passage
    text: str
    sources: list[Source]
    rule: str


@dataclass
class Method:
    """The steps in order, what could not be mended (for Notes), and steps of versions that stand nowhere.

    `stuck` has lines of the base that were left out of the list, but cannot be taken out of its steps; `homeless` rows
    of things adopted for which its steps have no place; `named` rows of things its steps name and its list forgot.
    """

    steps: list[Step]
    notes: list[str] = field(default_factory=list)
    stuck: list[Ingredient] = field(default_factory=list)
    homeless: list[int] = field(default_factory=list)
    named: list[int] = field(default_factory=list)
    not_taken: list[NotTaken] = field(default_factory=list)


def credit_others(lineup: LineUp, method: Method, woven_from: Iterable[tuple[Step, Source]]) -> None:
    """Account for each step of each other version once: in a step of the recipe, or standing in the version alone."""
    base = lineup.base
    used = {(source.path, source.line, source.text) for step in method.steps for source in step.sources}
    for step, source in woven_from:
        key = (source.path, source.line, source.text)
        if key not in used and all(other.path != source.path for other in step.sources):
            step.sources.append(source)
            used.add(key)
    by_passage: dict[int, tuple[int, Step | None]] = {
        id(step.passage): (number, step) for number, step in enumerate(method.steps, start=1)
    }
    for called in sorted(lineup.cards):
        card = lineup.cards[called]
        if card is base:
            continue
        same = {
            other: own
            for row in compare([base, card]).steps
            if row.kind is Kind.SAME
            for own in row.cells.get(base.called, ())[:1]
            for other in row.cells.get(called, ())
        }
        met = {j: i for i, j in pairs(base, card) if i is not None and j is not None}
        for j, passage in enumerate(card.steps):
            source = Source(called, passage.line, passage.text)
            if (called, passage.line, passage.text) in used:
                continue
            at = same.get(j + 1, met.get(j, -1) + 1)
            number, found = by_passage.get(id(base.steps[at - 1]) if at else 0, (0, None))
            if found is None:
                why = f"only {card.name} does this" if not at else f"{card.name}'s own words"
            elif j + 1 in same and found.text == found.passage.text:
                if all(other.path != called for other in found.sources):
                    found.sources.append(source)
                    continue
                why = f"the same, with others, as step {number}"
            else:
                why = f"{card.name}'s own way of step {number}"
            method.not_taken.append(NotTaken(source, "version", why))


def pairs(base: Card, card: Card) -> list[tuple[int | None, int | None]]:
    """Which step of a version goes with which of the base, by their places from 0."""
    return align_steps([step.text for step in base.steps], [step.text for step in card.steps])
