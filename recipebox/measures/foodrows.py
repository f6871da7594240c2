"""The rows of household_weights.csv by food, and which of a food's rows a line means."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property, lru_cache

from recipebox.measures.units import unit
from recipebox.tables.load import rows

# Words that say how a food is cut, its state or its quality, not which food it is: common practice, no source.
CUT = frozenset(
    re.findall(
        r"\S+",
        """chopped diced sliced slices grated shredded minced cubed cubes crumbled crushed halved quartered torn
        julienned packed unpacked sifted unsifted melted softened whipped beaten pureed flaked pieces chunks rings
        strips thin thick leaves""",
    )
)
# States that make another food of it: the row must have them if the card does, and the other way round.
STATES = frozenset(
    re.findall(
        r"\S+",
        """fresh dry dried cooked canned frozen drained rinsed undrained baked boiled mashed powdered powder stewed
        toasted condensed prepared blanched sweetened unsweetened peel ground degermed blend instant tinned homemade""",
    )
)
NO_OTHER_FOOD = frozenset({"drained", "rinsed", "undrained", "toasted", "blanched", "unsweetened", "prepared", "fresh"})
PARTS = frozenset({"crumbs", "chips"})
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
_WORD = re.compile(r"[a-zà-öø-ÿ0-9%]+(?:['’][a-zà-öø-ÿ]+)*")
_MEASURE_UNITS = {"tsp": "teaspoon", "tbsp": "tablespoon", "fl oz": "fluid ounce"}
_SIZES = ("extra small", "extra large", "small", "medium", "large", "jumbo")
# What notes say of size where a line that says nothing means the ordinary one.
_UNUSUAL = frozenset({"extra", "small", "large", "jumbo", "thin", "thick", "mini", "miniature", "snack", "very"})
_USUAL = frozenset({"medium", "regular"})
_COUNTED_OUT = 5  # below this "hazelnuts" without a unit are hardly counted nuts


@dataclass(frozen=True)
class HouseholdRow:
    """One row: `grams` of one `measure` of `food`; `ml` of the measure if it is a volume. `note` as in the table.

    `stated` is how many of the measure the row gives the weight of; rows of one measure differ a little by it.
    """

    food: str
    measure: str
    grams: Fraction
    ml: Fraction | None
    note: str
    table_row: str
    stated: Fraction
    source: str

    @cached_property
    def words(self) -> frozenset[str]:
        """The words of the note."""
        return frozenset(_WORD.findall(self.note.lower()))

    @cached_property
    def singular(self) -> frozenset[str]:
        """The words of the note as for one thing."""
        return words_of(self.note)


@dataclass(frozen=True, slots=True)
class Food:
    """A food of the table with its rows, in the table's order."""

    name: str
    rows: tuple[HouseholdRow, ...]


def weight_rows(name: str) -> tuple[HouseholdRow, ...]:
    """All rows of a food by its name in the table ("cheddar cheese"), in the table's order; empty if it has none."""
    return next((found.rows for _, found in foods() if found.name == name), ())


def volume_row(found: Food, words: frozenset[str], ml: Fraction) -> HouseholdRow | None:
    """The row that says what `ml` of the food weighs: cut as the words say, of the amount nearest in size.

    The first such row of the table stands. None without a row by volume.
    """
    fitting = [row for row in found.rows if row.ml is not None]
    if not fitting:
        return None
    fits = [(_misfit(row, words), -len(row.words & words)) for row in fitting]
    fitting = [row for row, fit in zip(fitting, fits, strict=True) if fit == min(fits)]
    return min(fitting, key=lambda row: _apart(ml, (row.ml or ml) * row.stated))


def counted_row(
    found: Food, words: frozenset[str], unit_name: str | None, count: Fraction = Fraction(1)
) -> HouseholdRow | None:
    """The row for so many things counted: by unit (clove, slice, can), else by size (large, medium), else `each`.

    The words of the line choose between rows; where they say no size a medium one is taken, an egg being large.
    """
    own = words_of(found.name)

    def fits(row: HouseholdRow) -> tuple[int | Fraction, ...]:
        return (*_unlike(row, words, own), _apart(count, row.stated))

    if unit_name is not None:
        return min((row for row in found.rows if row.measure == unit_name), key=fits, default=None)
    each = [row for row in found.rows if row.measure == "each" and (count >= _COUNTED_OUT or not _is_several(row))]
    told = [row for row in each if (telling := _telling(row) - own) and telling <= words]
    said = [size for size in _SIZES if words.issuperset(size.split())]
    ordinary = [*(["large"] if found.name.startswith("egg") else []), "medium", "each", "large"]

    def of(measure: str) -> list[HouseholdRow]:
        return each if measure == "each" else [row for row in found.rows if row.measure == measure]

    for fitting in (*map(of, said), told, *map(of, ordinary)):
        if fitting:
            return min(fitting, key=fits)
    return None


def _is_several(row: HouseholdRow) -> bool:
    return row.note.startswith(("nuts", "berries", "raisins", "chips", "crackers", "pods", "beans"))


def _telling(row: HouseholdRow) -> frozenset[str]:
    """What a note says of the thing besides its size in inches."""
    return frozenset(word for word in row.singular if not word[0].isdigit())


def _unlike(row: HouseholdRow, words: frozenset[str], own: frozenset[str]) -> tuple[int, int, int, int]:
    """How badly a counted row fits: by its cut, by words of size nobody said, by words in common, by words to spare."""
    noted = row.singular - own
    usual = frozenset() if words & (_UNUSUAL | _USUAL) else _USUAL
    return (
        _misfit(row, words),
        len(noted & _UNUSUAL - words),
        -len(noted & (words | usual)),
        len(noted - words - usual),
    )


def _apart(one: Fraction, other: Fraction) -> Fraction:
    return max(one, other) / min(one, other) if one > 0 else Fraction(1)


def _misfit(row: HouseholdRow, words: frozenset[str]) -> int:
    """How badly a row's note fits the words of a card; 0 is best."""
    cuts = row.words & (CUT | PARTS | STATES - NO_OTHER_FOOD)
    if not cuts:
        return 1 if words & (CUT | PARTS) else 0
    if cuts & words:
        return 0
    if any(cuts & set(_SAME_CUT.get(word, ())) for word in words):
        return 1
    return 2 if cuts & {"packed", "unsifted"} and not words & CUT else 3


def words_of(text: str) -> frozenset[str]:
    plain = text.lower().replace("breadcrumb", "bread crumb")
    return frozenset(_SPELLED.get(word, word) for word in map(_one, _WORD.findall(plain)))


@lru_cache(maxsize=8192)
def _one(word: str) -> str:
    """A word in the singular, unless the plural is the word the notes use."""
    if word in PARTS or word in CUT or len(word) < 4 or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("oes", "shes", "ches", "xes")):
        return word[:-2]
    if word.endswith("leaves"):
        return word[:-3] + "f"
    return word[:-1] if word.endswith("s") else word


@cache
def foods() -> tuple[tuple[tuple[str, ...], Food], ...]:
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
    return HouseholdRow(row["ingredient"], name, grams, ml, row["note"], said, amount, row["source"])
