"""What the family itself says about cards: blocks that stay together, and pairs that stay apart."""

from collections.abc import Callable, Iterable, Mapping
from itertools import combinations, groupby

from recipebox.cards.model import Card
from recipebox.cards.sayings import Sayings

Score = Callable[[str, str], float]
Pair = tuple[str, str]


def blocks(
    called: Iterable[str], sayings: Sayings, families: Iterable[Card], score: Score
) -> dict[str, frozenset[str]]:
    """For each card, the cards it is held together with by `same` lines and by the Versions of a family recipe.

    No block holds a pair said to be different. Where lines that are transitive would force one, the links between the
    least alike give way; links equally alike give way together, so that no path decides.
    """
    cards = set(called)
    apart = {frozenset(pair) for pair in sayings.different}
    block = {card: frozenset([card]) for card in cards}
    for links in (sayings.same, _versions(families, sayings)):
        there = [pair for pair in links if pair[0] in cards and pair[1] in cards]
        _link(block, there, apart, score)
    return block


def kept_apart(sayings: Sayings, block: Mapping[str, frozenset[str]]) -> set[frozenset[frozenset[str]]]:
    """Pairs of blocks that a `different` line keeps apart."""
    return {frozenset((block[a], block[b])) for a, b in sayings.different if a in block and b in block}


def _versions(families: Iterable[Card], sayings: Sayings) -> set[Pair]:
    links: set[Pair] = set()
    for family in families:
        paths = sorted({version.path for version in family.versions if not version.gone})
        links.update(combinations(paths, 2))
    return links - set(sayings.different)


def _link(block: dict[str, frozenset[str]], links: list[Pair], apart: set[frozenset[str]], score: Score) -> None:
    scored = sorted(((-score(a, b), a, b) for a, b in links), key=lambda one: one[0])
    for _, alike in groupby(scored, key=lambda one: one[0]):
        tied = [(a, b) for _, a, b in alike]
        joined = dict(block)
        for a, b in tied:
            _join(joined, joined[a] | joined[b])
        for a, b in tied:
            if not any(pair <= joined[a] for pair in apart):
                _join(block, block[a] | block[b])


def _join(block: dict[str, frozenset[str]], whole: frozenset[str]) -> None:
    for card in whole:
        block[card] = whole
