"""Weights of household measures by food: the row of household_weights.csv that an item's words ask for."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache

from recipebox.cards.things import thing
from recipebox.measures.units import unit
from recipebox.tables.load import rows

# Words that say how a food is cut, its state or its quality, not which food it is: common practice, no source.
_CUT = frozenset(
    re.findall(
        r"\S+",
        """chopped diced sliced slices grated shredded minced cubed cubes crumbled crushed halved quartered torn
        julienned packed unpacked sifted unsifted melted softened whipped beaten pureed flaked pieces chunks rings
        strips thin thick leaves""",
    )
)
_HARMLESS = _CUT | frozenset(
    re.findall(
        r"\S+",
        """a of and the or freshly finely coarsely roughly lightly firmly loosely tightly large medium small
        extra jumbo ripe good quality organic free range sharp mild mature strong peeled seeded cored trimmed washed
        pitted stemmed thawed cold warm chilled room temperature virgin pure level heaping heaped rounded scant
        about more plus boneless skinless creamy lean best size sized firm tender young big whole raw uncooked
        plain regular ordinary natural fine cut up into bite""",
    )
)
# States that make another food of it: the row must have them if the card does, and the other way round.
_STATES = frozenset(
    re.findall(
        r"\S+",
        """fresh dry dried cooked canned frozen drained rinsed undrained baked boiled mashed powdered powder stewed
        toasted condensed prepared blanched sweetened unsweetened peel ground degermed blend instant tinned homemade""",
    )
)
_NO_OTHER_FOOD = frozenset(
    {"drained", "rinsed", "undrained", "toasted", "blanched", "unsweetened", "prepared", "fresh"}
)
_PARTS = frozenset({"crumbs", "chips"})
_TAKEN_AS_SAID = frozenset({"dry", "plain", "raw", "whole", "unsweetened", "fresh", "granulated", "rinsed"})
_SAME_CUT = {
    "grated": ("shredded",),
    "shredded": ("grated",),
    "diced": ("cubes", "cubed", "chopped", "chunks", "pieces"),
    "cubed": ("cubes", "diced", "chunks", "chopped"),
    "chopped": ("diced", "pieces"),
    "minced": ("chopped", "diced"),
    "sliced": ("slices",),
    "slices": ("sliced",),
    "crumbs": ("crushed",),
    "crushed": ("crumbs",),
}
_SPELLED = {"tinned": "canned", "dehydrated": "dried", "fluffy": "unpacked"}
# Foods whose weight hangs on their form: another name for the same thing (kosher salt is salt) may weigh half.
_FORMS = frozenset({"salt", "crumbs", "cracker", "granule", "flake", "meal"})
# Said of a food that measures the same without: dropped when the food as written is not in the table.
_LEANER = re.compile(
    r"\b(?:(?:low|reduced|less)[- ]?(?:sodium|fat|salt)|(?:fat|salt)[- ]free|non-?fat|(?:un)?salted)\b"
    r"|\b(?:red|yellow|white|brown|sweet|spanish)(?= onions?\b)|\b(?:red|yellow|white|gold)(?= potato(?:es)?\b)"
)
_DRAINED = re.compile(r"\b(?:drained|rinsed|and)\b", re.IGNORECASE)
_WORD = re.compile(r"[a-zà-öø-ÿ0-9%]+(?:['’][a-zà-öø-ÿ]+)*")
_MEASURE_UNITS = {"tsp": "teaspoon", "tbsp": "tablespoon", "fl oz": "fluid ounce"}
_SIZES = ("extra small", "extra large", "small", "medium", "large", "jumbo")


@dataclass(frozen=True, slots=True)
class HouseholdRow:
    """One row: `grams` of one `measure` of `food`; `ml` of the measure if it is a volume. `note` as in the table."""

    food: str
    measure: str
    grams: Fraction
    ml: Fraction | None
    note: str
    table_row: str
    source: str

    @property
    def words(self) -> frozenset[str]:
        """The words of the note."""
        return frozenset(_WORD.findall(self.note.lower()))


@dataclass(frozen=True, slots=True)
class Food:
    """A food of the table with its rows, in the table's order."""

    name: str
    rows: tuple[HouseholdRow, ...]


