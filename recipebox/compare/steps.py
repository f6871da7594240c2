"""Which step of one method does what a step of another does."""

import math
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from itertools import accumulate

from recipebox.compare.words import content_words

# Chosen on datasets/same-dish (dev), where F1 is flat around them.
_CUT = 0.13  # below this, a step has no partner
_CUT_SHORTER = 0.35  # the same for a step of the shorter method that no step of the longer has chosen
_WITHIN = 0.3  # the share of words a step has in common with a partner that another step is nearer to
_AWAY = 0.15  # what standing at the other end of the method costs
_NEIGHBOURS = 0.4  # how much the steps before and after say about a step
_BACK = 0.06  # what it costs to go on before the last partner, and for each step that it lies before
_BACK_A_STEP = 0.01


def align_steps(a: Sequence[str], b: Sequence[str]) -> list[tuple[int | None, int | None]]:
    """Pairs of places (from 0) of steps that do the same; None opposite a step that the other method lacks.

    Each step of the longer method has the partner that, all steps taken together, is most like it without going back
    and forth, or none: a hidden Markov alignment (S. Vogel, H. Ney and C. Tillmann, "HMM-based word alignment in
    statistical translation", COLING 1996). So one cook may write in one step what another writes in three. In order of
    `a`; what only `b` has stands behind the step before it. Mirrored: swapping the methods swaps each pair.
    """
    turned = (sum(map(len, a)), *a) < (sum(map(len, b)), *b)
    pairs = sorted((i, j) for j, i in _pairs(b, a)) if turned else sorted(_pairs(a, b))
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
    one, other = [_bag(step) for step in a], [_bag(step) for step in b]
    told = Counter(word for bag in one + other for word in bag)
    steps = len(one) + len(other)
    # Whole thousandths add up alike in any order and on any computer.
    weight = {word: round(1000 * math.log(1 + steps / count)) for word, count in told.items()}
    own = [
        [_alike(x, y, weight) - _AWAY * abs(_at(i, one) - _at(j, other)) for j, y in enumerate(other)]
        for i, x in enumerate(one)
    ]
    return [[_among_neighbours(own, i, j) for j in range(len(other))] for i in range(len(one))]


def _pairs(longer: Sequence[str], shorter: Sequence[str]) -> set[tuple[int, int]]:
    """Places in the longer and in the shorter method."""
    if not longer or not shorter:
        return set()
    likeness = step_likeness(longer, shorter)
    bags = [_bag(step) for step in longer], [_bag(step) for step in shorter]
    chosen = _chosen(likeness)
    best_of = {j: i for i, j in sorted(chosen, key=lambda pair: likeness[pair[0]][pair[1]])}
    pairs = {(i, j) for i, j in chosen if best_of[j] == i or _within(bags[0][i], bags[1][j])}
    met = best_of.keys()
    for j in range(len(shorter)):
        if j not in met:
            i = max(range(len(longer)), key=lambda i: (likeness[i][j], -abs(i - j), -i))
            if likeness[i][j] >= _CUT_SHORTER and _within(bags[0][i], bags[1][j]):
                pairs.add((i, j))
    return pairs


def _chosen(likeness: Sequence[Sequence[float]]) -> set[tuple[int, int]]:
    """The best partner of each step, all taken together: Viterbi's algorithm, in time of steps times steps.

    `best[last]` is the most that can be had so far if `last` is the place behind the last partner, 0 for none yet.
    """
    states = len(likeness[0]) + 1
    best = [0.0] + [-math.inf] * (states - 1)
    came: list[list[int | None]] = []
    for row in likeness:
        ahead, behind = _best_before(best), _best_behind(best)
        new, origin = [*best], list[int | None]([None] * states)
        for place in range(1, states):
            last = ahead[place]
            gain = best[last]
            if place + 1 < states:
                beyond = behind[place + 1]
                returned = best[beyond] - _BACK - _BACK_A_STEP * (beyond - place)
                if returned > gain:
                    last, gain = beyond, returned
            gain += row[place - 1] - _CUT
            if gain > new[place]:
                new[place], origin[place] = gain, last
        came.append(origin)
        best = new
    at = max(range(states), key=best.__getitem__)
    pairs = set()
    for i in range(len(likeness) - 1, -1, -1):
        last_place = came[i][at]
        if last_place is not None:
            pairs.add((i, at - 1))
            at = last_place
    return pairs


def _best_before(best: Sequence[float]) -> list[int]:
    """For each place, the best one up to it."""

    def better(one: int, other: int) -> int:
        return other if best[other] > best[one] else one

    return list(accumulate(range(len(best)), better))


def _best_behind(best: Sequence[float]) -> list[int]:
    """For each place, the best one from it on, what going back costs being taken off."""

    def better(one: int, other: int) -> int:
        return other if best[other] - _BACK_A_STEP * other >= best[one] - _BACK_A_STEP * one else one

    places = range(len(best) - 1, -1, -1)
    return list(accumulate(places, better))[::-1]


def _bag(step: str) -> frozenset[str]:
    return frozenset(content_words(step))


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
