"""A whole ingredient line as the kitchen reads it, at whatever batch its amounts stand."""

import re
from fractions import Fraction

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.model import Alternative, Amount, Ingredient, Measure
from recipebox.measures.kitchen import kitchen, kitchen_range
from recipebox.measures.shown import Shown
from recipebox.measures.units import Measures
from recipebox.measures.written import plural

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
    if amount.low == amount.high:
        return kitchen(amount.low, unit, item, which)
    return kitchen_range(amount.low, amount.high, unit, item, which)


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
    item = _in_number(line)
    at = line.text.find(line.item) if line.item else -1
    behind = line.text[at + len(line.item) :]
    # "7 garlic cloves": the unit stands behind the item and is told before it now.
    unit_behind = line.unit is not None and behind.lstrip().lower().startswith(line.unit.lower()[:4])
    if at >= 0 and not scaled_inside and not unit_behind:
        return f"{item}{behind}"
    words = [item]
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


def _in_number(line: Ingredient) -> str:
    """The item of a thing counted, singular for one or less and plural for more, where the batch changed which it is.

    The card's own words stand where they fit: only an item written for one, or for many, is bent.
    """
    written = read_amount(line.text)
    if line.unit is not None or line.amount is None or written is None:
        return line.item
    was_one, is_one = written[0].high <= 1, line.amount.high <= 1
    if was_one == is_one:
        return line.item
    head, *rest = re.split(r"(?= with | in | of | for | and | or )", line.item, maxsplit=1)
    *before, noun = head.split(" ")
    bent = _singular(noun) if is_one else _plural(noun)
    return " ".join([*before, bent]) + "".join(rest)


def _plural(noun: str) -> str:
    if noun.endswith(("s", "fish", "shrimp", "corn", "rice", "squash", "salmon", "cod")):
        return noun
    if re.search(r"[^aeiou]y$", noun):
        return f"{noun[:-1]}ies"
    if noun.endswith(("leaf", "loaf", "half")):
        return f"{noun[:-1]}ves"
    return f"{noun}es" if noun.endswith(("ch", "sh", "x", "potato", "tomato", "mango")) else f"{noun}s"


def _singular(noun: str) -> str:
    if noun.endswith("ies"):
        return f"{noun[:-3]}y"
    if noun.endswith(("leaves", "loaves", "halves")):
        return f"{noun[:-3]}f"
    if noun.endswith(("ches", "shes", "xes", "toes", "goes")):
        return noun[:-2]
    return noun[:-1] if noun.endswith("s") and not noun.endswith(("ss", "us", "is")) else noun


def _other(one: Alternative, which: Measures | None, parts: list[Shown]) -> str:
    if one.amount is None:
        return one.item
    part = _range(one.amount, one.unit, one.item, which)
    parts.append(part)
    return f"{part.text} {one.item}"
