"""The printed size of what is counted: 1 (14.5 oz) can, 2 14-oz. cans, 1 x 400 g tin, a 10-ounce package."""

from recipebox.cards.amounts import read_amount
from recipebox.cards.measureparts import Measured, measure_at, skip, skip_sizes
from recipebox.cards.measurewords import ABOUT, ALSO, BRACKET, CLOSE, NUMBERED, SPACES, THICK, TIMES
from recipebox.cards.model import Amount, Measure
from recipebox.cards.unitwords import is_container, is_measure, read_unit


def joined_size(words: str, at: int, found: Measured) -> int | None:
    """Where the unit of "1-8 oz. pkg." or "2 – 15 oz cans" ends: no range, but a count and a printed size."""
    amount = found.amount
    if (
        amount is None
        or amount.low is amount.high
        or amount.low.denominator != 1
        or amount.low > 9
        or amount.high < 3 * amount.low
    ):
        return None
    unit = read_unit(words, skip(words, at))
    if unit is None or unit[0] not in ("ounce", "gram", "fluid ounce", "millilitre"):
        return None
    holder = read_unit(words, skip_sizes(words, skip(words, unit[1])))
    if holder is None or not is_container(holder[0]):
        return None
    found.container = Measure(Amount(amount.high, amount.high), unit[0])
    found.amount, found.unit = Amount(amount.low, amount.low), holder[0]
    return holder[1]


def printed_size(words: str, at: int, found: Measured) -> int:
    """A printed size between amount and unit: 1 (14.5 oz) can, 2 14-oz. cans, 1 x 400 g tin, a 10-ounce package."""
    if numbered := NUMBERED.match(words, at):
        found.unit, found.size = "can", numbered[1].strip()
        return numbered.end()
    times = TIMES.match(words, at)
    bracket = None if times else BRACKET.match(words, at)
    joint = times or bracket or SPACES.match(words, at)
    start = joint.end() if joint else at
    if bracket and (lead := ABOUT.match(words, start)):
        start = lead.end()
    size = read_amount(words[start : start + 60]) if start > at or bracket else None
    if size is None:
        return at
    unit = read_unit(words, skip(words, start + size[1]))
    if unit is None or not is_measure(unit[0]):
        return at
    end = _close(words, unit[1]) if bracket else skip(words, _other_system(words, unit[1]))
    if end is None:
        return at
    found_container = Measure(size[0], unit[0])
    holder = read_unit(words, skip_sizes(words, end))
    hyphen = words[start + size[1] : start + size[1] + 1] == "-"
    if holder and not is_measure(holder[0]):
        found.unit, found.container = holder[0], found_container
        return holder[1]
    counted = (
        found.amount is not None and unit[0] in ("pound", "kilogram") and joint is not None and joint.group() == " "
    )
    if times or bracket or hyphen or counted or words[:at].strip().lower() in ("a", "an", "one"):
        found.container = found_container
        return end
    return at


def _other_system(words: str, at: int) -> int:
    """Behind the same size in another system: "2.5kg/5lb 8oz"."""
    while words[at : at + 1] == "/":
        same = measure_at(words, at + 1)
        if same is None or not is_measure(same[0].unit):
            break
        more = measure_at(words, skip(words, same[1]))
        at = more[1] if more and is_measure(more[0].unit) else same[1]
    return at


def _close(words: str, at: int) -> int | None:
    """Behind the bracket of a printed size: "(8 oz/225 g)", "(1/2 inch thick)"; None if other words stand in it."""
    also = ALSO.match(words, at)
    second = measure_at(words, also.end()) if also else None
    at = second[1] if second else at
    thick = THICK.match(words, at)
    close = CLOSE.match(words, thick.end() if thick else at)
    return close.end() if close else None
