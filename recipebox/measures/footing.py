"""One ingredient line brought to one footing: millilitres, grams and a count, as far as tables with a source tell."""

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from recipebox.cards.model import Ingredient, Measure
from recipebox.measures.cans import CanSize, is_fluid, numbered_can, usual_can
from recipebox.measures.foodrows import Food, HouseholdRow, counted_row, volume_row
from recipebox.measures.household import cut_words, drained_can, food, is_fat
from recipebox.measures.units import US, Measures, Unit, known_unit, unit

_SIZES = frozenset({"small", "medium", "large", "extra large", "jumbo", "thin", "thick"})
_STICKS = frozenset({"stick", "pat"})


@dataclass(frozen=True, slots=True)
class Footing:
    """How much a line asks for. None: not known. The middle of a range.

    `count` is of `counted` ("each", "clove", "can"). `direct` names the fields that the card itself says; the others
    come from the table row in `row` (source in `why`), and then `approximate` is true. `printed` is what the cans say
    they hold, in grams; of drained beans less than that is used, and `grams` is what is used.
    """

    ml: Fraction | None = None
    grams: Fraction | None = None
    count: Fraction | None = None
    counted: str | None = None
    direct: tuple[str, ...] = ()
    row: str | None = None
    why: str = ""
    approximate: bool = False
    printed: Fraction | None = None


@lru_cache(maxsize=16384)
def footing(ingredient: Ingredient, which: Measures | None = None) -> Footing:
    """The line on one footing; `which` says whose cups and spoons they are (US if None).

    Ounces are fluid for what is sold by volume. Cans and packages go by their printed size, else by can_sizes.csv;
    sticks only of butter and its kin; a volume becomes a weight, and the other way round, only by a
    household_weights.csv row for this food. Never raises: what no table knows stays None.
    """
    if ingredient.kind != "ingredient" or ingredient.amount is None:
        return Footing(why="the card gives no amount")
    parts = [Measure(ingredient.amount, ingredient.unit), *ingredient.plus]
    read = [_read(part, ingredient, which or US) for part in parts]
    if len(read) > 1 and len({one.direct for one in read}) > 1:  # a stick plus 2 tablespoons: in grams by the table
        read = [_by_table(one, ingredient) for one in read]
    total = read[0]
    for more in read[1:]:
        total = _add(total, more)
    for same in ingredient.also:
        total = _fill(total, _read(same, ingredient, which or US))
    return _by_table(total, ingredient)


def _read(part: Measure, line: Ingredient, which: Measures) -> Footing:
    """What the card itself says of one amount, without any table of foods."""
    number = part.amount.middle
    if number < 0:
        return Footing(why="the amount is below nothing")
    found = _unit_of(part.unit, line.item, which) if part.unit is not None else None
    if found is not None and found.dimension == "volume":
        return Footing(ml=number * found.size, direct=("ml",))
    if found is not None and found.dimension == "weight":
        if found.name in _STICKS and not is_fat(line.item):
            return Footing(count=number, counted=found.name, direct=("count",))
        return Footing(grams=number * found.size, direct=("grams",), why=found.source)
    if found is None or found.dimension == "length":
        counted = part.unit or "each"
    else:
        counted = found.name if found.size == 1 else "each"
        number *= found.size
    counts = Footing(count=number, counted=counted, direct=("count",))
    if line.container is None or part.unit != line.unit:
        return counts
    size = _unit_of(line.container.unit or "", line.item, which)
    each = line.container.amount.middle * number
    if size is None or size.dimension not in ("volume", "weight") or each <= 0:
        return counts
    if size.dimension == "volume":
        return Footing(each * size.size, None, number, counted, ("ml", "count"), why="printed size")
    grams = each * size.size
    return Footing(None, grams, number, counted, ("grams", "count"), why="printed size", printed=grams)


