"""Amounts that a kitchen's spoons and cups can measure, from a pinch to many cups, each the way a cook writes it.

Which steps a kitchen has, and which sum is handier than another, is common practice, no source; the thirds and
eighths of a teaspoon and sums such as 2 Tbsp + 2 tsp are printed by the extension and school recipes in
worked_examples.csv.
"""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil

from recipebox.cards.amounts import write_amount
from recipebox.measures.written import plural

PINCH = Fraction(1, 16)  # and a smidgen 1/32: kitchen_units.csv, what makers of measuring spoons mark
_EIGHTHS = tuple(Fraction(part, 8) for part in range(1, 8))
_THIRDS = (Fraction(1, 3), Fraction(2, 3))
_PARTS_OF_A_CUP = (Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3), Fraction(3, 4))
_MANY = 4  # cups: from here on no spoon is added to them


@dataclass(frozen=True, slots=True)
class Spoons:
    """One country's spoons and cup: what each is called, and how many teaspoons the larger ones hold.

    `cup` is None where a kitchen measures no cups: large amounts stay in tablespoons.
    """

    teaspoon: str = "teaspoon"
    tablespoon: str = "tablespoon"
    cup: str | None = "cup"
    per_tablespoon: Fraction = Fraction(3)
    per_cup: Fraction = Fraction(48)


US_SPOONS = Spoons()


@dataclass(frozen=True, slots=True)
class Spoonful:
    """`size` in teaspoons, as one or two measures; `trouble` grows with how fiddly it is."""

    size: Fraction
    text: str
    trouble: Fraction


def nearest(teaspoons: Fraction, within: Fraction, spoons: Spoons = US_SPOONS, of: Fraction | None = None) -> Spoonful:
    """The handiest real measure for an exact number of teaspoons above 0.

    Among those no further off than `within` (a part of the amount, or of the larger amount `of` that these spoons are
    added to) handiness and nearness are weighed: one per cent off weighs as much as half a second spoon. Where none is
    that near, the nearest.
    """
    whole = of or teaspoons
    near = _around(teaspoons, spoons)
    close = [one for one in near if abs(one.size - teaspoons) <= within * whole]
    if not close:
        return min(near, key=lambda one: (abs(one.size - teaspoons), one.trouble))
    return min(close, key=lambda one: (one.trouble + 50 * abs(one.size - teaspoons) / whole, one.trouble))


