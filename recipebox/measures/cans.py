"""What an unsized can of something holds, by can_sizes.csv, and whether ounces of a thing are fluid."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from recipebox.cards.things import thing
from recipebox.measures.units import known_unit
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
_NUMBERED = re.compile(r"(?:\bno\.?\s?|\bnumber\s|#)(?=\d)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class CanSize:
    """What a can holds by one row: `grams`, and `ml` where the row gives cups; the middle of a range.

    `basis` is seen, checked or memory, as in the table.
    """

    grams: Fraction
    ml: Fraction | None
    table_row: str
    source: str
    basis: str


@lru_cache(maxsize=16384)
def is_fluid(item: str) -> bool:
    """Whether ounces of this item are fluid ounces ("8 oz milk") or weight ("8 oz cheese")."""
    name = thing(item)
    words = name.replace("half and half", "half-and-half").split()
    if name in _ITEM_LIQUIDS:
        return True
    if not words or words[-1] not in _LIQUIDS:
        return False
    return not _NOT_LIQUID & {*words, *re.findall(r"\w+", item.lower())}


def can_sizes(name: str) -> tuple[CanSize, ...]:
    """All rows of can_sizes.csv for a can by its name in the table ("No. 303"), recalled rows last.

    Sources differ; the first is the one used. Empty where no row has that name.
    """
    return tuple(_size(row) for row in _by_trust() if row["can_name"] == name)


def numbered_can(text: str) -> CanSize | None:
    """The can that a line calls by its trade number ("1 No. 303 can"); None without a number that the table has.

    The first row read in its source stands before rows from memory, since sources differ a little.
    """
    numbered = _NUMBERED.search(text)
    if numbered is None:
        return None
    said = " ".join(text[numbered.end() :].lower().replace("½", " 1/2").split())
    fitting = [row for row in _by_trust() if (name := _trade_name(row)) and re.match(rf"{re.escape(name)}(?!\d)", said)]
    # "2 cylinder" says more than "2"; of equals the first stands, and max keeps it.
    return _size(max(fitting, key=lambda row: len(_trade_name(row)))) if fitting else None


def _trade_name(row: dict[str, str]) -> str:
    """ "No. 1 (picnic)" -> "1", "No. 3 cylinder" -> "3 cylinder"; empty for a can without a number."""
    name = row["can_name"]
    return name.removeprefix("No. ").split(" (")[0] if name.startswith("No. ") else ""


@lru_cache(maxsize=16384)
def usual_can(item: str) -> CanSize | None:
    """The can a food usually comes in, where a row of can_sizes.csv is named after that food; else None."""
    words = set(thing(item).split())
    for row in _by_trust():
        kinds = row["can_name"].split(" can")
        named = set(thing(kinds[0]).split()) if len(kinds) > 1 else set()
        if named and named <= words and not named & {"large", "vegetable"}:
            return _size(row)
    return None


def _by_trust() -> list[dict[str, str]]:
    return sorted(rows("can_sizes"), key=lambda row: row["basis"] == "memory")


def _size(row: dict[str, str]) -> CanSize:
    said = f"{row['can_name']} can = {row['avg_net_weight_g']} g".replace(" can can", " can")
    cups = _middle(row["volume_cups"]) if row["volume_cups"] else None
    ml = None if cups is None else cups * known_unit("cup").size
    return CanSize(_middle(row["avg_net_weight_g"]), ml, said, row["source"], row["basis"])


def _middle(cell: str) -> Fraction:
    """The middle of "26-30" or of "12-13 2/3"; "1 3/4" is one number."""
    ends = [sum(map(Fraction, end.split()), Fraction(0)) for end in cell.split("-")]
    return sum(ends, Fraction(0)) / len(ends)
