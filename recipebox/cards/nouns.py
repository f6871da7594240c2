"""English nouns for one and for more, as a shopping list writes them."""

import re

_ALIKE = ("s", "fish", "shrimp", "corn", "rice", "squash", "salmon", "cod")


def many(noun: str) -> str:
    """A noun for more than one: "leaves", "potatoes"."""
    if noun.endswith(_ALIKE):
        return noun
    if re.search(r"[^aeiou]y$", noun):
        return f"{noun[:-1]}ies"
    if noun.endswith(("leaf", "loaf", "half")):
        return f"{noun[:-1]}ves"
    return f"{noun}es" if noun.endswith(("ch", "sh", "x", "potato", "tomato", "mango")) else f"{noun}s"


def one(noun: str) -> str:
    """A noun for one: "leaf", "potato"."""
    if noun.endswith("ies"):
        return f"{noun[:-3]}y"
    if noun.endswith(("leaves", "loaves", "halves")):
        return f"{noun[:-3]}f"
    if noun.endswith(("ches", "shes", "xes", "toes", "goes")):
        return noun[:-2]
    return noun[:-1] if noun.endswith("s") and not noun.endswith(("ss", "us", "is")) else noun
