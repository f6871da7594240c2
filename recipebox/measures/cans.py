"""What an unsized can of something holds, by can_sizes.csv, and whether ounces of a thing are fluid."""

import re
from fractions import Fraction
from functools import lru_cache

from recipebox.cards.things import thing
from recipebox.tables.load import rows

# What a US shop sells by the fluid ounce; all else is sold by weight: common practice, no source.
_LIQUIDS = frozenset(
    re.findall(
        r"\S+",
        """milk buttermilk cream broth stock bouillon consomme juice water wine beer ale cider vinegar oil coffee tea
        rum brandy sherry vodka whiskey bourbon liqueur soda cola lemonade extract half-and-half eggnog nectar""",
    )
)
_NOT_LIQUID = frozenset(
    re.findall(
        r"\S+",
        """sour ice condensed sweetened dry dried powdered powder whipped clotted cube""",
    )
)
_ITEM_LIQUIDS = frozenset({"corn syrup", "maple syrup", "light corn syrup", "dark corn syrup", "coconut milk"})
_EVAPORATED = "evaporated"
_NUMBERED = re.compile(r"(?:\bno\.?\s?|\bnumber\s|#)(\d{1,3}(?: 1/2)?)(?!\d)", re.IGNORECASE)


@lru_cache(maxsize=16384)
def is_fluid(item: str) -> bool:
    """Whether ounces of this item are fluid ounces ("8 oz milk") or weight ("8 oz cheese")."""
    name = thing(item)
    words = name.replace("half and half", "half-and-half").split()
    if name in _ITEM_LIQUIDS:
        return True
    if not words or words[-1] not in _LIQUIDS:
        return False
    return _EVAPORATED in words or not _NOT_LIQUID & set(words)


@lru_cache(maxsize=16384)
def can_grams(item: str, text: str) -> tuple[Fraction, str, str] | None:
    """Grams in one can whose size is not printed, with the row and its source; the middle of a range.

    By its trade number ("No. 303 can"), else by what the row says it is used for, when the whole use is named. The
    first row read in its source stands before rows from memory. None when no row tells.
    """
    numbered = _NUMBERED.search(text)
    if numbered:
        number = f"No. {numbered[1]}"
        for row in _by_trust():
            if row["can_name"] == number or row["can_name"].startswith(f"{number} ("):
                return _grams(row)
    words = set(thing(item).split())
    for row in _by_trust():
        kinds = row["can_name"].split(" can")
        named = set(thing(kinds[0]).split()) if len(kinds) > 1 else set()
        if named and named <= words and not named & {"large", "vegetable"}:
            return _grams(row)
    return None


def _by_trust() -> list[dict[str, str]]:
    return sorted(rows("can_sizes"), key=lambda row: row["basis"] == "memory")


def _grams(row: dict[str, str]) -> tuple[Fraction, str, str]:
    ends = [Fraction(end) for end in row["avg_net_weight_g"].split("-")]
    return sum(ends, Fraction(0)) / len(ends), f"{row['can_name']}: {row['avg_net_weight_g']} g", row["source"]
