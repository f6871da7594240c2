"""Which steps of several methods make up one row."""

from collections.abc import Callable, Sequence

from recipebox.compare.steps import align_steps

_NEAR = 2  # one step that only one cook has may stand between two halves

Group = dict[int, list[int]]  # place of the card -> its steps, from 0


def step_groups(texts: Sequence[Sequence[str]], lights: Sequence[Sequence[bool]]) -> list[Group]:
    """Steps hang together through the first card's; what it lacks is aligned among the others.

    `lights` says which steps but light the oven; those meet only one another.
    """
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
                if lights[hub][i] != lights[other][j]:
                    continue
                one, two = sorted((root((hub, i)), root((other, j))))
                parent[two] = one
    found: dict[tuple[int, int], Group] = {}
    for place, step in nodes:
        found.setdefault(root((place, step)), {}).setdefault(place, []).append(step)
    return [found[key] for key in sorted(found)]


def joined(groups: Sequence[Group], cost: Callable[[Group], int]) -> list[Group]:
    """Rows put together with a neighbour where that leaves fewer disagreements: one cook's step is another's two."""
    rows = [dict(group) for group in groups]
    while True:
        best = None
        for at, one in enumerate(rows):
            for to in range(at + 1, len(rows)):
                if _adjoining(one, rows[to]):
                    together = _together(one, rows[to])
                    gain = cost(one) + cost(rows[to]) - cost(together)
                    if gain > 0 and (best is None or gain > best[0]):
                        best = gain, at, to
        if best is None:
            return sorted(rows, key=lambda row: min((place, min(steps)) for place, steps in row.items()))
        _, at, to = best
        rows[at] = _together(rows[at], rows.pop(to))


def _together(one: Group, other: Group) -> Group:
    return {place: sorted({*one.get(place, ()), *other.get(place, ())}) for place in one.keys() | other.keys()}


def _adjoining(one: Group, other: Group) -> bool:
    """Whether some card does the one close before or behind the other."""
    return any(
        0 < abs(step - next_step) <= _NEAR
        for place in one.keys() & other.keys()
        for step in one[place]
        for next_step in other[place]
    )


def _met(root: tuple[int, int]) -> bool:
    return root[0] == 0
