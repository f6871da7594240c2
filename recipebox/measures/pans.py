"""How much a baking dish holds, and how large its bottom is, by pan_volumes.csv and by geometry."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from recipebox.cards.model import Pan
from recipebox.measures.units import MeasureError, known_unit, unit
from recipebox.measures.written import decimal
from recipebox.tables.load import rows

PI = Fraction(355, 113)  # off by less than 1 in 10 million; all else here is exact
_INCH = Fraction(254, 100)
# A pan written in centimetres is rarely a whole number of inches; 1/4 inch is how close pans of one name lie.
_NEAR = Fraction(1, 4)
_MUFFIN = Fraction(11, 4)  # inches across, the standard cup of pan_volumes.csv
_ONLY_AREA = "the food as deep as before, since a depth is not said of both pans"
# Shape, sides in inches (longest first), depth, ml, whether from memory, name, cups, source.
_Row = tuple[str, tuple[Fraction, ...], Fraction | None, Fraction, bool, str, Fraction, str]
_KINDS = {
    "rectangle": ("rectangle", "square", "sheet"),
    "round": ("round", "springform", "pie", "tart"),
    "loaf": ("loaf",),
    "tube": ("tube", "fluted tube", "ring mold"),
    "muffin": ("muffin",),
}


def pan_volume_ml(pan: Pan) -> Fraction | None:
    """What the pan holds in ml, all of `count` together; None where no row and no depth tells.

    A printed volume first. Else the pan_volumes.csv row of this shape, size and depth; without a depth the first row
    that was read in its source (`seen`) stands, since sources differ on one pan by up to a fifth; the middle of a
    range. Else sides times depth, to the brim. A pan with a side of nothing, or in pounds, is not known. Never raises.
    """
    if pan.volume is not None:
        size = unit(pan.volume.unit or "")
        middle = pan.volume.amount.middle
        if size is None or size.dimension != "volume" or middle <= 0:
            return None
        return middle * size.size * _how_many(pan)
    sides = _inches(pan)
    if pan.shape == "muffin":
        return _row_volume(pan, sides or (_MUFFIN,)) * pan.count if pan.count > 0 else None
    if not sides:
        return None
    found = _row_volume(pan, sides)
    if found:
        return found * _how_many(pan)
    area, depth = pan_area(pan), _depth(pan)
    return None if area is None or depth is None else area * depth * _INCH


def pan_area(pan: Pan) -> Fraction | None:
    """The bottom of the pan in square centimetres, all of `count` together; None without sides above 0.

    Length times width, or pi (as 355/113) times the radius squared. Never raises.
    """
    sides = _inches(pan)
    if not sides:
        return None
    length, width = sides[0], sides[-1]
    one = PI * (length / 2) ** 2 if len(sides) == 1 and pan.shape != "rectangle" else length * width
    return one * _INCH**2 * _how_many(pan)


@dataclass(frozen=True, slots=True)
class PanFit:
    """How many times the old pan's batch fills the new one; `by` volume or area, and `why` what was taken for it."""

    factor: Fraction
    by: str
    why: str


def pan_fit(old: Pan, new: Pan) -> PanFit:
    """How the new pan compares with the old: by volume where both volumes or depths are known, else by area.

    Where one is only a volume ("2 quart") and the other only sides, or one a muffin tin, the volume of the other is
    the first row of pan_volumes.csv for it, and `why` names the source. Raises MeasureError where neither tells.
    """
    deep = all(pan.volume is not None or pan.depth is not None for pan in (old, new))
    either = any(pan.volume is not None for pan in (old, new)) or "muffin" in (old.shape, new.shape)
    by = "volume" if deep or either else "area"
    measured = [pan_volume_ml(pan) if by == "volume" else pan_area(pan) for pan in (old, new)]
    if not measured[0] or not measured[1]:
        unknown = new if not measured[1] else old
        raise MeasureError(
            f"cannot tell how large {_called(unknown)} is beside {_called(old if unknown is new else new)}: "
            "write both sizes, for example 13x9x2 or 2 quart"
        )
    why = [_told(pan) for pan in (old, new) if pan.volume is None] if by == "volume" else [_ONLY_AREA]
    return PanFit(measured[1] / measured[0], by, "; ".join(dict.fromkeys(filter(None, why))))


