"""How many times one card is another."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache

from recipebox.cards.model import Amount, Card, Pan
from recipebox.compare.amounts import amount_ratio
from recipebox.compare.model import Portion
from recipebox.compare.pairing import Members, pair_up
from recipebox.measures import pan_volume_ml

Factor = tuple[float, float, Fraction]  # as a float, how much it is believed by itself, exactly
Vote = tuple[Fraction, float]  # a ratio of b to a, and its weight

# What people do to a card, with how much it takes to believe it, in ingredients: common practice, no source.
_USUAL_TIMES = {
    Fraction(1): 0.9,
    Fraction(2): 0.6,
    Fraction(3, 2): 0.45,
    Fraction(3): 0.45,
    Fraction(4): 0.3,
    Fraction(4, 3): 0.3,
    Fraction(5, 2): 0.3,
}
_USUAL = _USUAL_TIMES | {1 / times: belief for times, belief in _USUAL_TIMES.items()}
_USUAL_FACTORS = [(float(factor), belief, factor) for factor, belief in _USUAL.items()]
_LARGEST_PART = 12  # people cook thirds and fifths of a card, not seventeenths
_REACH = 0.22  # a ratio further off than this share says nothing for a factor
YIELD = 0.9  # what a card serves is a guess, but it is meant for the whole of it: nearly as good as one ingredient
_SEASONING = 0.3  # what is added by the pinch is the first thing a cook changes


def batch_factor(a: Card, b: Card) -> Fraction:
    """How many times `a` the card `b` is: 2 for a double batch. 1 where nothing tells.

    Each thing both cards have votes with the ratio of its amounts for the factors near it; what the cards serve, make
    and the size of their pans vote too. The factor with most votes wins, usual ones being believed sooner. Mirrored:
    `batch_factor(b, a) == 1 / batch_factor(a, b)`.
    """
    return factor_of_rows(pair_up([a, b]), a, b)


def factor_of_rows(rows: Iterable[Members], a: Card, b: Card) -> Fraction:
    """The batch factor of two cards whose portions have been paired (0 and 1 in each row)."""
    votes = [vote for row in rows if len(row) == 2 for vote in _votes(row[0], row[1])]
    asides = [vote for vote in (_yields(a, b), _pans(a.pan, b.pan)) if vote is not None]
    return believed(votes, asides)


def believed(votes: Sequence[Vote], asides: Sequence[Vote]) -> Fraction:
    """The factor that ratios of amounts (`votes`) and of yields and pans (`asides`) speak for, each with its weight."""
    if not votes and not asides:
        return Fraction(1)
    everything = [*votes, *((ratio, weight if votes else 3 * weight) for ratio, weight in asides)]
    said = [(float(ratio), weight) for ratio, weight in everything]
    factors = [*_USUAL_FACTORS, *{near for ratio, _ in everything if (near := _factor_near(ratio)) is not None}]
    best = max(factors, key=lambda factor: (_support(factor, said), factor[0]))
    # As much speaks for twice as for half: nothing tells.
    turned = 1 / best[2]
    return Fraction(1) if _support(best, said) == _support(_factor(turned), said) else best[2]


def _support(factor: Factor, said: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """How much speaks for a factor, usual ones more; then how near it is to 1."""
    times, told, _ = factor
    for ratio, weight in said:
        # What lies a share of _REACH apart has nothing to say for it; what lies nearer, in proportion.
        apart = ratio / times - 1 if ratio > times else times / ratio - 1
        if apart < _REACH:
            told += weight * (1 - apart / _REACH)
    return round(told, 9), round(-max(times, 1 / times), 9)


@lru_cache(maxsize=65536)
def _factor_near(ratio: Fraction) -> Factor | None:
    """The factor with small parts that is nearest to a ratio, None where it would have to be a large one."""
    near = ratio.limit_denominator(6) if ratio >= 1 else _inverse_limited(ratio)
    return _factor(near) if near > 0 and max(near.numerator, near.denominator) <= _LARGEST_PART else None


def _factor(factor: Fraction) -> Factor:
    return float(factor), _USUAL.get(factor, 0.0), factor


def _votes(a: Portion, b: Portion) -> list[Vote]:
    if a.shared or b.shared:
        return []
    ratio = amount_ratio(a.ingredient, b.ingredient)
    if ratio is None:
        return []
    weight = 0.5 if a.thing != b.thing else 1.0
    if ratio.approximate:
        weight *= 0.8
    if a.part in ("spice", "herb", "seasoning", "salt") or _is_pinch(a) or _is_pinch(b):
        weight *= _SEASONING
    return [(ratio.value, weight)]


def _is_pinch(portion: Portion) -> bool:
    return portion.ingredient.unit in ("teaspoon", "pinch", "dash")


def _yields(a: Card, b: Card) -> Vote | None:
    if a.serves and b.serves:
        return _middle(b.serves) / _middle(a.serves), YIELD
    if a.makes and b.makes and a.makes.what.rstrip("s") == b.makes.what.rstrip("s"):
        one, other = Amount(a.makes.low, a.makes.high), Amount(b.makes.low, b.makes.high)
        return _middle(other) / _middle(one), YIELD
    return None


def _pans(a: Pan | None, b: Pan | None) -> Vote | None:
    if a is None or b is None:
        return None
    one, other = pan_volume_ml(a), pan_volume_ml(b)
    if not one or not other:
        return None
    return Fraction(other) * b.count / (Fraction(one) * a.count), 0.25


def _middle(amount: Amount) -> Fraction:
    return max(amount.middle, Fraction(1, 100))


def _inverse_limited(ratio: Fraction) -> Fraction:
    turned = (1 / ratio).limit_denominator(6) if ratio else Fraction(0)
    return 1 / turned if turned else Fraction(0)
