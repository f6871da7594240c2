"""What can be cooked tonight from what is on hand: first what must be used soon, then what lacks least."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from recipebox.cards.data import amount_data
from recipebox.cards.model import Card, Ingredient, Swap
from recipebox.cards.onhand import OnHand, OnHandEntry
from recipebox.cards.things import same_thing, thing
from recipebox.cautions import allergens
from recipebox.dishes import Dishes
from recipebox.family.published import published_swaps, uses_of
from recipebox.family.swaps import with_allergens
from recipebox.measures import lines_that_differ, whose_measures
from recipebox.pantry.asking import allergens_named, minutes_in, minutes_of
from recipebox.pantry.following import Titles, by_title, followed
from recipebox.pantry.saidswaps import SaidSwaps
from recipebox.pantry.stock import SOON, USUALLY_THERE, Draw, Shelf, is_basic, items_of


@dataclass
class Tonight:
    """One dish: the card to cook from, what is there, what is missing (with amounts), what stands in for what.

    `have` is (item, entry as written); `swaps` (swap, entry as written). `batch` says how many
    times the first card of its dish the card is, as `same` does; 1 for a family recipe.
    """

    card: Card
    have: list[tuple[str, str]] = field(default_factory=list)
    missing: list[Ingredient] = field(default_factory=list)
    swaps: list[tuple[Swap, str]] = field(default_factory=list)
    use_soon: dict[str, date] = field(default_factory=dict)
    batch: Fraction = Fraction(1)


def tonight(
    cards: Sequence[Card],
    on_hand: OnHand,
    today: date,
    *,
    dishes: Dishes | None = None,
    use: Sequence[str] = (),
    within: str | None = None,
    avoid: Sequence[str] = (),
    titles: Titles | None = None,
) -> list[Tonight]:
    """Dishes that what is on hand goes some way to, one each: its family recipe if it has one, else its best card.

    Some way: at least one thing it asks for is there, besides salt, pepper, water and oil.

    Dishes that lack no more than they have come first; among those what uses most of what must go within a week; then
    what lacks least; then by title. Swaps are the family's own, what the cards of the dish tell of, and published ones.
    `use`: only what uses these things. `within`: only what its card says takes no longer ("45 min"). `avoid`: leaves
    out what names the allergen, a hint from published word lists and never a verdict. What is past its date is not
    counted on. `titles`: where to look for a card that a line names, if not among `cards`.

    Raises PantryError for a time or an allergen that is not understood.
    """
    shelf = Shelf(on_hand, today)
    limit = minutes_in(within) if within else None
    avoided = frozenset(name for words in avoid for name in allergens_named(words))
    titles, said = titles or by_title(cards), SaidSwaps(cards, dishes)
    best: dict[str, Tonight] = {}
    for card, dish in _with_dish(cards, dishes):
        if limit is not None and (minutes_of(card) is None or (minutes_of(card) or 0) > limit):
            continue
        found = _look(card, shelf, titles, avoided, said)
        if found is None or not found.have or not all(_uses(found, thing_) for thing_ in use):
            continue
        other = best.get(dish)
        if other is None or _rank(found, today) < _rank(other, today):
            best[dish] = found
    batches = {member.called: member.batch for dish in (dishes.dishes if dishes else ()) for member in dish.cards}
    for one in best.values():
        one.batch = batches.get(one.card.called, Fraction(1))
    return sorted(best.values(), key=lambda one: _rank(one, today))


def tonight_data(kitchen: str, found: Iterable[Tonight]) -> dict[str, Any]:
    """The shape of `tonight --json`."""
    return {
        "kitchen": kitchen,
        "dishes": [
            {
                "path": one.card.called,
                "title": one.card.title,
                "have": [{"item": item, "entry": entry} for item, entry in one.have],
                "missing": [
                    {"item": need.item, "amount": amount_data(need.amount), "unit": need.unit} for need in one.missing
                ],
                "swaps": [
                    {
                        "item": swap.item,
                        "instead": swap.instead,
                        "how": swap.how,
                        "entry": entry,
                        "source": swap.source or swap.who,
                        "brings_in": list(swap.brings_in),
                    }
                    for swap, entry in one.swaps
                ],
                "use_soon": [{"entry": entry, "use_by": day.isoformat()} for entry, day in one.use_soon.items()],
                "batch": str(one.batch),
            }
            for one in found
        ],
    }


def _with_dish(cards: Sequence[Card], dishes: Dishes | None) -> list[tuple[Card, str]]:
    """The cards to look at, each with a key of its dish; versions of a dish that has a family recipe are left out."""
    families = [card for card in cards if card.kind == "family"]
    in_dish = {member.called: dish.name for dish in (dishes.dishes if dishes else ()) for member in dish.cards}
    spoken_for: set[str] = set()
    for family in families:
        listed = {line.path for line in family.versions}
        names = {in_dish[path] for path in listed if path in in_dish}
        spoken_for |= listed | {called for called, name in in_dish.items() if name in names}
    pairs = [(family, family.called) for family in families]
    pairs += [
        (card, in_dish.get(card.called, card.called))
        for card in cards
        if card.kind != "family" and card.called not in spoken_for
    ]
    return sorted(pairs, key=lambda pair: pair[0].called)


def _look(card: Card, shelf: Shelf, titles: Titles, avoided: frozenset[str], said: SaidSwaps) -> Tonight | None:
    lines = followed(card, titles, shelf.things)
    if not any(shelf.of(item) for _, item in items_of(lines)):
        return None  # salt and water alone go no way to a dish; and most cards of a large box end here
    if avoided and any(_holds(item, avoided) for _, item in items_of(lines)):
        return None
    result = Tonight(card)
    draw = Draw(shelf, whose_measures(card).measures if any(lines_that_differ(card)) else None)
    short: list[tuple[Ingredient, str]] = []
    for line, item in items_of(lines):
        drawn = draw.take(line, item)
        _used(result, shelf, item, drawn.entries)
        if drawn.wanted is None:
            continue
        if is_basic(item) and not drawn.entries:
            result.have.append((item, USUALLY_THERE))
        elif not line.optional:
            short.append((drawn.wanted, item))
    uses = uses_of(card)
    for need, item in short:
        own = [swap for swap in card.swaps if same_thing(swap.item, item)] + said.of(card, item)
        if not _swapped(result, card, draw, own, item, uses, avoided):
            result.missing.append(need)
    return result


def _swapped(
    result: Tonight,
    card: Card,
    draw: Draw,
    told: Sequence[Swap],
    item: str,
    uses: frozenset[str],
    avoided: frozenset[str],
) -> bool:
    """Whether something on hand stands in: by the family's or the dish's own swaps first, then by a published one."""
    own = [
        *told,
        *(
            Swap(item, " and ".join(one.item for one in group), None, card.name or None)
            for line in card.ingredients
            if same_thing(line.item, item)
            for group in line.instead
        ),
    ]
    for swap in [*map(with_allergens, own), *published_swaps(item, uses)]:
        parts = [part.strip() for part in swap.instead.split(" and ") if part.strip()]
        if any(_holds(part, avoided) for part in parts):
            continue
        entries: list[OnHandEntry] = []
        for part in parts:
            found = draw.shelf.of(part)
            entries += found[:1]
        if parts and all(draw.shelf.of(part) or is_basic(part) for part in parts) and entries:
            result.swaps.append((swap, "; ".join(entry.text for entry in entries)))
            _soon(result, draw.shelf, entries)
            return True
    return False


def _used(result: Tonight, shelf: Shelf, item: str, entries: Sequence[OnHandEntry]) -> None:
    for entry in entries:
        if (item, entry.text) not in result.have:
            result.have.append((item, entry.text))
    _soon(result, shelf, entries)


def _soon(result: Tonight, shelf: Shelf, entries: Iterable[OnHandEntry]) -> None:
    for entry in entries:
        if shelf.soon(entry) and entry.use_by is not None:
            result.use_soon[entry.text] = entry.use_by


def _uses(found: Tonight, words: str) -> bool:
    wanted = thing(words)
    named = [item for item, _ in found.have] + [swap.instead for swap, _ in found.swaps]
    return any(same_thing(name, words) or wanted in thing(name).split() for name in named)


def _holds(item: str, avoided: frozenset[str]) -> bool:
    return bool(avoided) and any(name.rstrip("?") in avoided for name in allergens(item))


def _rank(one: Tonight, today: date) -> tuple[bool, int, int, int, str, str]:
    """Sorts what to cook first first. What must go soonest weighs most."""
    days: timedelta = SOON
    urgent = sum(days.days + 1 - (day - today).days for day in one.use_soon.values())
    have = sum(entry != USUALLY_THERE for _, entry in one.have)
    return (
        len(one.missing) > have,
        -urgent,
        len(one.missing),
        len(one.swaps),
        one.card.title.casefold(),
        one.card.called,
    )
