"""What a card is, as data: frozen dataclasses with exact fractions.

Names and meaning follow the page on cards as data (schema/card-format.md and schema/card.schema.json). `line` is
always the number of the source line, from 1. Fields that JSON does not carry say so.
"""

from dataclasses import dataclass, field, fields, make_dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Any


@dataclass(frozen=True, slots=True)
class Amount:
    """A number as a cook writes it: one (low == high) or a range."""

    low: Fraction
    high: Fraction

    @property
    def middle(self) -> Fraction:
        """The number itself, or the middle of the range."""
        return (self.low + self.high) / 2


@dataclass(frozen=True, slots=True)
class Measure:
    """An amount with its unit in canonical spelling ("tablespoon"), None where things are counted."""

    amount: Amount
    unit: str | None


@dataclass(frozen=True, slots=True)
class Alternative:
    """One thing that may stand in, "1/2 cup cream" in "or 1/2 cup cream plus 1/2 cup water"."""

    amount: Amount | None
    unit: str | None
    item: str


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One line of a list of ingredients; `kind` is "ingredient", "heading" or "text".

    `amount` and `unit` are the first as written; `plus` is added to it, `also` says the same in another system.
    `container` is the printed size of each can or package. `how` is about, scant, heaped or "to taste". `items` has
    what a shop sells, one each. `instead` holds alternatives, each a tuple of things used together. `unsure` names
    fields that were guessed.
    """

    text: str
    line: int = 1
    kind: str = "ingredient"
    group: str | None = None
    amount: Amount | None = None
    unit: str | None = None
    container: Measure | None = None
    plus: tuple[Measure, ...] = ()
    also: tuple[Measure, ...] = ()
    how: str | None = None
    item: str = ""
    items: tuple[str, ...] = ()
    preparation: str | None = None
    purpose: str | None = None
    optional: bool = False
    remark: str | None = None
    instead: tuple[tuple[Alternative, ...], ...] = ()
    unsure: tuple[str, ...] = ()


_OPEN = make_dataclass("_OPEN", [one.name for one in fields(Ingredient)], slots=True)


def quick_ingredient(
    text: str,
    line: int,
    group: str | None,
    amount: Amount | None,
    unit: str | None,
    item: str,
    items: tuple[str, ...],
    *,
    container: Measure | None = None,
    plus: tuple[Measure, ...] = (),
    also: tuple[Measure, ...] = (),
    how: str | None = None,
    preparation: str | None = None,
    purpose: str | None = None,
    optional: bool = False,
    remark: str | None = None,
    instead: tuple[tuple[Alternative, ...], ...] = (),
    unsure: tuple[str, ...] = (),
) -> Ingredient:
    """An Ingredient of kind "ingredient", made in a fifth of the time that its frozen class takes to fill its fields.

    It is filled while it may still be changed, and frozen then by taking on its class.
    """
    made: Any = _OPEN(
        text,
        line,
        "ingredient",
        group,
        amount,
        unit,
        container,
        plus,
        also,
        how,
        item,
        items,
        preparation,
        purpose,
        optional,
        remark,
        instead,
        unsure,
    )
    made.__class__ = Ingredient
    found: Ingredient = made
    return found


@dataclass(frozen=True, slots=True)
class Makes:
    """What a card yields: 2 (low to high) of `what` ("loaves")."""

    low: Fraction
    high: Fraction
    what: str


@dataclass(frozen=True, slots=True)
class Pan:
    """The baking dish. A square has two equal sides, a round one its diameter in `sides`, a 12-hole tin `count` 12.

    `unit` is the unit of sides and depth ("inch", "centimeter"); `volume` is set for "2 quart".
    """

    text: str
    count: int = 1
    shape: str | None = None
    sides: tuple[Fraction, ...] = ()
    depth: Fraction | None = None
    unit: str | None = None
    volume: Measure | None = None


@dataclass(frozen=True, slots=True)
class Heat:
    """One way of saying an oven's heat, as written. `scale` is "F", "C", "gas" or "words"."""

    scale: str
    value: Amount | None = None
    fan: bool = False
    words: str | None = None


@dataclass(frozen=True, slots=True)
class Bake:
    """One bake of a card: the same heat said in one or several ways, and its minutes."""

    text: str
    line: int
    settings: tuple[Heat, ...] = ()
    minutes: Amount | None = None