@lru_cache(maxsize=16384)
def food(item: str, preparation: str | None = None, unit_name: str | None = None) -> Food | None:
    """The table's food for an item: the same words, order, number, cut and quality aside; None when no row fits.

    "sharp Cheddar cheese, grated" is cheddar cheese; "almond flour" is no flour. A state (cooked, canned, dried,
    frozen) must be in both, save that a food counted in cans is the canned one if the table has it.
    """
    plain = item.lower()
    said = _words(plain) | _words(preparation or "")
    common = plain if _FORMS & _words(plain) else thing(item)
    named = dict.fromkeys((plain, common, _LEANER.sub(" ", plain)))
    states = said & _STATES
    # A can of beans is canned, a can of soup is condensed soup: common practice, no source.
    tried = [states | {"canned"}, states | {"condensed"}, states] if unit_name == "can" else [states]
    for more in tried:
        for name in named:
            words = _words(name)
            found = _best(words, more, said) or _best(words - _PARTS, more, said, words & _PARTS)
            if found is not None:
                return found
    return None


def volume_row(found: Food, words: frozenset[str], ml: Fraction) -> HouseholdRow | None:
    """The row that says what `ml` of the food weighs: cut as the words say, of the measure nearest in size.

    The first such row of the table stands. None without a row by volume.
    """
    fitting = [row for row in found.rows if row.ml is not None]
    if not fitting:
        return None
    fits = [(_misfit(row, words), -len(row.words & words)) for row in fitting]
    fitting = [row for row, fit in zip(fitting, fits, strict=True) if fit == min(fits)]
    return min(fitting, key=lambda row: max(row.ml or ml, ml) / min(row.ml or ml, ml))


def counted_row(found: Food, words: frozenset[str], unit_name: str | None) -> HouseholdRow | None:
    """The row for things counted: by unit (clove, slice, can), else by size (large, medium), else the table's `each`.

    Without a size a medium one is taken, an egg being large; the row's own words say so.
    """
    if unit_name is not None:
        fitting = [row for row in found.rows if row.measure == unit_name]
        return min(fitting, key=lambda row: _misfit(row, words)) if fitting else None
    said = [size for size in _SIZES if words.issuperset(size.split())]
    measures = said[:1] or [*(["large"] if found.name.startswith("egg") else []), "medium", "each", "large"]
    for measure in measures:
        for row in found.rows:
            if row.measure == measure and not (measure == "each" and _is_several(row)):
                return row
    return None


@lru_cache(maxsize=4096)
def drained_can(item: str) -> tuple[HouseholdRow, HouseholdRow] | None:
    """The rows for a whole can of the food and for what is left of it drained; None unless the table has both."""
    plain = _DRAINED.sub(" ", item)
    rows_found: list[HouseholdRow] = []
    for preparation in (None, "drained", "drained and rinsed"):
        found = food(plain, preparation, "can")
        row = counted_row(found, frozenset(), "can") if found is not None else None
        if row is not None and ("drained" in f"{row.food} {row.note}") == bool(preparation):
            rows_found.append(row)
    return (rows_found[0], rows_found[-1]) if len(rows_found) > 1 and "drained" not in rows_found[0].food else None


def cut_words(*texts: str | None) -> frozenset[str]:
    """The words of an item and its preparation, singular, that choose between rows of one food."""
    return frozenset(word for text in texts if text for word in _words(text))


def _is_several(row: HouseholdRow) -> bool:
    return row.note.startswith(("nuts", "berries", "raisins", "chips", "crackers", "pods", "beans"))


def _misfit(row: HouseholdRow, words: frozenset[str]) -> int:
    """How badly a row's note fits the words of a card; 0 is best."""
    cuts = row.words & (_CUT | _PARTS | _STATES - _NO_OTHER_FOOD)
    if not cuts:
        return 1 if words & (_CUT | _PARTS) else 0
    if cuts & words:
        return 0
    if any(cuts & set(_SAME_CUT.get(word, ())) for word in words):
        return 1
    return 2 if cuts & {"packed", "unsifted"} and not words & _CUT else 3


