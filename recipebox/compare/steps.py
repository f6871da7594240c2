"""Which step of one method does what a step of another does."""

import math
from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from recipebox.compare.words import content_words

_CUT = 0.15  # below this, steps that are each other's best are still not the same
_CUT_ONE_SIDED = 0.15  # for a step of the longer method whose best partner has a better one: it told in several
_CUT_SHORTER = 0.45  # the same for a step of the shorter method, where that is rare
_WITHIN = 0.4  # the share of words that a step told in several has in common with its whole
_AWAY = 0.3  # what standing at the other end of the method costs
_NEIGHBOURS = 0.3  # how much the steps before and after say about a step


def align_steps(a: Sequence[str], b: Sequence[str]) -> list[tuple[int | None, int | None]]:
    """Pairs of places (from 0) of steps that do the same; None opposite a step that the other method lacks.

    A step may stand in several pairs: one cook writes in one step what another writes in three. In order of `a`; what
    only `b` has stands behind the step before it. Mirrored: swapping the methods swaps each pair.
    """
    longer = sum(map(len, a)) - sum(map(len, b))
    cut_a = _CUT_ONE_SIDED if longer > 0 else _CUT_SHORTER
    cut_b = _CUT_ONE_SIDED if longer < 0 else _CUT_SHORTER
    bags = [frozenset(content_words(step)) for step in a], [frozenset(content_words(step)) for step in b]
    pairs = sorted(_pairs(step_likeness(a, b), bags, cut_a, cut_b))
    found: list[tuple[int | None, int | None]] = [*pairs]
    have = {i for i, _ in pairs}
    met = {j for _, j in pairs}
    found += [(i, None) for i in range(len(a)) if i not in have]
    found += [(None, j) for j in range(len(b)) if j not in met]
    behind = _places(pairs)
    return sorted(found, key=lambda pair: _order(pair, behind))


def step_likeness(a: Sequence[str], b: Sequence[str]) -> list[list[float]]:
    """How alike step i of `a` and step j of `b` are: words shared, rare ones counting more, place, and neighbours.

    About 1 for the same step in the same place; may fall below 0.
    """
    one, other = [frozenset(content_words(step)) for step in a], [frozenset(content_words(step)) for step in b]
    told = Counter(word for bag in one + other for word in bag)
    steps = len(one) + len(other)
    # Whole thousandths add up alike in any order and on any computer.
    weight = {word: round(1000 * math.log(1 + steps / count)) for word, count in told.items()}
    own = [
        [_alike(x, y, weight) - _AWAY * abs(_at(i, one) - _at(j, other)) for j, y in enumerate(other)]
        for i, x in enumerate(one)
    ]
    return [[_among_neighbours(own, i, j) for j in range(len(other))] for i in range(len(one))]


def _pairs(
    likeness: Sequence[Sequence[float]],
    bags: tuple[Sequence[frozenset[str]], Sequence[frozenset[str]]],
    cut_a: float,
    cut_b: float,
) -> set[tuple[int, int]]:
    one, other = bags
    rows, columns = len(one), len(other)
    if not rows or not columns:
        return set()
    best_of_a = [max((row[j], -abs(i - j), -j) for j in range(columns)) for i, row in enumerate(likeness)]
    best_of_b = [max((likeness[i][j], -abs(i - j), -i) for i in range(rows)) for j in range(columns)]
    of_a, of_b = [-best[2] for best in best_of_a], [-best[2] for best in best_of_b]
    pairs = {(i, j) for i, j in enumerate(of_a) if of_b[j] == i and likeness[i][j] >= _CUT}
    have = {i for i, _ in pairs}
    met = {j for _, j in pairs}
    more = {(i, j) for i, j in enumerate(of_a) if i not in have and likeness[i][j] >= cut_a}
    more |= {(i, j) for j, i in enumerate(of_b) if j not in met and likeness[i][j] >= cut_b}
    pairs |= {(i, j) for i, j in more if _within(one[i], other[j])}
    return pairs


def _within(a: frozenset[str], b: frozenset[str]) -> bool:
    return len(a & b) >= _WITHIN * min(len(a), len(b))


def _alike(a: Collection[str], b: Collection[str], weight: Mapping[str, int]) -> float:
    """The cosine of two bags of words."""
    size_a, size_b = sum(weight[word] for word in a), sum(weight[word] for word in b)
    if not size_a or not size_b:
        return float(size_a == size_b)
    return sum(weight[word] for word in a if word in b) / math.sqrt(size_a * size_b)


def _among_neighbours(own: Sequence[Sequence[float]], i: int, j: int) -> float:
    before = own[i - 1][j - 1] if i and j else 0.0
    after = own[i + 1][j + 1] if i + 1 < len(own) and j + 1 < len(own[i]) else 0.0
    return own[i][j] + _NEIGHBOURS * (before + after) / 2


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
