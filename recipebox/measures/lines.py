"""A whole ingredient line as the kitchen reads it, at whatever batch its amounts stand."""

import re
from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.cards.model import Alternative, Amount, Ingredient, Measure
from recipebox.measures.kitchen import Shown, kitchen, plural
from recipebox.measures.units import Measures

_NUMBER = re.compile(r"[\d /.]+ ")


def shown_line(line: Ingredient, which: Measures | None = None) -> Shown:
    """The whole line with its amounts rounded as `kitchen` does; `error` is the largest of the line, sign kept.

    `amount` is the low end shown. A line without an amount, or a heading, comes as written. Numbers inside a remark
    stand as written: they were not understood as amounts of this line.
    """
    if line.kind != "ingredient" or line.amount is None or line.amount.low <= 0:
        return Shown(line.text, Fraction(0), line.unit, Fraction(0))
    main = _range(line.amount, line.unit, line.item, which)
    parts = [main, *(_range(more.amount, more.unit, line.item, which) for more in line.plus)]
    words = [_as_told(line.how, " plus ".join(part.text for part in parts))]
    aside = []
    if line.container is not None:
        aside.append(_printed(line.container))
    for same in line.also:
        part = _range(same.amount, same.unit, line.item, which)
        parts.append(part)
        aside.append(part.text)
    words += [f"({one})" for one in aside]
    words.append(_rest(line, which, parts))
    error = max((part.error for part in parts), key=abs)
    return Shown(" ".join(words), main.amount, line.unit, error)


def awkward(line: Ingredient) -> str | None:
    """What to do with half an egg or part of a can that a batch asks for; None where the line is easy."""
    if line.kind != "ingredient" or line.amount is None or line.amount.low.denominator == 1:
        return None
    words = line.item.lower().split()
    if line.unit is None and ("egg" in words or "eggs" in words):
        part = line.amount.low % 1
        spoons = kitchen(part * 2, "tablespoon", "egg")
        return (
            f"{write_amount(line.amount.low)} eggs: beat one and take about {spoons.text} of it "
            "(a large egg is about 2 Tbsp beaten: University of Nebraska-Lincoln Extension)"
        )
    if line.unit in ("can", "jar", "package", "packet", "envelope", "box", "carton"):
        return f"{write_amount(line.amount.low)} {plural(line.unit, line.amount.low)}: part of one is left over"
    return None


def _as_told(how: str | None, measured: str) -> str:
    """The amount with how it is meant: "about 2 cups", "2 heaped Tbsp"."""
    if not how or how == "to taste" or how in measured:
        return measured
    number = _NUMBER.match(measured)
    if how == "about" or number is None or "+" in measured or "plus" in measured:
        return f"{how} {measured}"
    return f"{number.group()}{how} {measured[number.end() :]}"


def _range(amount: Amount, unit: str | None, item: str, which: Measures | None) -> Shown:
    if amount.low <= 0 or amount.high <= 0:
        return Shown(_as_is(amount, unit), amount.low, unit, Fraction(0))
    low = kitchen(amount.low, unit, item, which)
    if amount.low == amount.high:
        return low
    high = kitchen(amount.high, unit, item, which)
    error = max(low.error, high.error, key=abs)
    if low.text == high.text:
        return Shown(low.text, low.amount, unit, error)
    head, _, tail = low.text.rpartition(" ")
    same_unit = (
        head and tail.rstrip("s") == high.text.rpartition(" ")[2].rstrip("s") and "+" not in low.text + high.text
    )
    return Shown(f"{head if same_unit else low.text} to {high.text}", low.amount, unit, error)


def _as_is(amount: Amount, unit: str | None) -> str:
    ends = write_amount(amount.low)
    if amount.high != amount.low:
        ends += f" to {write_amount(amount.high)}"
    return f"{ends} {plural(unit, amount.high)}" if unit else ends


def _printed(size: Measure) -> str:
    """A printed size, never rounded: it is what the shop sells."""
    return _as_is(size.amount, size.unit)


def _rest(line: Ingredient, which: Measures | None, parts: list[Shown]) -> str:
    """Everything after the amounts: as written where the item is found in the text, else from the data."""
    scaled_inside = bool(line.instead) or bool(line.also) or bool(line.plus)
    at = line.text.find(line.item) if line.item else -1
    if at >= 0 and not scaled_inside:
        return line.text[at:]
    words = [line.item]
    if line.preparation:
        words[-1] += f", {line.preparation}"
    if line.purpose:
        words.append(line.purpose)
    words += ["or " + " plus ".join(_other(one, which, parts) for one in group) for group in line.instead]
    if line.optional:
        words.append("(optional)")
    if line.remark:
        words.append(f"({line.remark})")
    return " ".join(words)


def _other(one: Alternative, which: Measures | None, parts: list[Shown]) -> str:
    if one.amount is None:
        return one.item
    part = _range(one.amount, one.unit, one.item, which)
    parts.append(part)
    return f"{part.text} {one.item}"
