"""Which food of household_weights.csv an item's words ask for."""

import re
from functools import cache, lru_cache

from recipebox.cards.things import thing
from recipebox.measures.foodrows import (
    CUT,
    NO_OTHER_FOOD,
    PARTS,
    STATES,
    Food,
    HouseholdRow,
    counted_row,
    foods,
    words_of,
)

_HARMLESS = CUT | frozenset(
    re.findall(
        r"\S+",
        """a of and the or freshly finely coarsely roughly lightly firmly loosely tightly large medium small
        extra jumbo ripe good quality organic free range sharp mild mature strong peeled seeded cored trimmed washed
        pitted stemmed thawed cold warm chilled room temperature virgin pure level heaping heaped rounded scant
        about more plus boneless skinless creamy lean best size sized firm tender young big whole raw uncooked
        plain regular ordinary natural fine cut up into bite""",
    )
)
_TAKEN_AS_SAID = frozenset({"dry", "plain", "raw", "whole", "unsweetened", "fresh", "granulated", "rinsed"})
# Foods whose weight hangs on their form: another name for the same thing (kosher salt is salt) may weigh half.
_FORMS = frozenset({"salt", "crumbs", "cracker", "granule", "flake", "meal"})
# Said of a food that measures the same without: dropped when the food as written is not in the table.
_LEANER = re.compile(
    r"\b(?:(?:low|reduced|less)[- ]?(?:sodium|fat|salt)|(?:fat|salt)[- ]free|non-?fat|(?:un)?salted)\b"
    r"|\b(?:red|yellow|white|brown|sweet|spanish)(?= onions?\b)|\b(?:red|yellow|white|gold)(?= potato(?:es)?\b)"
)
_STICK_FATS = frozenset({"butter", "margarine"})
_DRAINED = re.compile(r"\b(?:drained|rinsed|and)\b", re.IGNORECASE)


@lru_cache(maxsize=16384)
def food(item: str, preparation: str | None = None, unit_name: str | None = None) -> Food | None:
    """The table's food for an item: the same words, order, number, cut and quality aside; None when no row fits.

    "sharp Cheddar cheese, grated" is cheddar cheese; "almond flour" is no flour. A state (cooked, canned, dried,
    frozen) must be in both, save that a food counted in cans is the canned one if the table has it.
    """
    plain = item.lower()
    said = words_of(plain) | words_of(preparation or "")
    common = plain if _FORMS & words_of(plain) else thing(item)
    named = dict.fromkeys((plain, common, _LEANER.sub(" ", plain)))
    states = said & STATES
    # A can of beans is canned, a can of soup is condensed soup: common practice, no source.
    tried = [states | {"canned"}, states | {"condensed"}, states] if unit_name == "can" else [states]
    for more in tried:
        for name in named:
            words = words_of(name)
            found = _best(words, more, said) or _best(words - PARTS, more, said, words & PARTS)
            if found is not None:
                return found
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


def is_fat(item: str) -> bool:
    """Whether the item comes in sticks of half a cup: butter and margarine, unless whipped."""
    return bool(_STICK_FATS & cut_words(thing(item))) and "whipped" not in item


def cut_words(*texts: str | None) -> frozenset[str]:
    """The words of an item and its preparation, singular, that choose between rows of one food."""
    return frozenset(word for text in texts if text for word in words_of(text))


def _best(
    words: frozenset[str], states: frozenset[str], said: frozenset[str], parts: frozenset[str] = frozenset()
) -> Food | None:
    """The food told by these words whose states are the card's; `parts` must stand in one of its notes.

    None where the card leaves open which of two very different foods it means: dry or canned beans, fresh or dried
    herbs (those that are cut are fresh).
    """
    core = words - _HARMLESS - STATES or words - _HARMLESS
    fitting = []
    others = _index().get(core, ())
    for name_words, at, found in others:
        foods_states = name_words & STATES
        noted = frozenset(word for row in found.rows for word in row.words)
        missing = states - foods_states - NO_OTHER_FOOD - noted
        if "ground" in missing and any(row.measure == "teaspoon" for row in found.rows):
            missing -= {"ground"}  # a spice is ground unless its row says otherwise
        unsaid = foods_states - states
        undrained = "drained" in unsaid or ("drained" in foods_states and "undrained" in states)
        cut_otherwise = name_words & CUT - said
        if missing or unsaid - _TAKEN_AS_SAID or undrained or cut_otherwise or not parts <= noted:
            continue
        loose = len(name_words & _HARMLESS - words) + len(words - name_words - STATES)
        unlike = 2 * len(states - foods_states) + len(unsaid)
        fitting.append((unlike, loose, at, found, unsaid))
    if not fitting:
        return None
    best = min(fitting, key=lambda one: one[:3])
    siblings = frozenset(word for name_words, _, _ in others for word in name_words & STATES)
    left_open = ("dry" in best[4] and "canned" in siblings) or (
        "fresh" in best[4] and "dried" in siblings and not said & CUT
    )
    return None if left_open else best[3]


@cache
def _index() -> dict[frozenset[str], tuple[tuple[frozenset[str], int, Food], ...]]:
    """Foods by the words that tell them, cut and state aside."""
    made: dict[frozenset[str], list[tuple[frozenset[str], int, Food]]] = {}
    for at, (names, found) in enumerate(foods()):
        for name in names:
            words = words_of(name)
            core = words - _HARMLESS - STATES or words - _HARMLESS
            if core:
                made.setdefault(core, []).append((words, at, found))
    return {core: tuple(some) for core, some in made.items()}
