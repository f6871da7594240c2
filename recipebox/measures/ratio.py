"""How many times one line's amount is another's."""

from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.model import Ingredient
from recipebox.measures.footing import Footing, footing
from recipebox.measures.household import cut_words
from recipebox.measures.units import Measures

_SIZES = frozenset({"small", "medium", "large", "jumbo"})


@dataclass(frozen=True, slots=True)
class Ratio:
    """`value` times; `approximate` where a weight table was used on either side."""

    value: Fraction
    approximate: bool


def compare_amounts(
    a: Ingredient, b: Ingredient, a_measures: Measures | None = None, b_measures: Measures | None = None
) -> Ratio | None:
    """amount(b) / amount(a), or None where no footing is common to both or one is nothing.

    What both cards say themselves comes first: printed sizes, volume, weight, then a count of one thing. Else weights
    and volumes by table, each line by its own food's row; the result is then approximate. Never raises.
    """
    one, other = footing(a, a_measures), footing(b, b_measures)
    if one.printed and other.printed:
        return Ratio(other.printed / one.printed, approximate=False)
    for field in ("ml", "grams", "count"):
        if field in one.direct and field in other.direct and (field != "count" or _same_things(a, b, one, other)):
            return _ratio(one, other, field, approximate=False)
    for field in ("grams", "ml"):
        if getattr(one, field) is not None and getattr(other, field) is not None:
            return _ratio(one, other, field, approximate=True)
    return None


def _same_things(a: Ingredient, b: Ingredient, one: Footing, other: Footing) -> bool:
    """Whether two counts are of the same: a large onion is no small one, but an onion of no size may be either."""
    sizes = [_SIZES & cut_words(line.item, line.preparation) for line in (a, b)]
    known = one.grams is not None and other.grams is not None
    return one.counted == other.counted and not (known and all(sizes) and sizes[0] != sizes[1])


def _ratio(one: Footing, other: Footing, field: str, approximate: bool) -> Ratio | None:
    first: Fraction | None = getattr(one, field)
    second: Fraction | None = getattr(other, field)
    if not first or not second or first < 0 or second < 0:
        return None
    return Ratio(second / first, approximate)
