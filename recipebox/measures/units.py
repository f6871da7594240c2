"""Units of the kitchen by name, with their exact sizes, and conversion between them."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from recipebox.tables.load import rows

Number = Fraction | int | float | str
"""What a caller may give for an amount; within the room all are fractions."""


class MeasureError(ValueError):
    """An amount that cannot be measured as asked; str() is one clear line."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit in canonical spelling.

    `dimension` is volume, weight, count or length; `size` is exact in ml, g, each or cm. `source` and `basis` are the
    table row's.
    """

    name: str
    dimension: str
    size: Fraction
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class Measures:
    """Whose cups and spoons a card means: names of units mapped to the table's row for that country."""

    name: str
    rows: tuple[tuple[str, str], ...] = ()

    def row(self, name: str) -> str:
        """The unit that `name` stands for in these measures."""
        return next((theirs for ours, theirs in self.rows if ours == name), name)


US = Measures("US")

# 1 in = 2.54 cm: NIST Handbook 44, Appendix C. The other lengths follow from it and from SI prefixes.
_LENGTHS = (
    ("inch", Fraction(254, 100), ("in", "in.", "inches", '"', "″")),
    ("foot", Fraction(3048, 100), ("ft", "ft.", "feet")),
    ("millimetre", Fraction(1, 10), ("mm", "millimeter", "millimetres", "millimeters")),
    ("centimetre", Fraction(1), ("cm", "centimeter", "centimetres", "centimeters")),
    ("metre", Fraction(100), ("m", "meter", "metres", "meters")),
)
_HANDBOOK = "NIST Handbook 44, Appendix C, General Tables of Units of Measurement"


def unit(name: str) -> Unit | None:
    """The unit of this name, spelling or abbreviation; None when no table has it.

    Abbreviations are case-sensitive as in the table (T tablespoon, t teaspoon); longer names are not.
    """
    known = units()
    word = name.strip()
    return known.get(word) or (known.get(word.lower()) if len(word) > 2 else None)


@cache
def units() -> dict[str, Unit]:
    """Every name and spelling of kitchen_units.csv, and of lengths, with its unit. Canonical names win over aliases."""
    named: dict[str, Unit] = {}
    spelled: dict[str, Unit] = {}
    for row in rows("kitchen_units"):
        dimension = "weight" if row["dimension"] == "mass" else row["dimension"]
        aliases = [alias for alias in row["aliases"].split(";") if alias]
        # "stick of butter or margarine" is a stick on a card; what it is a stick of, the item says.
        short = row["unit"].split(" of ")[0]
        made = Unit(
            short if short in aliases else row["unit"], dimension, Fraction(row["value"]), row["source"], row["basis"]
        )
        named.setdefault(made.name, made)
        for alias in [row["unit"], *aliases]:
            spelled.setdefault(alias, made)
    for length, size, spellings in _LENGTHS:
        made = Unit(length, "length", size, _HANDBOOK, "memory")
        named.setdefault(length, made)
        for spelling in spellings:
            spelled.setdefault(spelling, made)
    lowered: dict[str, Unit] = {}
    for word, made in (*named.items(), *spelled.items()):
        if len(word) > 2:
            lowered.setdefault(word.lower(), made)
    return lowered | spelled | named


def convert(amount: Number, unit_name: str, to: str) -> Fraction:
    """`amount` of one unit in another, exactly: convert(1, "cup", "tablespoon") == 16, convert("1/2", "cup", "ml").

    Raises MeasureError for what is no number, for an unknown unit, for amounts below nothing, and for units of
    different dimensions: a volume becomes a weight only by the item, see `footing`.
    """
    number = exact(amount)
    if number < 0:
        raise MeasureError(f"{amount} {unit_name} is less than nothing: write an amount above 0")
    here, there = known_unit(unit_name), known_unit(to)
    return number * factor(here, there)


def exact(amount: Number) -> Fraction:
    """A number as a fraction: of "1/2", 2, 0.5 or a fraction. Raises MeasureError for anything else."""
    try:
        return Fraction(amount)
    except (ValueError, TypeError, OverflowError, ZeroDivisionError) as error:
        raise MeasureError(f"{str(amount)[:40]!r} is not a number: write 2, 1/2 or 0.5") from error


def known_unit(name: str) -> Unit:
    """`unit`, raising MeasureError for a name that no table has."""
    found = unit(name)
    if found is None:
        raise MeasureError(
            f"no table knows the unit {name.strip()!r}: write for example cup, tablespoon, gram or ounce"
        )
    return found


@cache
def factor(here: Unit, there: Unit) -> Fraction:
    """How many of `there` one `here` is, exactly, as pint's registry of the table has it. Raises MeasureError."""
    from recipebox.measures.registry import ratio

    return ratio(here, there)
