"""What a measure consists of, and reading one amount with its unit."""

from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.measurewords import SIZE, SPACES
from recipebox.cards.model import Amount, Measure
from recipebox.cards.unitwords import read_unit

ONE = Amount(Fraction(1), Fraction(1))


@dataclass
class Measured:
    """What a line's measure says; fields as in Ingredient.

    `size` has words of size that stood before the unit; `each` says that it is the size of one ("150 g each").
    """

    how: str | None = None
    amount: Amount | None = None
    unit: str | None = None
    container: Measure | None = None
    plus: tuple[Measure, ...] = ()
    also: tuple[Measure, ...] = ()
    size: str | None = None
    unsure: bool = False
    each: bool = False
    end: int = 0


def measure_at(words: str, at: int) -> tuple[Measure, int] | None:
    amount = read_amount(words[at : at + 60])
    if amount is None:
        return None
    unit = read_unit(words, skip_sizes(words, skip(words, at + amount[1])))
    return None if unit is None else (Measure(amount[0], unit[0]), unit[1])


def skip(words: str, at: int) -> int:
    """Behind spaces, full stops and a hyphen."""
    here = words[at : at + 1]
    if here.isalnum():
        return at
    if here == " " and words[at + 1 : at + 2].isalnum():
        return at + 1
    match = SPACES.match(words, at)
    return match.end() if match else at


def skip_space(words: str, at: int) -> int:
    while at < len(words) and words[at].isspace():
        at += 1
    return at


def skip_sizes(words: str, at: int) -> int:
    match = SIZE.match(words, at)
    return match.end() if match else at
