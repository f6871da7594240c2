"""Whether several cards ask for the same oven."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations

from recipebox.cards.model import Amount, Card, Heat
from recipebox.compare.facts import times_of
from recipebox.compare.model import Kind, OvenRow
from recipebox.measures import fahrenheit

TOLERANCE_F = 10  # half a mark of a dial; 5 C is 9 F


def compare_ovens(cards: Sequence[Card]) -> OvenRow:
    """SAME where all bakes agree in heat and minutes, ONLY where a card has no oven.

    Heats agree within 10 F or 5 C, whatever the scale. Minutes agree when one range lies within the other. What a card
    leaves unsaid in a bake is no difference, nor are minutes that both cards' steps speak of. No card with an oven:
    SAME with no cells.
    """
    cells = {card.called: card.oven for card in cards if card.oven}
    if not cells:
        return OvenRow(Kind.SAME, cells)
    if len(cells) < len(cards):
        return OvenRow(Kind.ONLY, cells)
    same = all(_same(a, b) for a, b in combinations(cards, 2))
    return OvenRow(Kind.SAME if same else Kind.DIFFERS, cells)


def same_heat(a: Sequence[Heat], b: Sequence[Heat]) -> bool:
    """Whether two ways of saying a heat are one heat, an unknown one agreeing with any."""
    one = [degrees for heat in a if (degrees := fahrenheit(heat)) is not None]
    other = [degrees for heat in b if (degrees := fahrenheit(heat)) is not None]
    if not one or not other:
        return True
    return any(abs(Fraction(x) - Fraction(y)) <= TOLERANCE_F for x in one for y in other)


def same_minutes(a: Amount | None, b: Amount | None) -> bool:
    """Whether two times are the same, or one lies within the other; an unsaid one agrees with any."""
    if a is None or b is None:
        return True
    return (a.low <= b.low and b.high <= a.high) or (b.low <= a.low and a.high <= b.high)


def _same(a: Card, b: Card) -> bool:
    return len(a.oven) == len(b.oven) and all(
        same_heat(x.settings, y.settings)
        and (same_minutes(x.minutes, y.minutes) or (_says(b, x.minutes) and _says(a, y.minutes)))
        for x, y in zip(a.oven, b.oven, strict=True)
    )


def _says(card: Card, minutes: Amount | None) -> bool:
    """Whether a card's steps say a time too: which of their times is the oven's may have been read amiss."""
    if minutes is None:
        return True
    span = minutes.low * 60, minutes.high * 60
    return any(span == time for step in card.steps for time in times_of(step.text))
