"""How a unit is written beside an amount."""

from fractions import Fraction

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
