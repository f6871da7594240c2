"""Whether two lines ask for the same amount."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from recipebox.cards.model import Amount, Ingredient
from recipebox.compare.model import Cell, Kind, Portion
from recipebox.measures import Ratio, compare_amounts, footing, in_measures

TOLERANCE = Fraction(4, 100)
_OUNCE = Fraction("28.349523125")  # grams; NIST Handbook 44, Appendix C
_STALKS = frozenset(("stalk", "stick", "rib"))
_WHOLE = frozenset(("stalk", "head", "ear", "bulb", "piece", "whole"))
TOLERANCE_BY_WEIGHT_TABLE = Fraction(8, 100)


def amount_kind(a: Ingredient, b: Ingredient, factor: Fraction) -> Kind:
    """SAME, AMOUNT or UNCLEAR: whether `b` asks for `factor` times what `a` does.

    Equal within 4 %, within 8 % where a weight table stood between volume and weight; a range and an amount or range
    within it are equal. Two lines that name no amount are equal, one that does and one that doesn't are unclear.
    """
    if a.amount is None and b.amount is None:
        return Kind.SAME
    if a.amount is None or b.amount is None:
        return Kind.UNCLEAR
    told = [_kind(a, b, factor, ratio_of) for ratio_of in _READINGS]
    return next((kind for kind in (Kind.SAME, Kind.AMOUNT) if kind in told), Kind.UNCLEAR)


def measured_kind(a: Portion | Cell, b: Portion | Cell, factor: Fraction) -> Kind:
    """`amount_kind`, each amount in its own card's cups, spoons and pints.

    Where whose they are is only guessed, equal as written is equal too: 2 cups and 2 cups differ only where a card says
    that its cups are others.
    """
    one, other = in_measures(a.ingredient, a.whose), in_measures(b.ingredient, b.whose)
    kind = amount_kind(one, other, factor)
    guessed = any(whose is not None and whose.guessed for whose in (a.whose, b.whose))
    if kind is Kind.SAME or not guessed or (one is a.ingredient and other is b.ingredient):
        return kind
    plainly = amount_kind(a.ingredient, b.ingredient, factor)
    return plainly if plainly is Kind.SAME else kind


def amount_ratio(a: Ingredient, b: Ingredient) -> Ratio | None:
    """How many times the amount of `a` is in `b`, None where they have no common footing or one is nothing."""
    if a.amount is None or b.amount is None:
        return None
    ratio = compare_amounts(a, b) or _ounces_as_weight(a, b)
    return ratio if ratio is not None and ratio.value > 0 else None


def _kind(
    a: Ingredient, b: Ingredient, factor: Fraction, ratio_of: Callable[[Ingredient, Ingredient], Ratio | None]
) -> Kind:
    assert a.amount is not None
    assert b.amount is not None
    low = ratio_of(_end(a, a.amount.low), _end(b, b.amount.low))
    high = ratio_of(_end(a, a.amount.high), _end(b, b.amount.high))
    if low is None or high is None:
        return Kind.UNCLEAR
    slack = 1 + (TOLERANCE_BY_WEIGHT_TABLE if low.approximate or high.approximate else TOLERANCE)
    lower, higher = low.value / factor, high.value / factor
    if 1 / slack <= lower <= slack and 1 / slack <= higher <= slack:
        return Kind.SAME
    ranges = a.amount.low != a.amount.high or b.amount.low != b.amount.high
    if ranges and ((lower * slack >= 1 and higher <= slack) or (lower <= slack and higher * slack >= 1)):
        return Kind.SAME
    return Kind.AMOUNT


def _ounces_as_weight(a: Ingredient, b: Ingredient) -> Ratio | None:
    """Where an ounce of something poured, a measure by itself, meets a weight: it was weighed then too."""
    for one, other in ((a, b), (b, a)):
        grams = footing(other).grams
        if one.amount and one.unit == "ounce" and not one.container and not one.plus and grams:
            weight = one.amount.low * _OUNCE
            return Ratio(grams / weight if one is a else weight / grams, approximate=True) if weight else None
    return None


def _by_the_piece(a: Ingredient, b: Ingredient) -> Ratio | None:
    """Where 3 leeks meet 3 stalks of leek, or 2 ribs of celery 2 sticks."""
    units = {a.unit, b.unit}
    alike = units <= _STALKS or (None in units and units & _WHOLE)
    if a.amount and b.amount and alike and not (a.container or b.container or a.plus or b.plus):
        return Ratio(b.amount.low / a.amount.low, approximate=False) if a.amount.low else None
    return None


def _size_as_all(a: Ingredient, b: Ingredient) -> Ratio | None:
    """Where "1/2 tin (200 g)" says how much the half tin is, not how large the tin."""
    one, other = _by_size(a), _by_size(b)
    return None if one is a and other is b else compare_amounts(one, other)


def _by_size(line: Ingredient) -> Ingredient:
    if line.container is None or line.amount is None or line.amount.high >= 1:
        return line
    return replace(line, amount=line.container.amount, unit=line.container.unit, container=None)


def _end(line: Ingredient, end: Fraction) -> Ingredient:
    """The line with one end of its range as its amount."""
    return (
        line if line.amount is None or line.amount.low == line.amount.high else replace(line, amount=Amount(end, end))
    )


# A card that can be read in several ways agrees with another as soon as one of them does.
_READINGS = (amount_ratio, _ounces_as_weight, _by_the_piece, _size_as_all)
