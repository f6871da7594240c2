"""Average linkage along alike pairs, against the plain way of looking at all of them."""

from itertools import combinations
from math import log2

from hypothesis import given
from hypothesis import strategies as st

from recipebox.dishes.clusters import Block, clusters

Margins = dict[frozenset[str], float]

_NAMES = "abcdefgh"


@st.composite
def margins_between(draw: st.DrawFn) -> Margins:
    """How alike each two of some cards are."""
    names = _NAMES[: draw(st.integers(1, len(_NAMES)))]
    sizes = st.integers(-40, 40).map(lambda tenth: tenth / 10)
    return {frozenset(pair): draw(sizes) for pair in combinations(names, 2)} | {frozenset((names[0],)): 0.0}


def plainly(margins: Margins, apart: set[frozenset[str]]) -> set[Block]:
    """The same, all pairs of clusters gone through at each step."""
    live = {frozenset((name,)) for pair in margins for name in pair}
    while True:
        found = []
        for one, other in combinations(sorted(live, key=min), 2):
            between = [margins[frozenset((a, b))] for a in one for b in other]
            average = sum(between) / len(between)
            near = average >= min(-1.5 + 0.3 * log2(len(between)), 0.0) - 1e-9
            told_apart = any(frozenset((a, b)) in apart for a in one for b in other)
            if max(between) >= 0 and near and not told_apart:
                found.append((round(-average, 9), min(one), min(other), one, other))
        if not found:
            return live
        *_, one, other = min(found, key=lambda entry: entry[:3])
        live = (live - {one, other}) | {one | other}


@given(margins_between(), st.sets(st.frozensets(st.sampled_from(_NAMES), min_size=2, max_size=2), max_size=3))
def test_the_outcome_is_that_of_the_plain_way(margins: Margins, apart: set[frozenset[str]]) -> None:
    """A heap of pairs that are linked, and of no others, ends where going through all pairs of clusters does."""
    names = sorted({name for pair in margins for name in pair})
    linked = [tuple(pair) for pair, margin in margins.items() if len(pair) == 2 and margin >= 0]
    bars = {frozenset(frozenset((name,)) for name in pair) for pair in apart if pair <= set(names)}
    found = clusters(
        [frozenset((name,)) for name in names], lambda a, b: margins[frozenset((a, b))], linked, bars, lambda name: name
    )
    assert set(found) == plainly(margins, {pair for pair in apart if pair <= set(names)})


def test_among_many_pairs_one_alike_is_not_enough() -> None:
    """A card like one of eight, and rather unlike the others, stays out; with two it would be let in."""

    def joined(many: int) -> bool:
        cards = [f"v{n}" for n in range(many)]

        def margin(a: str, b: str) -> float:
            return 5.0 if a != "new" and b != "new" else 0.5 if "v0" in (a, b) else -2.0

        pairs = [*combinations(cards, 2), ("new", "v0")]
        found = clusters([frozenset((card,)) for card in [*cards, "new"]], margin, pairs, [], lambda name: name)
        return len(found) == 1

    assert joined(2)
    assert not joined(8)
