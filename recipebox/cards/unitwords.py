"""Unit words in every spelling a card may hold, to one canonical spelling."""

import re
from functools import cache

from recipebox.cards.wordlists import listed
from recipebox.tables import rows

# Counting words that kitchen_units.csv has not, with their canonical form: common practice, no source.
_COUNTED = listed(
    """
stick pat knob wedge strand ball bar block tube roll spray scoop splash drizzle glug squeeze sprinkling shake grind
twist segment floret spear round chunk lump nub bulb tray punnet basket case sack pouch drum jug glass mug bowl recipe
batch part shot measure coupe coup cone hunk twig branch medallion layer portion serving fistful thumb nugget log
bundle star pot sleeve rack grating grinding scraping
"""
)
# Counting words of other kitchens, by the English word that measures know.
_ABROAD = {
    "pinch": "Prise Prisen pincée pincées nypa nypor klype klyper pizca pizcas knivspids pitada Msp Messerspitze "
    "Messerspitzen pizzico pizzichi snufje",
    "clove": "gousse gousses Zehe Zehen diente dientes klyfta klyftor fedd spicchio spicchi teentje teentjes",
    "can": "Dose Dosen boîte boîtes lata latas burk burkar boks bokser dåse dåser blik blikken scatola scatole canned",
    "package": "Packung Packungen Pck Pckg Pkg paket pakke pakker paquete paquetes paquet paquets pkge pk pack packs",
    "packet": "Päckchen Tütchen sobre sobres",
    "bunch": "Bund Bunde bouquet botte bottes mazzo mazzi manojo manojos knippa knippe bn bch",
    "slice": "Scheibe Scheiben tranche tranches rebanada rebanadas skiva skivor skive skiver",
    "piece": "Stück Stücke morceau morceaux trozo trozos st stk bit bitar",
    "cup": "Tasse Tassen tasse tasses taza tazas xícara xícaras kopp koppar kop kopper cp",
    "pound": "Pfund",
    "sprig": "Zweig Zweige brin brins ramita ramitas kvist kvistar kviste",
    "handful": "Handvoll poignée poignées puñado puñados näve håndfuld",
    "matsked": "spiseskje spiseskjeer spsk spiseske spiseskeer ss",
    "tesked": "teskje teskjeer teske teskeer",
    "gram": "Gramm gramos grammes grammi",
    "litre": "Liter litros",
    "container": "Becher",
    "cube": "Würfel",
    "splash": "Schuss scheutje",
    "glass": "Glas Gläser verre verres vaso vasos bicchiere bicchieri",
    "leaf": "Blatt Blätter feuille feuilles hoja hojas foglia foglie",
    "stalk": "Stange Stangen Stängel",
    "metric tablespoon": "cucchiaio cucchiai eetlepel eetlepels",
    "metric teaspoon": "cucchiaino cucchiaini theelepel theelepels",
}
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
    "package": ["pkge.", "pkgs.", "pk.", "pkt."],
    "ounce": ["oz", "ozs.", "ounce"],
    "cup": ["cups."],
    "fluid ounce": ["fl ozs", "fl-oz", "fluid-ounce", "fluid-ounces", "fl.ozs"],
    "metric tablespoon": ["colher de sopa", "colheres de sopa"],
    "metric teaspoon": ["colher de chá", "colheres de chá"],
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
        "tbls",
    ],
    "teaspoon": ["ts", "TSP", "Tsp", "Tsp.", "tsps.", "tea spoon", "tea spoons", "teaspoon."],
    "dozen": ["dz", "dz."],
    "envelope": ["envs", "env."],
    "container": ["ctr", "cont."],
    "gram": ["grm", "grms"],
    "Esslöffel": ["Eßlöffel", "Esslöffeln", "el"],
    "Teelöffel": ["Teelöffeln", "tl"],
    "litre": ["ltr."],
}
_CONTAINERS = listed(
    """can jar bottle package packet envelope box bag carton container tube roll pot tray punnet basket case sack
    pouch drum jug block bar brick log tub loaf sleeve"""
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
    exact, folded, longer = spellings()
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
    return frozenset(named | {"inch", "centimetre", "millimetre"})


@cache
def spellings() -> tuple[dict[str, str], dict[str, str], dict[str, tuple[tuple[str, str], ...]]]:
    """Spellings of one word as written, in lower case, and those of several words by their first word."""
    exact: dict[str, str] = {}
    folded: dict[str, str] = {}
    several: dict[str, list[tuple[str, str]]] = {}
    for alias, unit in _aliases():
        if " " in alias or "-" in alias or "." in alias.rstrip("."):
            first = re.split(r"[.\s-]", alias)[0].lower()
            several.setdefault(first, []).append((alias.lower(), unit))
            continue
        exact.setdefault(alias, unit)
        if alias not in _LONE_LETTERS and alias.rstrip(".") not in ("EL", "TL", "el", "tl", "in"):
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
    for unit, abroad in _ABROAD.items():
        found += [(alias, unit) for alias in abroad.split()]
    for unit in [*sorted(_COUNTED), "leaf", "loaf", "bunch", "pinch", "dash", "box", "inch"]:
        found.append((unit, unit))
        found.append((_IRREGULAR.get(unit, unit + "s"), unit))
    return found


@cache
def system(unit: str | None) -> tuple[str, str]:
    """Dimension and family (metric or customary) of a unit, to tell "1 lb 4 oz" from "1 lb 450 g"."""
    metric = {"gram", "kilogram", "milligram", "millilitre", "centilitre", "decilitre", "litre"}
    dimensions = {row["unit"]: row["dimension"] for row in rows("kitchen_units")}
    return dimensions.get(unit or "", "count"), "metric" if unit in metric else "customary"
