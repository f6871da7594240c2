"""A line or a whole card at another size, exactly; rounding comes only when it is shown."""

from dataclasses import replace
from fractions import Fraction

from recipebox.cards.model import Alternative, Amount, Card, Ingredient, Makes, Measure
from recipebox.measures.units import MeasureError, Number, exact


def scale_ingredient(line: Ingredient, factor: Number) -> Ingredient:
    """The line with every amount times `factor`, exactly. `text` stays as written; a can's printed size stays.

    Raises MeasureError for a factor that is no number or not above 0.
    """
    factor = _checked(factor)
    return replace(
        line,
        amount=_times(line.amount, factor),
        plus=tuple(_measure(more, factor) for more in line.plus),
        also=tuple(_measure(same, factor) for same in line.also),
        instead=tuple(tuple(_alternative(one, factor) for one in group) for group in line.instead),
    )


def scale_card(card: Card, factor: Number) -> Card:
    """The card at `factor` times its batch, exactly: ingredients, serves, makes, what some add and the variations.

    Pans, ovens and times stay: they do not grow with the batch. Raises MeasureError for a factor not above 0.
    """
    factor = _checked(factor)
    makes = card.makes and Makes(card.makes.low * factor, card.makes.high * factor, card.makes.what)
    return replace(
        card,
        serves=_times(card.serves, factor),
        makes=makes,
        ingredients=tuple(scale_ingredient(line, factor) for line in card.ingredients),
        some_add=tuple(replace(more, ingredient=scale_ingredient(more.ingredient, factor)) for more in card.some_add),
        variations=tuple(
            replace(other, ingredients=tuple(scale_ingredient(line, factor) for line in other.ingredients))
            for other in card.variations
        ),
    )


def _checked(factor: Number) -> Fraction:
    times = exact(factor)
    if times <= 0:
        raise MeasureError(f"a batch cannot be {factor} times itself: give a number above 0, for example 2 or 1/2")
    return times


def _times(amount: Amount | None, factor: Fraction) -> Amount | None:
    return amount and Amount(amount.low * factor, amount.high * factor)


def _measure(measure: Measure, factor: Fraction) -> Measure:
    return Measure(Amount(measure.amount.low * factor, measure.amount.high * factor), measure.unit)


def _alternative(one: Alternative, factor: Fraction) -> Alternative:
    return replace(one, amount=_times(one.amount, factor))
