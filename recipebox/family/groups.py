"""Batters, doughs and custards across the versions: one is taken whole, others swap a thing or stand as variations."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.model import Card, Ingredient
from recipebox.compare import Cell
from recipebox.compare.amounts import amount_ratio
from recipebox.family.binding import bound, is_liquid, makes_batter
from recipebox.family.choosing import rows_for
from recipebox.family.lineup import LineUp
from recipebox.family.model import Choices
from recipebox.family.rows import alike
from recipebox.measures import compare_amounts

_WIDEST = 3  # a stand-in of over three times or under a third of the amount is another batter, not a swap

_NEAR, _ABOUT = Fraction(8, 100), Fraction(12, 100)  # the second where a weight table was used


@dataclass(frozen=True)
class Groups:
    """Whose group is taken whole (`called`), its lines, and the lines of each version that stands as a variation.

    `with_it` has, for a version that swaps one thing, further liquids that go with the thing that stands in
    ("milk" and, with it, "lemon juice" for buttermilk).
    """

    called: str
    listed: tuple[Ingredient, ...]
    kind: str
    varied: Mapping[str, tuple[Ingredient, ...]]
    with_it: Mapping[str, tuple[Ingredient, ...]]
    own: Mapping[str, tuple[Ingredient, ...]]
    choice: str | None = None

    def kind_of(self, called: str) -> str:
        """What a version's own group is: a batter or dough, or a custard."""
        return _kind(self.own.get(called, ()))

    def holds(self, called: str, line: Ingredient) -> bool:
        """Whether a line belongs to the batter, dough or custard of its version."""
        return any(one is line for one in self.own.get(called, ()))

    def apart(self, called: str, lines: Iterable[Ingredient]) -> bool:
        """Whether these lines of a version stand in its variation."""
        varied = self.varied.get(called, ())
        return any(one is line for line in lines for one in varied)


def settle_groups(lineup: LineUp, choices: Choices) -> Groups:
    """Find each version's group and whose is taken: the base's, or that of a version whose flour, leavening or eggs
    somebody chose; its sugar, fat or liquid may be chosen by themselves.
    """
    own = {called: bound(card) for called, card in lineup.cards.items()}
    called, choice = _whose(lineup, own, choices)
    listed = own[called]
    varied: dict[str, tuple[Ingredient, ...]] = {}
    with_it: dict[str, tuple[Ingredient, ...]] = {}
    for other, lines in own.items():
        if other == called or not lines:
            continue
        more = _swapped(lineup, called, listed, other, lines)
        if more is None:
            varied[other] = lines
        elif more:
            with_it[other] = more
    return Groups(called, listed, _kind(listed), varied, with_it, own, choice)


def _whose(lineup: LineUp, own: Mapping[str, tuple[Ingredient, ...]], choices: Choices) -> tuple[str, str | None]:
    base = lineup.base.called
    for item, called in sorted(choices.take.items()):
        for at in rows_for(lineup, item, called)[:1]:
            lines = lineup.rows[at].cells[called].lines
            makes = any(one is line and makes_batter(line) for line in lines for one in own[called])
            if called != base and makes:
                return called, f"take {item}={lineup.cards[called].name}"
    return base, None


def _swapped(
    lineup: LineUp, called: str, listed: tuple[Ingredient, ...], other: str, lines: tuple[Ingredient, ...]
) -> tuple[Ingredient, ...] | None:
    """None where the two groups are truly different; else liquids that go with the one thing that stands in."""
    if not listed:
        return None
    met: list[Ingredient] = []
    standing_in = 0
    for line in listed:
        rows = lineup.rows_of(called, line)
        row = next((lineup.rows[at] for at in rows if other in lineup.rows[at].cells), None)
        if row is None:
            return None
        a, b = row.cells[called], row.cells[other]
        met += b.lines
        if alike(a.thing, b.thing):
            if not (
                lineup.same_amount(row, called, other) or _nearly(a, b, lineup.batch[other] / lineup.batch[called])
            ):
                return None
        else:
            standing_in += 1
            ratio = compare_amounts(a.ingredient, b.ingredient)
            times = ratio.value / (lineup.batch[other] / lineup.batch[called]) if ratio else 1
            if not 1 / _WIDEST <= float(times) <= _WIDEST:
                return None
    more = tuple(line for line in lines if not any(line is one for one in met))
    if more and (standing_in != 1 or not all(is_liquid(line) for line in more)):
        return None
    return more


def _nearly(a: Cell, b: Cell, factor: Fraction) -> bool:
    """Near enough that the batter is the same: 480 and 500 ml of milk."""
    ratio = amount_ratio(a.ingredient, b.ingredient)
    return ratio is not None and abs(ratio.value / factor - 1) <= (_ABOUT if ratio.approximate else _NEAR)


def _kind(lines: Iterable[Ingredient]) -> str:
    words = {word for line in lines for word in line.item.casefold().split()}
    if not words & {"flour", "oats", "oat", "meal", "cornmeal", "semolina"}:
        return "custard"
    return "dough" if words & {"yeast"} else "batter or dough"


def variation_name(card: Card, lines: Iterable[Ingredient]) -> str:
    """ "Tomasz: flour, milk, eggs"."""
    from recipebox.family.model import plain_item

    return f"{card.name}: {', '.join(plain_item(line) for line in lines)}"
