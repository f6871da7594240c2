"""Which spoons and cup lie together in a drawer, by country and language."""

from fractions import Fraction
from functools import cache

from recipebox.measures.spoons import Spoons
from recipebox.measures.units import Measures, known_unit

_PLAIN = ("teaspoon", "tablespoon", "cup")
_SETS: tuple[tuple[str, str, str | None], ...] = (
    _PLAIN,
    ("metric teaspoon", "metric tablespoon", "metric cup"),
    ("Australian teaspoon", "Australian tablespoon", "Australian cup"),
    ("teaspoon (nutrition label)", "tablespoon (nutrition label)", "cup (nutrition label)"),
    ("teaspoon (kitchen rounding)", "tablespoon (kitchen rounding)", "cup (kitchen rounding)"),
    ("teaspoon (household card)", "tablespoon (household card)", "cup (household card)"),
    ("Teelöffel", "Esslöffel", None),
    ("cuillère à café", "cuillère à soupe", None),
    ("tesked", "matsked", None),
    ("cucharadita", "cucharada", None),
)
_OLD_SPOONS = frozenset({"gill", "saltspoon"})


def spoons_of(name: str, which: Measures) -> tuple[Spoons, Fraction] | None:
    """The set that `name` belongs to in these measures, and how many of its teaspoons one `name` holds; else None."""
    if name in _PLAIN or (name in _OLD_SPOONS and which.row(name) == name):
        spoons = plain_spoons(which)
        return spoons, known_unit(which.row(name)).size / teaspoon_ml(which)
    for one in _SETS:
        if name in one:
            spoons = _set(*one, *one)
            return spoons, known_unit(name).size / known_unit(one[0]).size
    return None


def plain_spoons(which: Measures) -> Spoons:
    """Teaspoon, tablespoon and cup as a card of these measures means them."""
    teaspoon, tablespoon, cup = map(which.row, _PLAIN)
    return _set(*_PLAIN, teaspoon, tablespoon, cup)


def teaspoon_ml(which: Measures) -> Fraction:
    """What a teaspoon holds in these measures."""
    return known_unit(which.row("teaspoon")).size


@cache
def _set(
    teaspoon: str, tablespoon: str, cup: str | None, small_row: str, large_row: str, cup_row: str | None
) -> Spoons:
    small, large = known_unit(small_row).size, known_unit(large_row).size
    per_cup = known_unit(cup_row).size / small if cup_row else Fraction(0)
    return Spoons(teaspoon, tablespoon, cup, large / small, per_cup)
