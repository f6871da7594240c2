"""Names of foods brought to one common name, and the part a food plays in a dish.

The names are recipebox/tables/item_names.csv and food_groups.csv (common practice, no source), then the synonyms of
household_weights.csv. Where British and American kitchens differ, the American word stands for both.
"""

import re
from collections.abc import Iterator
from functools import cache, lru_cache

from recipebox.cards.accents import without_accents
from recipebox.cards.foodwords import DONE, KINDS, LIQUIDS, PAIRS, PLAIN_PLURALS, SPELLINGS, STATES, WARMTH
from recipebox.tables import rows

_WORDS = re.compile(r"[a-z]+|\d+%?")
_ASIDE = re.compile(
    r"\bwith (?:the |their |its )?(?:tops?|skins?|bones?|stems?|lea(?:f|ves)|peel|rind)\b"
    r"|\bfrom (?:an? |the |your )?(?:stale|day[- ]old|old|yesterday'?s|good|crusty|white) .*",
    re.IGNORECASE,
)
_MARKS = re.compile(r"['’`´]")
_LONGEST = 200


@lru_cache(maxsize=65536)
def thing(item: str) -> str:
    """The common name of an item, in the singular: "spuds" -> "potato", "Cheddar, grated" -> "cheddar cheese".

    Words that do not change the thing (fresh, large, chopped) are dropped; those that do (brown sugar, smoked fish)
    stay. An item nobody has listed keeps its own words. `thing(thing(item)) == thing(item)`; "" only for an item
    without letters.
    """
    found, listed = _common_name(item, _names())
    for _ in range(8):  # dropping a word may bring two together that make another name
        if listed:
            break
        before, (found, listed) = found, _common_name(found[:_LONGEST], _names())
        if found == before:
            break
    return found


def _common_name(item: str, names: dict[str, str]) -> tuple[str, bool]:
    """One step to the common name, and whether the tables list it."""
    item = _ASIDE.sub("", item).strip() or item
    words = _words(item)
    found = names.get(" ".join(words))
    if found is not None:
        return found, True
    words = _without_asides(item)
    for kept in (words, *_from_later(words), _bare(words, DONE), _bare(words, DONE | KINDS)):
        found = names.get(" ".join(kept))
        if found is not None:
            return found, True
    kept = _bare(words, DONE | KINDS)
    if len(kept) > 1 and kept[0] in WARMTH and kept[-1] in LIQUIDS:
        kept = kept[1:]
    key = " ".join(kept)
    return names.get(key, key), key in names


def same_thing(a: str, b: str) -> bool:
    """Whether two items are one thing under two names."""
    return thing(a) == thing(b)


@lru_cache(maxsize=65536)
def part_in_dish(item: str) -> str | None:
    """The part an item plays in a dish: "hard cheese", "onion family", "liquid dairy"; None where none is known.

    Where the item itself is not listed, the longest known ending decides: "Dubliner cheese" is a hard cheese.
    """
    parts, names = _parts(), _names()
    words = thing(item).split()
    for start in range(min(len(words), 8)):
        ending = " ".join(words[start:])
        found = parts.get(ending) or parts.get(names.get(ending, ending))
        if found is not None:
            return found
    return None


def is_known(item: str) -> bool:
    """Whether the tables list the item, under whatever name."""
    name = thing(item)
    return name in _names() or name in _parts()


def _words(text: str) -> list[str]:
    """The words in lower case, without accents, in the singular and in one spelling."""
    plain = without_accents(text[:_LONGEST].lower().replace("&", " and "))
    plain = _MARKS.sub("", plain)
    found = [_singular(word) for word in _WORDS.findall(plain)]
    spelt = " ".join([SPELLINGS.get(word, word) for word in found if word not in ("the", "a", "an")])
    for apart, together in PAIRS:
        while f" {apart} " in f" {spelt} ":
            spelt = f" {spelt} ".replace(f" {apart} ", f" {together} ").strip()
    return spelt.split()


