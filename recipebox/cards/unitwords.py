"""Unit words in every spelling a card may hold, to one canonical spelling."""

import re
from functools import cache

from recipebox.tables import rows

# Counting words that kitchen_units.csv has not, with their canonical form: common practice, no source.
_COUNTED = """
stick pat knob wedge strand ball bar block tube roll spray scoop splash drizzle glug squeeze sprinkle sprinkling
shake grind twist segment floret spear round half quarter chunk lump nub bulb root stem crown rack brick pot tray
punnet basket case sack pouch drum jug glass mug bowl plate pan recipe batch part shot measure coup cone hunk
twig branch medallion cutlet tail bit layer portion serving peel disc disk patty double-handful fistful thumb
nugget crouton wheel log fifth keg six-pack pack
""".split()
_IRREGULAR = {
    "leaf": "leaves", "loaf": "loaves", "half": "halves", "knife": "knives", "box": "boxes", "bunch": "bunches",
    "pinch": "pinches", "dash": "dashes", "splash": "splashes", "glass": "glasses", "squeeze": "squeezes",
    "batch": "batches", "branch": "branches", "patty": "patties", "inch": "inches", "pouch": "pouches",
}  # fmt: skip
_EXTRA = {
    "stick": ["stk", "stks"],
    "inch": ["in", "in.", '"', "”", "''"],
    "centimetre": ["cm", "centimeter", "centimeters", "centimetres"],
    "millimetre": ["mm", "millimeter", "millimeters", "millimetres"],
    "package": ["pkge", "pkge.", "pkgs.", "pk", "pk.", "pkt.", "packages", "pack", "packs"],
    "ounce": ["oz", "ozs.", "ounce"],
    "can": ["canned"],
    "bunch": ["bn", "bch"],
    "cup": ["cups.", "cp"],
    "fluid ounce": ["fl ozs", "fluid-ounce", "fluid-ounces", "fl.ozs"],
    "tablespoon": [
        "TBSP",
        "TBSP.",
        "TBS",
        "tbsps",
        "tbsps.",
        "Tbsps",
        "tablespoon.",
        "table spoon",
        "table spoons",
        "Tbl",
    ],
    "teaspoon": ["TSP", "Tsp", "Tsp.", "tsps.", "tea spoon", "tea spoons", "teaspoon."],
    "envelope": ["envs", "env."],
    "container": ["ctr", "cont."],
    "gram": ["grm", "grms", "Gramm"],
    "Esslöffel": ["Eßlöffel", "Esslöffeln"],
    "litre": ["ltr.", "Liter"],
    "Prise": ["Prisen"],
    "pincée": ["pincées"],
    "spiseskje": ["ss", "spiseskjeer", "spsk", "spiseske", "spiseskeer"],
    "teskje": ["ts", "teskjeer", "teske", "teskeer"],
}
_CONTAINERS = frozenset(
    """can jar bottle package packet envelope box bag carton container tube roll pot tray punnet basket case sack
    pouch drum jug block bar brick log tub loaf""".split()
)
_LONE_LETTERS = frozenset("tTcClLgG#")
_WORD = re.compile(r"[^\W\d_]+(?:[.](?=[\s)/,]|$))?|#|\"|”|''")
_END = re.compile(r"(?![^\W\d_])")


def read_unit(words: str, at: int = 0) -> tuple[str, int] | None:
    """The canonical unit written at `at`, and where its word ends; None if none stands there.

    Case tells T (tablespoon) from t (teaspoon); other words are read in either case.
    """
    match = _WORD.match(words, at)
    if match is None:
        return None
    first = match.group()
    exact, folded, longer = _spellings()
    for alias, unit in longer.get(first.rstrip(".").lower(), ()):
        if words[at : at + len(alias)].lower() == alias and _END.match(words, at + len(alias)):
            return unit, at + len(alias)
    end = match.end()
    if first in exact:
        return exact[first], end
    bare = first.rstrip(".")
    unit_found = exact.get(bare) or folded.get(bare.lower())
    return None if unit_found is None else (unit_found, end)


def is_container(unit: str | None) -> bool:
    """Whether the unit is something a shop sells filled, so that a printed size belongs to each."""
    return unit in _CONTAINERS


def is_measure(unit: str | None) -> bool:
    """Whether the unit measures volume, weight or length rather than counting things."""
    return unit in _measures()


@cache
def _measures() -> frozenset[str]:
    named = {row["unit"] for row in rows("kitchen_units") if row["dimension"] in ("volume", "mass")}
    return frozenset(named | {"inch", "centimetre", "millimetre", "spiseskje", "teskje", "Prise", "pincée"})


@cache
def _spellings() -> tuple[dict[str, str], dict[str, str], dict[str, tuple[tuple[str, str], ...]]]:
    """Spellings of one word as written, in lower case, and those of several words by their first word."""
    exact: dict[str, str] = {}
    folded: dict[str, str] = {}
    several: dict[str, list[tuple[str, str]]] = {}
    for alias, unit in _aliases():
        if " " in alias or "." in alias.rstrip("."):
            first = re.split(r"[.\s]", alias)[0].lower()
            several.setdefault(first, []).append((alias.lower(), unit))
            continue
        exact.setdefault(alias, unit)
        if alias not in _LONE_LETTERS and alias.rstrip(".") not in ("EL", "TL", "in"):
            folded.setdefault(alias.rstrip(".").lower(), unit)
    for letter, unit in {"C": "cup", "L": "litre", "G": "gram"}.items():
        exact.setdefault(letter, unit)
    ordered = {first: tuple(sorted(some, key=lambda pair: -len(pair[0]))) for first, some in several.items()}
    return exact, folded, ordered


def _aliases() -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    for row in rows("kitchen_units"):
        unit = row["unit"]
        if "(" in unit or " of " in unit or "size of" in unit or unit == "each":
            continue
        found.append((unit, unit))
        found += [(alias, unit) for alias in row["aliases"].split(";") if alias]
    for unit, aliases in _EXTRA.items():
        found.append((unit, unit))
        found += [(alias, unit) for alias in aliases]
    for unit in [*_COUNTED, "leaf", "loaf", "bunch", "pinch", "dash", "box", "inch"]:
        found.append((unit, unit))
        found.append((_IRREGULAR.get(unit, unit + "s"), unit))
    return found


@cache
def system(unit: str | None) -> tuple[str, str]:
    """Dimension and family (metric or customary) of a unit, to tell "1 lb 4 oz" from "1 lb 450 g"."""
    metric = {"gram", "kilogram", "milligram", "millilitre", "centilitre", "decilitre", "litre"}
    dimensions = {row["unit"]: row["dimension"] for row in rows("kitchen_units")}
    return dimensions.get(unit or "", "count"), "metric" if unit in metric else "customary"
