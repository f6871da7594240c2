"""Clusters by average likeness, of things some of which must stay apart.

Average linkage: R. R. Sokal and C. D. Michener, "A statistical method for evaluating systematic relationships",
University of Kansas Science Bulletin 38, 1958.
"""

from collections.abc import Callable, Collection, Iterable
from heapq import heapify, heappop, heappush
from math import log2
from typing import Any

Block = frozenset[str]
Margin = Callable[[str, str], float]

# Chosen with the cut of a pair, by tests/bench/same_dish.py on kitchens of look-alikes.
_LEAST = -1.5
_LEAST_MORE = 0.3  # for each doubling of the pairs


def clusters(
    blocks: Collection[Block],
    margin: Margin,
    linked: Iterable[tuple[str, str]],
    apart: Collection[frozenset[Block]],
    content: Callable[[str], Any],
) -> list[Block]:
    """Join blocks, the most alike first, while they hang together.

    They do when some pair is above its cut and the average margin over all their pairs is not far below: a dish that
    is made differently in every kitchen has pairs that are not alike by themselves. The more pairs there are, the
    nearer, for among many one is above the cut by chance.

    `margin` is symmetric; `linked` are the pairs above their cut. `apart` holds pairs of blocks that may not meet. Ties
    fall by `content`, never by name.
    """
    at = sorted(blocks, key=lambda block: sorted(map(content, block)))
    live = dict(enumerate(at))
    near, barred = _neighbours(at, linked, apart)
    totals = {(i, j): _total(at[i], at[j], margin) for i in near for j in near[i] if i < j}
    waiting = [_entry(i, j, total, live) for (i, j), total in totals.items()]
    heapify(waiting)
    while waiting:
        average, i, j, size = heappop(waiting)
        # An entry is stale once one of the two has grown or gone.
        if i not in live or j not in live or size != len(live[i]) + len(live[j]) or j in barred[i]:
            continue
        if -average < _least(len(live[i]) * len(live[j])):
            continue
        for k in (near[i] | near[j]) - {i, j}:
            parts = ((min(one, k), max(one, k)) for one in (i, j))
            totals[min(i, k), max(i, k)] = sum(
                totals.pop(pair) if pair in totals else _total(live[pair[0]], live[pair[1]], margin) for pair in parts
            )
        live[i] |= live.pop(j)
        near[i] = (near[i] | near.pop(j)) - {i, j}
        barred[i] |= barred.pop(j)
        for k in near[i]:
            near[k] = (near[k] - {j}) | {i}
            heappush(waiting, _entry(min(i, k), max(i, k), totals[min(i, k), max(i, k)], live))
        for k in barred[i]:
            barred[k] = (barred[k] - {j}) | {i}
    return [live[i] for i in sorted(live)]


def _neighbours(
    at: list[Block], linked: Iterable[tuple[str, str]], apart: Collection[frozenset[Block]]
) -> tuple[dict[int, set[int]], dict[int, set[int]]]:
    """For each block, by place, those it is linked to and those it must stay apart from."""
    place = {block: i for i, block in enumerate(at)}
    held = {card: i for i, block in enumerate(at) for card in block}
    near: dict[int, set[int]] = {i: set() for i in range(len(at))}
    barred: dict[int, set[int]] = {i: set() for i in range(len(at))}
    pairs = [(held[a], held[b]) for a, b in linked if a in held and b in held]
    bars = [tuple(place[block] for block in pair) for pair in apart if len(pair) == 2 and pair <= place.keys()]
    for found, several in ((near, pairs), (barred, bars)):
        for i, j in several:
            if i != j:
                found[i].add(j)
                found[j].add(i)
    return near, barred


def _least(pairs: int) -> float:
    """The least average margin of so many pairs: -1.2 of two, -0.6 of eight, 0 of 32 and more."""
    return min(_LEAST + _LEAST_MORE * log2(pairs), 0.0)


def _total(one: Block, other: Block, margin: Margin) -> float:
    return sum(margin(a, b) for a in one for b in other)


def _entry(i: int, j: int, total: float, live: dict[int, Block]) -> tuple[float, int, int, int]:
    """What is joined first comes first: minus the average, the places, and how many cards there are together."""
    return round(-total / (len(live[i]) * len(live[j])), 9), i, j, len(live[i]) + len(live[j])
