"""Which step of one method does what a step of another does."""

import math
from collections import Counter
from collections.abc import Sequence

from recipebox.compare.words import content_words

_CUT = 0.30  # below this, steps that are each other's best are still not the same
_CUT_ONE_SIDED = 0.40  # for a step whose best partner has a better partner: one long step against several short ones
_AWAY = 0.35  # what standing at the other end of the method costs


def align_steps(a: Sequence[str], b: Sequence[str]) -> list[tuple[int | None, int | None]]:
    """Pairs of places (from 0) of steps that do the same; None opposite a step that the other method lacks.

    A step may stand in several pairs: one cook writes in one step what another writes in three. In order of `a`; what
    only `b` has stands behind the step before it. Mirrored: swapping the methods swaps each pair.
    """
    likeness = step_likeness(a, b)
    pairs = sorted(_pairs(likeness, len(a), len(b)))
    found: list[tuple[int | None, int | None]] = [*pairs]
    have = {i for i, _ in pairs}
    met = {j for _, j in pairs}
    found += [(i, None) for i in range(len(a)) if i not in have]
    found += [(None, j) for j in range(len(b)) if j not in met]
    behind = _places(pairs)
    return sorted(found, key=lambda pair: _order(pair, behind))


def step_likeness(a: Sequence[str], b: Sequence[str]) -> list[list[float]]:
    """How alike step i of `a` and step j of `b` are, 0 to 1: shared words, rare ones counting more, and place."""
    one, other = [_bag(step) for step in a], [_bag(step) for step in b]
    told = Counter(word for bag in one + other for word in bag)
    steps = len(one) + len(other)
    weight = {word: math.log(1 + steps / count) for word, count in told.items()}
    return [
        [_alike(x, y, weight) - _AWAY * abs(_at(i, one) - _at(j, other)) ** 2 for j, y in enumerate(other)]
        for i, x in enumerate(one)
    ]


def _pairs(likeness: Sequence[Sequence[float]], rows: int, columns: int) -> set[tuple[int, int]]:
    if not rows or not columns:
        return set()
    best_of_a = [max((row[j], -abs(i - j), -j) for j in range(columns)) for i, row in enumerate(likeness)]
    best_of_b = [max((likeness[i][j], -abs(i - j), -i) for i in range(rows)) for j in range(columns)]
    of_a, of_b = [-best[2] for best in best_of_a], [-best[2] for best in best_of_b]
    pairs = {(i, j) for i, j in enumerate(of_a) if of_b[j] == i and likeness[i][j] >= _CUT}
    have = {i for i, _ in pairs}
    met = {j for _, j in pairs}
    pairs |= {(i, j) for i, j in enumerate(of_a) if i not in have and likeness[i][j] >= _CUT_ONE_SIDED}
    pairs |= {(i, j) for j, i in enumerate(of_b) if j not in met and likeness[i][j] >= _CUT_ONE_SIDED}
    return pairs


def _bag(step: str) -> Counter[str]:
    return Counter(content_words(step))


def _alike(a: Counter[str], b: Counter[str], weight: dict[str, float]) -> float:
    size_a = sum(weight[word] ** 2 for word in a)
    size_b = sum(weight[word] ** 2 for word in b)
    if not size_a or not size_b:
        return float(a == b)
    shared = sum(weight[word] ** 2 for word in a.keys() & b.keys())
    return shared / math.sqrt(size_a * size_b)


def _at(place: int, steps: Sequence[object]) -> float:
    return (place + 0.5) / len(steps)


def _places(pairs: Sequence[tuple[int, int]]) -> dict[int, int]:
    """For each step of b, the last step of a that it is paired with."""
    return {j: i for i, j in pairs}


def _order(pair: tuple[int | None, int | None], behind: dict[int, int]) -> tuple[int, int, int]:
    i, j = pair
    if i is not None:
        return (i, 0, -1 if j is None else j)
    assert j is not None
    before = [step for step in behind if step < j]
    return (behind[max(before)] if before else -1, 1, j)
