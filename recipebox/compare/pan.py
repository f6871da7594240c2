"""Whether several cards ask for the same pan, the batch taken into account."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import combinations

from recipebox.cards.model import Card, Pan
from recipebox.compare.model import Kind, PanRow
from recipebox.measures import pan_volume_ml

NEAR = Fraction(5, 4)  # an 8 x 8 doubled is a 9 x 13 in every kitchen, which holds 1.8 times as much


def compare_pans(cards: Sequence[Card], batch: Mapping[str, Fraction]) -> PanRow:
    """DIFFERS where two cards ask for pans that hold another share of their batch, by a quarter and more.

    Where a pan's volume is not known, its shape and size are compared, on one batch only. What a card leaves unsaid is
    no difference.
    """
    cells = {card.called: card.pan for card in cards if card.pan is not None}
    pairs = combinations(cells.items(), 2)
    same = all(_same(one, other, batch[b] / batch[a]) for (a, one), (b, other) in pairs)
    return PanRow(Kind.SAME if same else Kind.DIFFERS, cells)


def _same(one: Pan, other: Pan, times: Fraction) -> bool:
    if times == 1 and _size(one) == _size(other):
        return True
    a, b = pan_volume_ml(one), pan_volume_ml(other)
    if a and b:
        return a * times <= b * NEAR and b <= a * times * NEAR
    known = all(pan.sides or pan.shape or pan.volume for pan in (one, other))
    return not known or times != 1


def _size(pan: Pan) -> tuple[object, ...]:
    return pan.count, pan.shape, tuple(sorted(pan.sides)), pan.unit, pan.volume