def _without_asides(item: str) -> list[str]:
    """The words before the first comma or bracket, with a state named behind it before them ("rice, cooked")."""
    head, behind = re.split(r"[,;(\[]", item, maxsplit=1) if re.search(r"[,;(\[]", item) else (item, "")
    words = _words(head)
    if not words:
        return _words(item)
    states = [word for word in _words(behind)[:4] if word in STATES] if behind else []
    return [*states[:1], *words] if states and states[0] not in words else words


def _from_later(words: list[str]) -> Iterator[list[str]]:
    """The words without one, two ... that may be dropped before them: a listed name may hold such a word itself."""
    for start, word in enumerate(words[:-1]):
        if word not in DONE | KINDS or _needed(words, start):
            return
        yield words[start + 1 :]


def _bare(words: list[str], dropped: frozenset[str]) -> list[str]:
    """The words without those of `dropped`; all of them if nothing else would be left."""
    kept = [word for number, word in enumerate(words) if word not in dropped or _needed(words, number)]
    while (kept and kept[0] in ("and", "or", "of")) or kept[-1:] in (["and"], ["or"], ["of"]):
        kept = kept[1:] if kept[0] in ("and", "or", "of") else kept[:-1]
    return kept or words


def _needed(words: list[str], number: int) -> bool:
    """A dropped word that belongs to its neighbour: whole wheat, plain flour is found before this."""
    behind = words[number + 1] if number + 1 < len(words) else ""
    return words[number] in ("whole", "wild", "plain") and behind in ("wheat", "grain", "rice", "chocolate")


@cache
def _names() -> dict[str, str]:
    """Common name by every other name, all in the form of `_words`."""
    found: dict[str, str] = {}
    for row in rows("item_names"):
        name = " ".join(_words(row["name"]))
        found[name] = name
    for row in rows("item_names"):
        name = " ".join(_words(row["name"]))
        for other in row["other_names"].split(";"):
            found.setdefault(" ".join(_words(other)), name)
    for row in rows("household_weights"):
        own = _without_asides(row["ingredient"])
        others = [" ".join(_words(other)) for other in row["synonyms"].split(";")]
        head = " ".join(_words(row["ingredient"].split(",")[0]))
        if head in others:
            own = head.split()
        name = found.get(" ".join(_words(row["ingredient"]))) or found.get(" ".join(own)) or " ".join(own)
        for other in others:
            found.setdefault(other, found.get(name, name))
    found.pop("", None)
    last = {name: _last(found, name) for name in set(found.values())}
    return {other: last[name] for other, name in found.items()}


def _last(found: dict[str, str], name: str) -> str:
    """Follow names to the one that stands for itself: canned yam, canned sweet potato, sweet potato."""
    for _ in range(4):
        further, _listed = _common_name(name, found)
        if further == name:
            break
        name = further
    return name


@cache
def _parts() -> dict[str, str]:
    found: dict[str, str] = {}
    for row in rows("food_groups"):
        for name in row["things"].split(";"):
            found.setdefault(thing(name), row["part"])
            found.setdefault(" ".join(_words(name)), row["part"])
    found.pop("", None)
    return found


def _singular(word: str) -> str:
    if len(word) < 4 or not word.endswith("s") or word in PLAIN_PLURALS:
        return word
    if word.endswith("ies"):
        return (
            word[:-1] if len(word) < 6 or word in ("cookies", "brownies", "smoothies", "veggies") else word[:-3] + "y"
        )
    if word.endswith("eaves"):
        return word[:-3] + "f"
    if word.endswith("alves"):
        return word[:-3] + "f"
    if word.endswith(("toes", "goes", "shes", "ches", "xes", "sses", "noes")):
        return word[:-2]
    if word.endswith("oaves"):
        return word[:-3] + "f"
    return word if word.endswith(("ss", "us", "is")) else word[:-1]
