"""How telling a word is for which dish a card is: from the shipped table alone, never from counts in a box."""

from collections.abc import Mapping
from functools import cache, lru_cache

from recipebox.cards.things import thing
from recipebox.compare.words import stems
from recipebox.tables.load import rows

UNKNOWN = 1000  # an unknown word is telling
UNKNOWN_IN_METHOD = 500  # less so in a method, where most words are not about food


def telling(name: str) -> float:
    """How telling a food is, 0 (in every kitchen) to 1 (in hardly any). Source: tables/telling.csv."""
    return telling_thing(thing(name)) / 1000


@lru_cache(maxsize=65536)
def telling_thing(name: str) -> int:
    """As `telling`, in thousandths, of a common name.

    An unlisted name is as telling as its most telling word, and its last word by half: "plain flour" is mostly flour.
    """
    things, words = _table("thing"), _table("word")
    if name in things:
        return things[name]
    parts = stems(name)
    most = max((words.get(word, UNKNOWN) for word in parts), default=UNKNOWN)
    if len(parts) < 2:
        return most
    last = name.rsplit(" ", 1)[-1]
    return (most + things.get(last, words.get(parts[-1], UNKNOWN))) // 2


def telling_stem(stem: str) -> int:
    """How telling the stem of a word of a food's name is, in thousandths."""
    return _table("word").get(stem, UNKNOWN)


def telling_word(word: str) -> int:
    """How telling the stem of a word in a method is, in thousandths."""
    return _table("method").get(word, UNKNOWN_IN_METHOD)


def telling_title(word: str) -> int:
    """How telling the stem of a word in a title is, in thousandths."""
    return _table("title").get(word, UNKNOWN)


@cache
def _table(kind: str) -> Mapping[str, int]:
    return {row["name"]: int(row["telling"]) for row in rows("telling") if row["kind"] == kind}
