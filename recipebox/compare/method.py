"""The methods of several cards, a row for each thing that is done."""

from collections.abc import Sequence

from recipebox.cards.model import Card
from recipebox.compare.facts import Facts, step_facts
from recipebox.compare.model import Kind, Row, StepRow
from recipebox.compare.steps import align_steps

Group = dict[int, list[int]]  # place of the card -> its steps, from 0


def compare_methods(cards: Sequence[Card], ingredients: Sequence[Row]) -> list[StepRow]:
    """Rows of steps that do the same, in the first card's order, then what only later cards do.

    Steps are the same when they say the same facts: heat, times, sizes, what goes in and what is done; wording,
    length and where one step ends are nothing. Things that share a row of `ingredients` are one: what stands in for
    what is told there. `added` and `removed` are facts of later cards against the first in
    the row. A row is MOVED when its facts agree but it stands before a step that the first card has after it.
    """
    texts = [[step.text for step in card.steps] for card in cards]
    groups = _groups(texts)
    named = [
        {line: row.item for row in ingredients if card.called in row.cells for line in row.cells[card.called].lines}
        for card in cards
    ]
    facts = [[step_facts(step, called) for step in steps] for steps, called in zip(texts, named, strict=True)]
    rows = [_row(group, cards, facts) for group in groups]
    return _mark_moved(rows, groups, cards)


def _groups(texts: Sequence[Sequence[str]]) -> list[Group]:
    """Steps hang together through the first card's; what it lacks is aligned among the others."""
    nodes = [(place, step) for place, steps in enumerate(texts) for step in range(len(steps))]
    parent = {node: node for node in nodes}

    def root(node: tuple[int, int]) -> tuple[int, int]:
        while parent[node] != node:
            node = parent[node]
        return node

    for hub in range(len(texts)):
        for other in range(hub + 1, len(texts)):
            for i, j in align_steps(texts[hub], texts[other]):
                if i is None or j is None or (hub and (_met(root((hub, i))) or _met(root((other, j))))):
                    continue
                one, two = sorted((root((hub, i)), root((other, j))))
                parent[two] = one
    found: dict[tuple[int, int], Group] = {}
    for place, step in nodes:
        found.setdefault(root((place, step)), {}).setdefault(place, []).append(step)
    return [found[key] for key in sorted(found)]


def _met(root: tuple[int, int]) -> bool:
    return root[0] == 0


def _row(group: Group, cards: Sequence[Card], facts: Sequence[Sequence[Facts]]) -> StepRow:
    cells = {cards[place].called: tuple(step + 1 for step in steps) for place, steps in sorted(group.items())}
    places = sorted(group)
    said = [Facts.of_all(facts[place][step] for step in group[place]) for place in places]
    if len(group) < len(cards):
        lone = said[0].words() if 0 not in group else ()
        gone = said[0].words() if 0 in group else ()
        return StepRow(Kind.ONLY, cells, added=lone, removed=gone)
    added: list[str] = []
    removed: list[str] = []
    for other in said[1:]:
        more, less = said[0].against(other)
        added += [word for word in more if word not in added]
        removed += [word for word in less if word not in removed]
    return StepRow(Kind.CHANGED if added or removed else Kind.SAME, cells, tuple(added), tuple(removed))


def _mark_moved(rows: list[StepRow], groups: Sequence[Group], cards: Sequence[Card]) -> list[StepRow]:
    moved = set()
    for place in range(1, len(cards)):
        shared = [at for at, group in enumerate(groups) if 0 in group and place in group]
        kept = _longest_rising([min(groups[at][place]) for at in shared])
        moved |= {at for order, at in enumerate(shared) if order not in kept}
    return [
        StepRow(Kind.MOVED, row.cells) if at in moved and row.kind is Kind.SAME else row for at, row in enumerate(rows)
    ]


def _longest_rising(values: Sequence[int]) -> set[int]:
    """Places of a longest rising run among the values: what stayed in order."""
    best: list[list[int]] = []
    for at, value in enumerate(values):
        before: list[int] = max((run for run in best if values[run[-1]] <= value), key=len, default=[])
        best.append([*before, at])
    longest: list[int] = max(best, key=len, default=[])
    return set(longest)
