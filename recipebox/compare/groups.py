"""Which steps of several methods make up one row."""

from collections.abc import Callable, Collection, Sequence

from recipebox.compare.steps import align_steps

_NEAR = 2  # one step that only one cook has may stand between two halves

Group = dict[int, list[int]]  # place of the card -> its steps, from 0


def step_groups(texts: Sequence[Sequence[str]], lights: Sequence[Sequence[bool]]) -> list[Group]:
    """The rows of two methods or more.

    Of two, steps that hang together make up a row. Of more, each step of the first has its row, and what another tells
    in one step stands in the row of each step it is about: else all would hang together with all. What the first lacks
    is aligned among the others. `lights` says which steps but light the oven; those meet only one another.
    """
    if len(texts) == 2:
        return _hanging_together(texts[0], texts[1], lights)
    groups: list[Group] = []
    met: set[tuple[int, int]] = set()
    for hub, steps in enumerate(texts):
        rows: dict[int, Group] = {step: {hub: [step]} for step in range(len(steps)) if (hub, step) not in met}
        for other in range(hub + 1, len(texts)):
            pairs = [(i, j) for i, j in _pairs(texts, hub, other, lights) if i in rows and (other, j) not in met]
            for i, j in pairs:
                rows[i].setdefault(other, []).append(j)
            met |= {(other, j) for _, j in pairs}
        groups += rows.values()
    return groups


def _hanging_together(a: Sequence[str], b: Sequence[str], lights: Sequence[Sequence[bool]]) -> list[Group]:
    groups: list[Group] = [{0: [step]} for step in range(len(a))]
    of_a = dict(enumerate(groups))
    of_b: dict[int, Group] = {}
    for i, j in _pairs((a, b), 0, 1, lights):
        whole, other = of_a[i], of_b.get(j)
        if other is None:
            whole.setdefault(1, []).append(j)
            of_b[j] = whole
        elif other is not whole:
            other.update(_together(other, whole))
            groups.remove(whole)
            of_a |= dict.fromkeys(whole[0], other)
            of_b |= dict.fromkeys(other[1], other)
    return [*groups, *({1: [step]} for step in range(len(b)) if step not in of_b)]


def _pairs(
    texts: Sequence[Sequence[str]], one: int, other: int, lights: Sequence[Sequence[bool]]
) -> list[tuple[int, int]]:
    return [
        (i, j)
        for i, j in align_steps(texts[one], texts[other])
        if i is not None and j is not None and lights[one][i] == lights[other][j]
    ]


def joined(
    groups: Sequence[Group], cost: Callable[[Group], int], shifted: Callable[[Group, Group], bool]
) -> list[Group]:
    """Rows put together with a neighbour where that leaves fewer disagreements: one cook's step is another's two.

    Two rows that all cards have only where something has `shifted` between them, else a method would end as one row.
    """
    rows = [dict(group) for group in groups]
    while True:
        best = None
        alone = {(place, step) for row in rows if len(row) == 1 for place, steps in row.items() for step in steps}
        for at, one in enumerate(rows):
            for to in range(at + 1, len(rows)):
                if _adjoining(one, rows[to], alone):
                    together = _together(one, rows[to])
                    gain = cost(one) + cost(rows[to]) - cost(together)
                    if min(len(one), len(rows[to])) > 1 and not shifted(one, rows[to]):
                        continue
                    if gain > 0 and (best is None or gain > best[0]):
                        best = gain, at, to
        if best is None:
            return sorted(rows, key=lambda row: min((place, min(steps)) for place, steps in row.items()))
        _, at, to = best
        rows[at] = _together(rows[at], rows.pop(to))


def _together(one: Group, other: Group) -> Group:
    return {place: sorted({*one.get(place, ()), *other.get(place, ())}) for place in one.keys() | other.keys()}


def _adjoining(one: Group, other: Group, alone: Collection[tuple[int, int]]) -> bool:
    """Whether some card does the one right before or behind the other, a step aside that it alone has."""
    for place in one.keys() & other.keys():
        for step in one[place]:
            for next_step in other[place]:
                low, high = min(step, next_step), max(step, next_step)
                if low < high <= low + _NEAR and all((place, between) in alone for between in range(low + 1, high)):
                    return True
    return False
