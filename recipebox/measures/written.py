"""How units, amounts and things counted are written."""

from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.cards.model import Amount

_SHORT = {
    "teaspoon": "tsp",
    "tablespoon": "Tbsp",
    "fluid ounce": "fl oz",
    "ounce": "oz",
    "pound": "lb",
    "gram": "g",
    "kilogram": "kg",
    "milligram": "mg",
    "millilitre": "ml",
    "centilitre": "cl",
    "decilitre": "dl",
    "litre": "l",
    "centimetre": "cm",
    "millimetre": "mm",
}
_IRREGULAR = {
    "leaf": "leaves",
    "loaf": "loaves",
    "half": "halves",
    "inch": "inches",
    "foot": "feet",
    "dozen": "dozen",
    "Esslöffel": "Esslöffel",
    "Teelöffel": "Teelöffel",
    "cuillère à soupe": "cuillères à soupe",
    "cuillère à café": "cuillères à café",
    "matsked": "matskedar",
    "tesked": "teskedar",
    "kryddmått": "kryddmått",
    "butter the size of an egg": "times butter the size of an egg",
    "butter the size of a walnut": "times butter the size of a walnut",
}


PARTS = 24  # no cook writes a finer part of a whole


def plural(name: str, amount: Fraction) -> str:
    """A unit's written form beside an amount: "cups", "tsp", "leaves"."""
    if name in _SHORT:
        return _SHORT[name]
    owner, _, spoon = name.rpartition(" ")
    if spoon in ("teaspoon", "tablespoon"):
        return f"{owner} {_SHORT[spoon]}"
    if amount <= 1 or name[-1:] == "s" or not name[-1:].isascii():
        return name
    if name in _IRREGULAR:
        return _IRREGULAR[name]
    if name.endswith(")"):
        word, _, aside = name.partition(" (")
        return f"{word}s ({aside}"
    return f"{name}es" if name.endswith(("ch", "sh", "x")) else f"{name}s"


def decimal(number: Fraction) -> str:
    """A number to the third decimal, no trailing zeros: "1.5"."""
    whole, rest = divmod(number, 1)
    if not rest:
        return str(whole)
    thousandths = int(rest * 1000)
    return f"{whole}.{thousandths:03d}".rstrip("0")


def about(number: Fraction) -> str:
    """A number for a person: as a cook writes it if it has a kitchen's parts, else "about" and two decimals."""
    if number.denominator <= PARTS:
        return write_amount(number)
    rounded = Fraction(round(number * 100), 100)
    return f"about {decimal(rounded)}" if rounded else "less than 0.01"


def as_it_is(amount: Amount, unit: str | None) -> str:
    """An amount or a range with its unit, not rounded: "14 1/2 oz", "2 to 3"."""
    ends = write_amount(amount.low)
    if amount.high != amount.low:
        ends += f" to {write_amount(amount.high)}"
    return f"{ends} {plural(unit, amount.high)}" if unit else ends