def _unit_of(name: str, item: str, which: Measures) -> Unit | None:
    found = unit(name)
    if found is not None and found.name == "ounce" and is_fluid(item):
        found = unit("fluid ounce")
    return found and unit(which.row(found.name))


def _add(one: Footing, more: Footing) -> Footing:
    """Both together: only what both say in the same measure can be added here."""
    ml = one.ml + more.ml if one.ml is not None and more.ml is not None else None
    grams = one.grams + more.grams if one.grams is not None and more.grams is not None else None
    same = one.counted == more.counted and one.count is not None and more.count is not None
    count = (one.count or Fraction(0)) + (more.count or Fraction(0)) if same else None
    fields = {"ml": ml, "grams": grams, "count": count}
    direct = tuple(
        name for name, value in fields.items() if value is not None and name in one.direct and name in more.direct
    )
    return Footing(
        ml,
        grams,
        count,
        one.counted if same else None,
        direct,
        row=one.row or more.row,
        why=one.why or more.why,
        approximate=one.approximate or more.approximate,
    )


def _fill(one: Footing, same: Footing) -> Footing:
    """What `same` says in another system, added to what `one` does not say."""
    ml = same.ml if one.ml is None else one.ml
    grams = same.grams if one.grams is None else one.grams
    direct = tuple(
        name for name in ("ml", "grams", "count") if name in one.direct or (name != "count" and name in same.direct)
    )
    return replace(one, ml=ml, grams=grams, direct=direct)


def _by_table(said: Footing, line: Ingredient) -> Footing:
    """The fields the card does not say, by the food's row."""
    if said.ml is not None and said.grams is not None:
        return said
    state = _state(line)
    words = cut_words(line.item, state)
    counted = None if said.counted == "each" else said.counted
    found = food(line.item, state, counted)
    ml, grams, rows_used, source = said.ml, said.grams, [], ""
    can_ml = None
    drained = drained_can(line.item) if counted == "can" and "drained" in words else None
    if drained is not None and said.printed is not None:
        whole, kept = drained
        grams = said.printed * kept.grams / whole.grams
        rows_used += [whole.table_row, kept.table_row]
        said, source = replace(said, direct=("count",)), kept.source
        found = food(line.item, "drained and rinsed", counted) or found
    if grams is None and ml is None and said.count is not None:
        row = _weight_of_one(line, found, words, counted, said.count)
        if row is not None:
            grams, source = said.count * row.grams, row.source
            rows_used.append(row.table_row)
            can_ml = said.count * row.ml if isinstance(row, CanSize) and row.ml is not None else None
    if found is not None and (ml is None) != (grams is None):
        dense = volume_row(found, words, ml or known_unit("cup").size)
        if dense is not None and dense.ml:
            if grams is None and ml is not None:
                grams = ml * dense.grams / dense.ml
            elif grams is not None:
                ml = grams * dense.ml / dense.grams
            rows_used.append(dense.table_row)
            source = source or dense.source
    if ml is None and can_ml is not None:
        ml = can_ml
    if not rows_used:
        return said
    return replace(said, ml=ml, grams=grams, row="; ".join(rows_used), why=source, approximate=True)


def _state(line: Ingredient) -> str | None:
    """How the food is cut or kept: the preparation, what the card adds behind a comma, and a size before the unit."""
    said = line.remark or ""
    added = said if said in _SIZES or (said and f", {said}" in line.text) else None
    return ", ".join(filter(None, (line.preparation, added))) or None


def _weight_of_one(
    line: Ingredient, found: Food | None, words: frozenset[str], counted: str | None, count: Fraction
) -> HouseholdRow | CanSize | None:
    """The row for one thing counted. A can's trade number says more than the food does, the food more than a habit."""
    is_can = counted == "can"
    numbered = numbered_can(line.text) if is_can else None
    if numbered is not None:
        return numbered
    by_food = counted_row(found, words, counted, count) if found is not None else None
    return by_food or (usual_can(line.item) if is_can else None)