def _around(teaspoons: Fraction, spoons: Spoons) -> list[Spoonful]:
    if spoons.cup is None:
        return (
            _near_in(_small(spoons), teaspoons) if teaspoons < 8 * spoons.per_tablespoon else _many(teaspoons, spoons)
        )
    cups = Fraction(teaspoons // spoons.per_cup)
    if cups < 1:
        return _near_in(_below_a_cup(spoons), teaspoons)
    return [one for one in _from_cups(spoons, cups) if abs(one.size - teaspoons) <= spoons.per_cup / 4]


@lru_cache(maxsize=256)
def _from_cups(spoons: Spoons, cups: Fraction) -> tuple[Spoonful, ...]:
    """All from so many whole cups to one more."""
    ends = [_cupfuls(spoons, cups, Fraction(0)), _cupfuls(spoons, cups + 1, Fraction(0))]
    ends += [_cupfuls(spoons, cups + part, Fraction(1, 10)) for part in _PARTS_OF_A_CUP]
    if cups < _MANY:
        parts = (Fraction(0), *_PARTS_OF_A_CUP)
        ends += [_cups_and_spoons(spoons, cups + part, more) for part in parts for more in _added(spoons)]
    return tuple(ends)


def _near_in(grid: tuple[Spoonful, ...], teaspoons: Fraction) -> list[Spoonful]:
    at = bisect_left(grid, teaspoons, key=lambda one: one.size)
    return list(grid[max(at - 8, 0) : at + 8])


def _many(teaspoons: Fraction, spoons: Spoons) -> list[Spoonful]:
    """Tablespoons alone, by halves."""
    halves = teaspoons * 2 // spoons.per_tablespoon
    return [_tablespoons(spoons, Fraction(half, 2), Fraction(half % 2, 4)) for half in (halves, halves + 1)]


@cache
def _small(spoons: Spoons) -> tuple[Spoonful, ...]:
    """All below 8 tablespoons, by size."""
    return _sorted([*_below_a_spoon(spoons), *_few_tablespoons(spoons), _tablespoons(spoons, Fraction(8), Fraction(0))])


@cache
def _below_a_cup(spoons: Spoons) -> tuple[Spoonful, ...]:
    made = [*_below_a_spoon(spoons), *_few_tablespoons(spoons), _cupfuls(spoons, Fraction(1), Fraction(0))]
    for part in _PARTS_OF_A_CUP:
        made.append(_cupfuls(spoons, part, Fraction(0)))
        made += [_cups_and_spoons(spoons, part, more) for more in _added(spoons)]
        for teaspoons in (1, 2, 4, 5):
            text = f"{_named(part, spoons.cup or '')} + {_named(Fraction(teaspoons), spoons.teaspoon)}"
            made.append(Spoonful(part * spoons.per_cup + teaspoons, text, 1 + Fraction(teaspoons, 5)))
    return _sorted(one for one in made if one.size <= spoons.per_cup)


def _below_a_spoon(spoons: Spoons) -> Iterator[Spoonful]:
    """Teaspoons and their parts."""
    name = spoons.teaspoon
    yield Spoonful(PINCH, "a pinch", Fraction(0))
    for part in (Fraction(1, 8), Fraction(1, 4), Fraction(1, 2)):
        yield Spoonful(part + PINCH / 2, f"{_named(part, name)} + a smidgen", Fraction(3))
    for part in (Fraction(1, 8), Fraction(1, 4), Fraction(3, 8), Fraction(1, 2), Fraction(3, 4), Fraction(1)):
        yield Spoonful(part + PINCH, f"{_named(part, name)} + a pinch", 2 + _fiddly(part))
    for whole in range(ceil(spoons.per_tablespoon)):
        if whole:
            yield Spoonful(Fraction(whole), _named(Fraction(whole), name), Fraction(0))
        for part in (*_EIGHTHS, *_THIRDS):
            more = Fraction(1, 2) if whole else Fraction(0)
            yield Spoonful(whole + part, _named(whole + part, name), _fiddly(part) + more)


def _few_tablespoons(spoons: Spoons) -> Iterator[Spoonful]:
    """One to seven tablespoons, alone or with teaspoons."""
    for count in range(1, 8):
        size = count * spoons.per_tablespoon
        yield _tablespoons(spoons, Fraction(count), Fraction(0 if count < 4 else 1, 2))
        for whole in range(int(spoons.per_tablespoon)):
            for part in (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4), *_THIRDS):
                more = whole + part
                if 0 < more < spoons.per_tablespoon:
                    fiddly = 1 + (_fiddly(part) + Fraction(1, 4) if part else 0) + Fraction(count, 6)
                    text = f"{_named(Fraction(count), spoons.tablespoon)} + {_named(more, spoons.teaspoon)}"
                    yield Spoonful(size + more, text, fiddly)
    yield _tablespoons(spoons, Fraction(3, 2), Fraction(1, 2))
    yield _tablespoons(spoons, Fraction(5, 2), Fraction(1, 2))


def _sorted(made: Iterator[Spoonful] | list[Spoonful]) -> tuple[Spoonful, ...]:
    """By size, of one size only the handiest."""
    best: dict[Fraction, Spoonful] = {}
    for one in made:
        if one.size not in best or one.trouble < best[one.size].trouble:
            best[one.size] = one
    return tuple(sorted(best.values(), key=lambda one: one.size))


def _fiddly(part: Fraction) -> Fraction:
    """How seldom a kitchen has a spoon of this part of a teaspoon."""
    if part.denominator == 8 and part != Fraction(1, 8):
        return Fraction(1)
    return Fraction(3, 4) if part.denominator == 3 else Fraction(0 if part <= Fraction(1, 2) else 1, 4)


def _tablespoons(spoons: Spoons, number: Fraction, trouble: Fraction) -> Spoonful:
    return Spoonful(number * spoons.per_tablespoon, _named(number, spoons.tablespoon), trouble)


def _cupfuls(spoons: Spoons, number: Fraction, trouble: Fraction) -> Spoonful:
    return Spoonful(number * spoons.per_cup, _named(number, spoons.cup or ""), trouble)


def _added(spoons: Spoons) -> tuple[Fraction, ...]:
    """Tablespoons that are added to cups; one and a half where that is whole teaspoons."""
    halves = (Fraction(3, 2),) if spoons.per_tablespoon % 2 == 0 else ()
    return (Fraction(1), *halves, Fraction(2), Fraction(3))


def _cups_and_spoons(spoons: Spoons, cups: Fraction, more: Fraction) -> Spoonful:
    text = f"{_named(cups, spoons.cup or '')} + {_named(more, spoons.tablespoon)}"
    trouble = Fraction(1) if more.denominator == 1 else Fraction(5, 4)
    return Spoonful(cups * spoons.per_cup + more * spoons.per_tablespoon, text, trouble)


def _named(number: Fraction, name: str) -> str:
    return f"{write_amount(number)} {plural(name, number)}"
