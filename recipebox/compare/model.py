"""What a comparison is, as data."""

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from recipebox.cards.model import Amount, Bake, Ingredient, Pan
from recipebox.measures import Whose


class Kind(StrEnum):
    """How the cells of a row stand to one another."""

    SAME = "same"
    AMOUNT = "amount"
    UNCLEAR = "unclear"
    STANDS_IN = "stands-in"
    ONLY = "only"
    CHANGED = "changed"  # steps
    MOVED = "moved"  # steps
    DIFFERS = "differs"  # oven, pan


@dataclass(frozen=True, slots=True)
class Portion:
    """All that one card asks of one thing, brought to one line.

    `thing` is the common name, `part` the part it plays in a dish or None. `ingredient` is the card's line, or the sum
    of `lines` where the card has the thing more than once. `shared` is True for one of several things that stand on
    one line ("salt and pepper"), whose amount is the line's and not its own. `whose`
    measures they are in is said where the card has cups, spoons or pints.
    """

    thing: str
    part: str | None
    ingredient: Ingredient
    lines: tuple[Ingredient, ...]
    shared: bool = False
    whose: Whose | None = None


@dataclass(frozen=True, slots=True)
class Cell:
    """What one card has in a row: `text` as written, `amount` on the first card's batch, in the card's `unit`.

    `whose` measures that unit is of, as in Portion.
    """

    ingredient: Ingredient
    lines: tuple[Ingredient, ...]
    thing: str
    text: str
    amount: Amount | None
    unit: str | None
    whose: Whose | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """One ingredient across cards. `cells` is keyed by what the card is called; a card that lacks it has no key."""

    item: str
    kind: Kind
    cells: dict[str, Cell]


@dataclass(frozen=True, slots=True)
class StepRow:
    """Steps that do the same thing: places from 1 and words by card, and which facts later cards add or lack."""

    kind: Kind
    cells: dict[str, tuple[int, ...]]
    added: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()
    texts: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class OvenRow:
    """The ovens: SAME, DIFFERS or ONLY, and the bakes of each card that has any."""

    kind: Kind
    cells: dict[str, tuple[Bake, ...]]


@dataclass(frozen=True, slots=True)
class PanRow:
    """The pans: SAME or DIFFERS, and that of each card that names one."""

    kind: Kind
    cells: dict[str, Pan]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Cards side by side on the batch of the first. `batch` says how many times the first each card is."""

    cards: tuple[str, ...]
    batch: dict[str, Fraction]
    ingredients: tuple[Row, ...]
    steps: tuple[StepRow, ...]
    oven: OvenRow
    pan: PanRow
    same_dish: bool = True