def pan_factor(old: Pan, new: Pan) -> Fraction:
    """`pan_fit` as a number only. Raises MeasureError where neither volume nor area tells."""
    return pan_fit(old, new).factor


def pans_near(ml: Fraction) -> tuple[str, ...]:
    """Names of listed pans that hold about so many ml, within an eighth; nearest first, at most three."""
    near = [(abs(row[3] / ml - 1), row[4], row[5]) for row in _table() if row[0] != "muffin"]
    return tuple(dict.fromkeys(name for off, _, name in sorted(near) if off <= Fraction(1, 8)))[:3] if ml > 0 else ()


def _called(pan: Pan) -> str:
    return f'"{pan.text}"' if pan.text else "a pan without words"


def _told(pan: Pan) -> str:
    """What stands behind a pan's volume that was not printed on it."""
    fitting = _fitting(pan, _inches(pan) or (_MUFFIN,))
    if not fitting:
        return f"{_called(pan)} is taken as its sides times its depth, to the brim"
    row = fitting[0]
    depth = "" if pan.depth is not None or row[2] is None else f", {decimal(row[2])} inches deep"
    return f"{_called(pan)} is taken to hold {decimal(row[6])} cups{depth} ({row[7]})"


def _how_many(pan: Pan) -> int:
    return max(pan.count, 1)


def _inches(pan: Pan) -> tuple[Fraction, ...]:
    size = _length(pan)
    if size is None or any(side <= 0 for side in pan.sides):
        return ()
    return tuple(sorted((side * size / _INCH for side in pan.sides), reverse=True))


def _depth(pan: Pan) -> Fraction | None:
    size = _length(pan)
    return None if pan.depth is None or pan.depth <= 0 or size is None else pan.depth * size / _INCH


def _length(pan: Pan) -> Fraction | None:
    found = unit(pan.unit or "inch")
    return found.size if found is not None and found.dimension == "length" else None


def _row_volume(pan: Pan, sides: tuple[Fraction, ...]) -> Fraction:
    """Volume of one pan by the table, 0 where no row fits."""
    fitting = _fitting(pan, sides)
    return fitting[0][3] if fitting else Fraction(0)


def _fitting(pan: Pan, sides: tuple[Fraction, ...]) -> list[_Row]:
    """The table's rows for a pan, the one to use first."""
    depth = _depth(pan)
    words = pan.text.lower()
    kinds = _KINDS.get(pan.shape or "", ("rectangle", "square") if len(sides) == 2 else ("round",))
    fitting = [row for row in _table() if row[0] in kinds and _near(row[1], sides)]
    if depth is not None:
        fitting = [row for row in fitting if row[2] is not None and abs(row[2] - depth) < _NEAR]

    def order(row: _Row) -> tuple[int, int, bool, bool]:
        said = len(row[0]) if row[0] in words else 0  # a "fluted tube" pan is no plain tube pan
        return -said, kinds.index(row[0]), row[2] is None and depth is None, row[4]

    fitting.sort(key=order)
    return fitting


def _near(these: tuple[Fraction, ...], those: tuple[Fraction, ...]) -> bool:
    return len(these) == len(those) and all(abs(a - b) < _NEAR for a, b in zip(these, those, strict=True))


@cache
def _table() -> tuple[_Row, ...]:
    made = []
    for row in rows("pan_volumes"):
        cells = [row["diameter_in"]] if row["diameter_in"] else [row["length_in"], row["width_in"]]
        sides = tuple(sorted((Fraction(cell) for cell in cells if cell), reverse=True))
        # The ml column is the cups rounded to whole ml: the cups are what was published.
        cups = _middle(row["volume_cups"])
        depth = Fraction(row["depth_in"]) if row["depth_in"] else None
        recalled = row["basis"] == "memory"
        source = f"{row['source']}; recalled, not retrieved" if recalled else row["source"]
        ml = cups * known_unit("cup").size
        made.append((row["shape"], sides, depth, ml, recalled, row["common_name"], cups, source))
    return tuple(made)


def _middle(cell: str) -> Fraction:
    ends = [Fraction(end) for end in cell.split("-")]
    return sum(ends, Fraction(0)) / len(ends)
