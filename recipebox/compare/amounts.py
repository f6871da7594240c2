"""Whether two lines ask for the same amount."""

from dataclasses import replace
from fractions import Fraction

from recipebox.cards.model import Amount, Ingredient
from recipebox.compare.model import Kind
from recipebox.measures import Ratio, compare_amounts

TOLERANCE = Fraction(4, 100)
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
    low = amount_ratio(_end(a, a.amount.low), _end(b, b.amount.low))
    high = amount_ratio(_end(a, a.amount.high), _end(b, b.amount.high))
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


def amount_ratio(a: Ingredient, b: Ingredient) -> Ratio | None:
    """How many times the amount of `a` is in `b`, None where they have no common footing or one is nothing."""
    if a.amount is None or b.amount is None:
        return None
    ratio = compare_amounts(a, b)
    return ratio if ratio is not None and ratio.value > 0 else None


def _end(line: Ingredient, end: Fraction) -> Ingredient:
    """The line with one end of its range as its amount."""
    return (
        line if line.amount is None or line.amount.low == line.amount.high else replace(line, amount=Amount(end, end))
    )
