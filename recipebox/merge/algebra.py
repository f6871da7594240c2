"""How changes join: every value, set and entry as flips against a base.

A state is a set; what a side did to it is the set of elements it put in or took out. The merge of many sides is the
base with the union of all flips. A union does not care for order, grouping or repetition, so neither does any merge
built on it: n sides at once, in any order, or two and then the third, give the same.
"""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

T = TypeVar("T", bound=Hashable)

LEAVE_OUT = "leave out"


def merged_set(base: frozenset[T], sides: Iterable[frozenset[T]]) -> frozenset[T]:
    """The base with everything put in that any side put in, and out that any side took out."""
    flips: frozenset[T] = frozenset().union(*(base ^ side for side in sides))
    return base ^ flips


def merged_value(base: T, sides: Iterable[T]) -> frozenset[T]:
    """What stands of one value after all sides: one element, or the several changed ones that quarrel."""
    return merged_set(frozenset({base}), (frozenset({side}) for side in sides))


@dataclass(frozen=True, slots=True)
class Choice:
    """An entry as two sets: the wordings, and those of them somebody chose; `kept` if the choice stands in Settled."""

    wordings: frozenset[Hashable]
    chosen: frozenset[Hashable] = frozenset()
    kept: bool = False

    @property
    def settled(self) -> Hashable | None:
        """The one chosen wording; None while the question is open."""
        if len(self.wordings) == 1:
            return next(iter(self.wordings))
        return next(iter(self.chosen)) if len(self.chosen) == 1 else None


def merged_choice(base: Choice, sides: Sequence[Choice]) -> Choice:
    """An entry against its base. Two different choices bring the question back, both marked.

    A choice does not decide over a wording that whoever chose had not seen: that wording then counts as chosen too.
    Sides that took out different wordings until none was left have chosen what each left: the question comes back.
    """
    wordings = merged_set(base.wordings, [side.wordings for side in sides])
    chosen = merged_set(base.chosen, [side.chosen for side in sides]) | unseen(base, sides)
    kept = all(side.kept for side in sides) if base.kept else any(side.kept for side in sides)
    if not wordings:
        left = frozenset(word for side in sides for word in side.wordings)
        return Choice(base.wordings | left, left, kept)
    return Choice(wordings, chosen & wordings, kept)


def unseen(base: Choice, sides: Sequence[Choice]) -> frozenset[Hashable]:
    """Wordings that one side brought while another, without having seen them, chose."""
    new = [side.wordings - base.wordings for side in sides]
    choosing = [side for side in sides if side.chosen - base.chosen]
    return frozenset(word for words in new for word in words for side in choosing if word not in side.wordings)


def joined_orders(sequences: Iterable[Sequence[T]], rank: Mapping[T, tuple[int, bytes]]) -> list[T]:
    """One order that keeps each side's own order where they agree; what no side orders goes by rank.

    What a side wrote in one go stays together; else the smallest free element comes first. Where sides contradict one
    another the smallest element of what is left goes next, so the result depends on the set of sequences alone.
    """
    distinct = sorted({tuple(sequence) for sequence in sequences}, key=lambda s: [rank[e] for e in s])
    before: dict[T, set[T]] = {}
    for sequence in distinct:
        for at, element in enumerate(sequence):
            before.setdefault(element, set())
            if at:
                before[element].add(sequence[at - 1])
    order: list[T] = []
    left = set(before)
    while left:
        free = [element for element in left if not before[element] & left]
        goes_on = [element for element in free if order and order[-1] in before[element]]
        following = min(goes_on or free or left, key=lambda element: rank[element])
        order.append(following)
        left.discard(following)
    return order


def shortest(words: str) -> tuple[int, bytes]:
    """The order among wordings that mean the same: fewest bytes, then byte order."""
    encoded = words.encode("utf-8", "surrogatepass")
    return len(encoded), encoded


def in_byte_order(words: str) -> tuple[bool, bytes]:
    """The order of wordings in an entry: by their bytes, `leave out` last."""
    return words == LEAVE_OUT, words.encode("utf-8", "surrogatepass")
