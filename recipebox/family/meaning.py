"""Versions as a cook means them, where the words of a line alone do not tell: names, minced meat, oven words.

What cooks mean by such words is common practice, no source. The lines keep their own text.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import part_in_dish

_MINCED = re.compile(r"\b(?:minced|ground)\b", re.IGNORECASE)
_AS_SOLD = re.compile(
    r"\s+(?:on|off) the bone$|\s+of (?:your )?choice$|\s+in (?:oil|brine|(?:their )?juice)$", re.IGNORECASE
)
_HEAT_FIRST = re.compile(r"^(?:the\s+)?(?:bake|oven)(?:\s+(?:at|to|on))?[:,]?\s+(?=\d|gas)", re.IGNORECASE)


def as_meant(versions: Sequence[Card]) -> list[Card]:
    """The same cards with shorter names, and items named as what goes into the dish. Doing it again changes nothing.

    "Heike (after Wanda)" is Heike where no other version is; "minced" before beef makes it minced beef; "Oven 190C" is
    190C.
    """
    names = _names(versions)
    return [
        replace(
            card,
            name=names[card.called],
            ingredients=tuple(_meant(line) for line in card.ingredients),
            oven=tuple(replace(bake, text=_HEAT_FIRST.sub("", bake.text)) for bake in card.oven),
        )
        for card in versions
    ]


def _names(versions: Sequence[Card]) -> dict[str, str]:
    """A name each, without what stands in brackets where that still tells it apart, and not shouted."""
    bare = {card.called: re.sub(r"\s*\([^()]*\)\s*$", "", card.name).strip() or card.name for card in versions}
    count = Counter(name.casefold() for name in bare.values())
    named = {
        card.called: card.name if count[bare[card.called].casefold()] > 1 else bare[card.called] for card in versions
    }
    return {called: name.title() if name.isupper() and len(name) > 2 else name for called, name in named.items()}


def _meant(line: Ingredient) -> Ingredient:
    if len(line.items) > 1 or not line.item:
        return line
    bare = _AS_SOLD.sub("", line.item)
    if bare != line.item and bare:
        sold = line.item[len(bare) :].strip()
        line = replace(line, item=bare, items=(bare,), preparation=", ".join(filter(None, (sold, line.preparation))))
    preparation = line.preparation or ""
    if _MINCED.search(preparation) and part_in_dish(f"ground {line.item}") == "ground meat":
        rest = ", ".join(words for words in preparation.split(", ") if not _MINCED.search(words))
        return replace(_named(line, f"minced {line.item}"), preparation=rest or None)
    return line


def _named(line: Ingredient, item: str) -> Ingredient:
    return replace(line, item=item, items=(item,), preparation=None)
