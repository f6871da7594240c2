"""What is on hand, drawn on line by line as a card would use it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

from recipebox.cards.model import Amount, Ingredient
from recipebox.cards.onhand import OnHand, OnHandEntry, is_nothing
from recipebox.cards.things import part_in_dish, thing
from recipebox.measures import Measures, compare_amounts
from recipebox.pantry.matching import is_there

SOON = timedelta(days=7)  # common practice, no source
# What nearly every kitchen has, and is told of when it is counted on: common practice, no source.
_BASICS = frozenset(
    {"salt", "pepper", "black pepper", "white pepper", "water", "oil", "vegetable oil", "olive oil", "salt and pepper"}
)
USUALLY_THERE = "usually there (common practice, no source)"


@dataclass(frozen=True, slots=True)
class Drawn:
    """What the stock gave for one need: entries used, and how much is still wanted (None: nothing)."""

    entries: tuple[OnHandEntry, ...]
    wanted: Ingredient | None


class Shelf:
    """The entries that can be cooked from today, by thing: none left over and past their date aside."""

    def __init__(self, on_hand: OnHand, today: date) -> None:
        self.today = today
        self.entries = [
            entry
            for entry in sorted(on_hand.entries, key=lambda e: (e.use_by or date.max, e.line))
            if not is_nothing(entry) and (entry.use_by is None or entry.use_by >= today)
        ]
        self.things = frozenset(thing(entry.item) for entry in self.entries)
        self._by_thing: dict[str, list[OnHandEntry]] = {}
        for entry in self.entries:
            for word in {*thing(entry.item).split(), *(part_in_dish(entry.item) or "").split()}:
                self._by_thing.setdefault(word, []).append(entry)
        self._known: dict[str, list[OnHandEntry]] = {}

    def of(self, item: str) -> list[OnHandEntry]:
        """Entries that are this thing, what must be used first first."""
        if item not in self._known:
            near = [entry for word in thing(item).split() for entry in self._by_thing.get(word, ())]
            found = {entry.line: entry for entry in near if is_there(item, entry.item)}
            self._known[item] = sorted(found.values(), key=lambda e: (e.use_by or date.max, e.line))
        return self._known[item]

    def soon(self, entry: OnHandEntry) -> bool:
        """Whether an entry must be used within a week."""
        return entry.use_by is not None and entry.use_by <= self.today + SOON


class Draw:
    """Using up a shelf for one card: what one line takes, the next no longer finds."""

    def __init__(self, shelf: Shelf, measures: Measures | None = None) -> None:
        """`measures` are the card's; what lies in the house is read in the same."""
        self.shelf = shelf
        self._measures = measures
        self._left: dict[int, Fraction] = {}

    def take(self, need: Ingredient, item: str) -> Drawn:
        """Draw what a line asks of one item. Where amounts have no common footing, what is there is taken as enough."""
        used: list[OnHandEntry] = []
        wanted = Fraction(1)
        for entry in self.shelf.of(item):
            left = self._left.get(entry.line, Fraction(1))
            if left <= 0:
                continue
            used.append(entry)
            known = need.amount and entry.amount
            ratio = compare_amounts(need, entry.reading, self._measures, self._measures) if known else None
            if ratio is None:
                return Drawn(tuple(used), None)
            gives = min(wanted, left * ratio.value)
            self._left[entry.line] = left - gives / ratio.value
            wanted -= gives
            if wanted <= Fraction(4, 100):  # within what `compare` calls the same amount
                return Drawn(tuple(used), None)
        return Drawn(tuple(used), _part(need, item, wanted))


def is_basic(item: str) -> bool:
    """Whether nearly every kitchen has it: salt, pepper, water, oil."""
    return thing(item) in _BASICS


def items_of(lines: Iterable[Ingredient]) -> list[tuple[Ingredient, str]]:
    """Each line with each of its items."""
    return [(line, item) for line in lines for item in (line.items or (line.item or line.text,))]


def _part(need: Ingredient, item: str, share: Fraction) -> Ingredient:
    if need.amount is None or share == 1:
        return replace(need, item=item)
    return replace(need, item=item, amount=Amount(need.amount.low * share, need.amount.high * share), plus=(), also=())