def _words(text: str) -> frozenset[str]:
    plain = text.lower().replace("breadcrumb", "bread crumb")
    return frozenset(_SPELLED.get(word, word) for word in map(_one, _WORD.findall(plain)))


@lru_cache(maxsize=8192)
def _one(word: str) -> str:
    """A word in the singular, unless the plural is the word the notes use."""
    if word in _PARTS or word in _CUT or len(word) < 4 or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("oes", "shes", "ches", "xes")):
        return word[:-2]
    if word.endswith("leaves"):
        return word[:-3] + "f"
    return word[:-1] if word.endswith("s") else word


def _best(
    words: frozenset[str], states: frozenset[str], said: frozenset[str], parts: frozenset[str] = frozenset()
) -> Food | None:
    """The food told by these words whose states are the card's; `parts` must stand in one of its notes.

    None where the card leaves open which of two very different foods it means: dry or canned beans, fresh or dried
    herbs (those that are cut are fresh).
    """
    core = words - _HARMLESS - _STATES or words - _HARMLESS
    fitting = []
    others = _index().get(core, ())
    for name_words, at, found in others:
        foods_states = name_words & _STATES
        noted = frozenset(word for row in found.rows for word in row.words)
        missing = states - foods_states - _NO_OTHER_FOOD - noted
        if "ground" in missing and any(row.measure == "teaspoon" for row in found.rows):
            missing -= {"ground"}  # a spice is ground unless its row says otherwise
        unsaid = foods_states - states
        undrained = "drained" in unsaid or ("drained" in foods_states and "undrained" in states)
        cut_otherwise = name_words & _CUT - said
        if missing or unsaid - _TAKEN_AS_SAID or undrained or cut_otherwise or not parts <= noted:
            continue
        loose = len(name_words & _HARMLESS - words) + len(words - name_words - _STATES)
        unlike = 2 * len(states - foods_states) + len(unsaid)
        fitting.append((unlike, loose, at, found, unsaid))
    if not fitting:
        return None
    best = min(fitting, key=lambda one: one[:3])
    siblings = frozenset(word for name_words, _, _ in others for word in name_words & _STATES)
    left_open = ("dry" in best[4] and "canned" in siblings) or (
        "fresh" in best[4] and "dried" in siblings and not said & _CUT
    )
    return None if left_open else best[3]


@cache
def _index() -> dict[frozenset[str], tuple[tuple[frozenset[str], int, Food], ...]]:
    """Foods by the words that tell them, cut and state aside."""
    made: dict[frozenset[str], list[tuple[frozenset[str], int, Food]]] = {}
    for at, (names, found) in enumerate(_foods()):
        for name in names:
            words = _words(name)
            core = words - _HARMLESS - _STATES or words - _HARMLESS
            if core:
                made.setdefault(core, []).append((words, at, found))
    return {core: tuple(some) for core, some in made.items()}


@cache
def _foods() -> tuple[tuple[tuple[str, ...], Food], ...]:
    grouped: dict[str, list[dict[str, str]]] = {}
    for row in rows("household_weights"):
        grouped.setdefault(row["ingredient"], []).append(row)
    made = []
    for name, some in grouped.items():
        synonyms = [re.sub(r"\(.*?\)", "", synonym).strip() for synonym in some[0]["synonyms"].split(";")]
        names = tuple(filter(None, (name, *synonyms)))
        made.append((names, Food(name, tuple(_row(row) for row in some))))
    return tuple(made)


def _row(row: dict[str, str]) -> HouseholdRow:
    amount = Fraction(row["amount"]).limit_denominator(12)  # the table writes a third of a cup as 0.333
    measured = unit(_MEASURE_UNITS.get(row["measure"], row["measure"]))
    ml = measured.size if measured is not None and measured.dimension == "volume" else None
    grams = Fraction(row["grams"]) / amount
    note = f", {row['note']}" if row["note"] else ""
    said = f"{row['amount']} {row['measure']} {row['ingredient']}{note} = {row['grams']} g"
    name = measured.name if measured is not None else row["measure"]
    return HouseholdRow(row["ingredient"], name, grams, ml, row["note"], said, row["source"])