@dataclass(frozen=True, slots=True)
class Minutes:
    """Times a card states, in minutes."""

    prepare: Amount | None = None
    cook: Amount | None = None
    all: Amount | None = None


@dataclass(frozen=True, slots=True)
class Passage:
    """A step or a note: its words on one line, without number or bullet. `last` is its last source line."""

    text: str
    line: int
    last: int = 0  # not in JSON; 0: same as line


@dataclass(frozen=True, slots=True)
class SomeAdd:
    """An ingredient that a few versions add, with their names."""

    ingredient: Ingredient
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Variation:
    """A group of ingredients that one version has otherwise. `name` is "Tomasz: flour, milk, eggs"."""

    name: str
    ingredients: tuple[Ingredient, ...]


@dataclass(frozen=True, slots=True)
class Swap:
    """`instead` was used, or works, in place of `item`.

    `who` is a NAME or None, `source` a published source or None; allergens are names of major_allergens.csv.
    """

    item: str
    instead: str
    how: str | None = None
    who: str | None = None
    source: str | None = None
    effect: str | None = None
    brings_in: tuple[str, ...] = ()
    takes_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wording:
    """One wording of an undecided or settled entry."""

    text: str
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """What only a person can choose between: what it is about, and its wordings."""

    about: str
    wordings: tuple[Wording, ...]
    line: int = 0  # not in JSON


@dataclass(frozen=True, slots=True)
class VersionLine:
    """A line of Versions: whose card, where it lies, its batch against the family recipe, gone or not."""

    name: str
    path: str
    batch: Fraction = Fraction(1)
    gone: bool = False


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something a cook may want to mend."""

    line: int
    what: str


@dataclass(frozen=True, slots=True)
class Header:
    """A `name: value` line under the title, name in lower case. Not in JSON: its meaning is."""

    name: str
    value: str
    line: int


class Role(StrEnum):
    """What a source line is in its card."""

    BLANK = "blank"
    TITLE = "title"
    HEADER = "header"
    SECTION = "section"  # a heading: Ingredients, Method, Notes, Swaps ...
    GROUP = "group"  # a heading among the ingredients or steps
    INGREDIENT = "ingredient"
    STEP = "step"
    NOTE = "note"
    SOME_ADD = "some add"
    VARIATION = "variation"
    SWAP = "swap"
    UNDECIDED = "undecided"
    SETTLED = "settled"
    VERSION = "version"
    LAYOUT = "layout"  # rules, fences, table borders, quote marks without words


@dataclass(frozen=True, slots=True)
class SourceLine:
    """How one source line was understood. `of` is the line where its element begins (itself, or a line above).

    `key` is a header's or section's name in lower case ("method"); `start` and `end` are the columns of the words
    that the element consists of, without bullet, number or mark-up.
    """

    number: int
    role: Role
    of: int
    key: str = ""
    start: int = 0
    end: int = 0


@dataclass(frozen=True, slots=True)
class Card:
    """One recipe. `kind` is "version" or "family"; `part` counts the recipes of one file from 1."""

    path: str
    title: str
    part: int = 1
    kind: str = "version"
    sender: str | None = None  # "from" in JSON
    name: str = ""  # the version's NAME; not in JSON
    serves: Amount | None = None
    makes: Makes | None = None
    pan: Pan | None = None
    oven: tuple[Bake, ...] = ()
    minutes: Minutes = field(default_factory=Minutes)
    tags: tuple[str, ...] = ()
    measures: str | None = None
    ingredients: tuple[Ingredient, ...] = ()
    steps: tuple[Passage, ...] = ()
    notes: tuple[Passage, ...] = ()
    some_add: tuple[SomeAdd, ...] = ()
    variations: tuple[Variation, ...] = ()
    swaps: tuple[Swap, ...] = ()
    undecided: tuple[Entry, ...] = ()
    settled: tuple[Entry, ...] = ()
    versions: tuple[VersionLine, ...] = ()
    trouble: tuple[Trouble, ...] = ()
    headers: tuple[Header, ...] = ()  # not in JSON
    lines: tuple[SourceLine, ...] = ()  # not in JSON; one per source line of this part

    @property
    def called(self) -> str:
        """What the card is called by: its path, with #2 and so on for later recipes of one file."""
        return self.path if self.part == 1 else f"{self.path}#{self.part}"
