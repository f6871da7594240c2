"""Amounts that US spoons and cups can measure, from a pinch to many cups, each the way a cook writes it.

Which steps a kitchen has, and which sum is handier than another, is common practice, no source; the thirds and
eighths of a teaspoon and sums such as 2 Tbsp + 2 tsp are printed by the extension and school recipes in
worked_examples.csv.
"""

from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from recipebox.cards.amounts import write_amount

TABLESPOON = Fraction(3)
CUP = Fraction(48)
PINCH = Fraction(1, 16)  # and a smidgen 1/32: kitchen_units.csv, what makers of measuring spoons mark
_EIGHTHS = tuple(Fraction(part, 8) for part in range(1, 8))
_THIRDS = (Fraction(1, 3), Fraction(2, 3))
_PARTS_OF_A_CUP = (Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3), Fraction(3, 4))
_MANY = Fraction(4) * CUP  # from here on no spoon is added to cups


@dataclass(frozen=True, slots=True)
class Spoonful:
    """`size` in teaspoons, as one or two measures; `trouble` grows with how fiddly it is."""

    size: Fraction
    text: str
    trouble: Fraction


def nearest(teaspoons: Fraction, within: Fraction) -> Spoonful:
    """The handiest real measure for an exact number of US teaspoons above 0.

    Among those no further off than `within` (a part of the amount) handiness and nearness are weighed: one per cent
    off weighs as much as half a second spoon. Where none is that near, the nearest.
    """
    near = _around(teaspoons)
    close = [one for one in near if abs(one.size - teaspoons) <= within * teaspoons]
    if not close:
        return min(near, key=lambda one: (abs(one.size - teaspoons), one.trouble))
    return min(close, key=lambda one: (one.trouble + 50 * abs(one.size - teaspoons) / teaspoons, one.trouble))


def _around(teaspoons: Fraction) -> list[Spoonful]:
    cups = Fraction(teaspoons // CUP)
    if cups < 1:
        grid = _below_a_cup()
        at = bisect_left(grid, teaspoons, key=lambda one: one.size)
        return list(grid[max(at - 8, 0) : at + 8])
    rest = teaspoons - cups * CUP
    ends = [Spoonful(cups * CUP, _cups(cups), Fraction(0)), Spoonful((cups + 1) * CUP, _cups(cups + 1), Fraction(0))]
    ends += [Spoonful((cups + part) * CUP, _cups(cups + part), Fraction(1, 10)) for part in _PARTS_OF_A_CUP]
    if teaspoons < _MANY:
        ends += [_cups_and_spoons(cups + part, more) for part in (Fraction(0), *_PARTS_OF_A_CUP) for more in (1, 2, 3)]
    return [one for one in ends if abs(one.size - cups * CUP - rest) <= CUP / 4]


@cache
def _below_a_cup() -> tuple[Spoonful, ...]:
    made = [Spoonful(PINCH, "a pinch", Fraction(0)), Spoonful(PINCH * 5 / 2, "1/8 tsp + a smidgen", Fraction(3))]
    with_a_pinch = (Fraction(1, 8), Fraction(1, 4), Fraction(3, 8), Fraction(1, 2), Fraction(3, 4))
    made += [Spoonful(part + PINCH, f"{_tsp(part)} + a pinch", 2 + _fiddly(part)) for part in with_a_pinch]
    made += [_plain(part, part, "tsp", _fiddly(part)) for part in (*_EIGHTHS, *_THIRDS)]
    for whole in (1, 2):
        made.append(_plain(Fraction(whole), Fraction(whole), "tsp", Fraction(0)))
        for part in (*_EIGHTHS, *_THIRDS):
            made.append(_plain(whole + part, whole + part, "tsp", _fiddly(part) + Fraction(1, 2)))
    for spoons in range(1, 8):
        size = spoons * TABLESPOON
        made.append(_plain(size, Fraction(spoons), "Tbsp", Fraction(0 if spoons < 4 else 1, 2)))
        for part in (Fraction(0), Fraction(1), Fraction(2)):
            for more in (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4), *_THIRDS):
                if part + more:
                    fiddly = 1 + (_fiddly(more) + Fraction(1, 4) if more else 0) + Fraction(spoons, 6)
                    made.append(Spoonful(size + part + more, f"{spoons} Tbsp + {_tsp(part + more)}", fiddly))
    made.append(_plain(Fraction(9, 2), Fraction(3, 2), "Tbsp", Fraction(1, 2)))
    made.append(_plain(Fraction(15, 2), Fraction(5, 2), "Tbsp", Fraction(1, 2)))
    for part in _PARTS_OF_A_CUP:
        made.append(_plain(part * CUP, part, "cup", Fraction(0)))
        made += [_cups_and_spoons(part, spoons) for spoons in (1, 2, 3)]
        for teaspoons in (1, 2, 4, 5):
            text = f"{_cups(part)} + {teaspoons} tsp"
            made.append(Spoonful(part * CUP + teaspoons, text, 1 + Fraction(teaspoons, 5)))
    best: dict[Fraction, Spoonful] = {}
    for one in [*made, Spoonful(CUP, "1 cup", Fraction(0))]:
        if one.size <= CUP and (one.size not in best or one.trouble < best[one.size].trouble):
            best[one.size] = one
    return tuple(sorted(best.values(), key=lambda one: one.size))


def _fiddly(part: Fraction) -> Fraction:
    """How seldom a kitchen has a spoon of this part of a teaspoon."""
    if part.denominator == 8 and part != Fraction(1, 8):
        return Fraction(1)
    return Fraction(3, 4) if part.denominator == 3 else Fraction(0 if part <= Fraction(1, 2) else 1, 4)


def _plain(size: Fraction, number: Fraction, name: str, trouble: Fraction) -> Spoonful:
    return Spoonful(size, f"{write_amount(number)} {name}", trouble)


def _tsp(number: Fraction) -> str:
    return f"{write_amount(number)} tsp"


def _cups_and_spoons(cups: Fraction, spoons: int) -> Spoonful:
    return Spoonful(cups * CUP + spoons * TABLESPOON, f"{_cups(cups)} + {spoons} Tbsp", Fraction(1))


def _cups(number: Fraction) -> str:
    return f"{write_amount(number)} {'cup' if number <= 1 else 'cups'}"
