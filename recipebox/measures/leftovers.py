"""Things that a batch asks for in parts and that come whole: eggs, and what is sold shut."""

from fractions import Fraction

from recipebox.cards.model import Amount, Ingredient
from recipebox.cards.things import thing
from recipebox.measures.kitchen import kitchen
from recipebox.measures.shown import nearest_step
from recipebox.measures.written import PARTS, about, as_it_is, plural

# What is sold shut and opened whole.
_SHUT = ("can", "jar", "package", "packet", "envelope", "box", "carton", "bottle", "bag", "container")


def awkward(line: Ingredient) -> str | None:
    """What to do with half an egg or part of a can that a batch asks for; None where the line is easy."""
    if line.kind != "ingredient" or line.amount is None or line.amount.low <= 0:
        return None
    exact = next((end for end in (line.amount.low, line.amount.high) if end.denominator > 1), None)
    if exact is None:
        return None
    # What no cook writes goes as the line is shown: 5.48 eggs are 5 1/2, 10.97 are 11.
    wanted = exact if exact.denominator <= PARTS else kitchen(exact, line.unit, line.item).amount
    whole, part = divmod(wanted, 1)
    if not part:
        return None
    words = thing(line.item).split()
    if line.unit is None and "egg" in words[-2:] and words[-1] in ("egg", "white", "yolk"):
        use = f"use {whole}, then " if whole else ""
        if words[-1] != "egg":
            return f"{about(wanted)} {line.item}: {use}beat one and take about {about(part)} of it"
        spoons = kitchen(part * 2, "tablespoon", "egg")
        eggs = f"{about(wanted)} {'egg' if wanted <= 1 else 'eggs'}"
        return (
            f"{eggs}: {use}beat one and take about {spoons.text} of it "
            "(a large egg is about 2 Tbsp beaten: University of Nebraska-Lincoln Extension)"
        )
    if line.unit not in _SHUT:
        return None
    told = f"{about(wanted)} {plural(line.unit, wanted)}: open {whole + 1}"
    if line.container is None or line.container.amount.low != line.container.amount.high:
        return f"{told}; {about(1 - part)} of one is left over"
    size, unit = line.container.amount.low, line.container.unit
    used, left = (_even(size * some, unit) for some in (exact, whole + 1 - exact))
    return f"{told} and use {used} in all; {left} is left over"


def _even(amount: Fraction, unit: str | None) -> str:
    """To the gram, millilitre or eighth of another unit, "about" where that is not exact."""
    step = Fraction(1) if unit in ("gram", "millilitre") else Fraction(1, 4) if amount > 4 else Fraction(1, 8)
    shown = nearest_step(amount, step)
    words = as_it_is(Amount(shown, shown), unit)
    return words if abs(shown / amount - 1) <= Fraction(1, 50) else f"about {words}"
