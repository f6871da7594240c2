"""Clusters by average likeness, of things some of which must stay apart.

Average linkage: R. R. Sokal and C. D. Michener, "A statistical method for evaluating systematic relationships",
University of Kansas Science Bulletin 38, 1958.
"""

from collections.abc import Callable, Collection
from itertools import combinations
from typing import Any

Block = frozenset[str]
Margin = Callable[[str, str], float]


def clusters(
    blocks: Collection[Block],
    margin: Margin,
    apart: Collection[frozenset[Block]],
    content: Callable[[str], Any],
) -> list[Block]:
    """Join blocks, the most alike first, while they hang together.

    They do when some pair is above its cut and the average margin over all their pairs is at least -1: a dish that
    is made differently in every kitchen has pairs that are not alike by themselves.

    `margin` is symmetric. `apart` holds pairs of blocks that may not meet. Ties fall by `content`, never by name.
    """
    at = sorted(blocks, key=lambda block: sorted(map(content, block)))
    if len(at) == 1:
        return at
    live = set(range(len(at)))
    members = dict(enumerate(at))
    between = list(combinations(range(len(at)), 2))
    total = {(i, j): sum(margin(a, b) for a in at[i] for b in at[j]) for i, j in between}
    best_of = {(i, j): max(margin(a, b) for a in at[i] for b in at[j]) for i, j in between}
    barred = {(i, j) for i, j in total if frozenset((at[i], at[j])) in apart}
    while True:
        best = None
        for (i, j), score in total.items():
            average = score / (len(members[i]) * len(members[j]))
            if (
                average >= -1
                and best_of[i, j] >= 0
                and (i, j) not in barred
                and (best is None or (round(-average, 9), i, j) < best)
            ):
                best = (round(-average, 9), i, j)
        if best is None:
            return [members[i] for i in sorted(live)]
        _, i, j = best
        members[i] |= members.pop(j)
        live.discard(j)
        for k in live - {i}:
            ik, jk = (min(i, k), max(i, k)), (min(j, k), max(j, k))
            total[ik] += total.pop(jk)
            best_of[ik] = max(best_of[ik], best_of[jk])
            if jk in barred:
                barred.add(ik)
        total.pop((i, j))
