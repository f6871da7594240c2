"""Taking what was used off what is on hand, in whatever measure it is said."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Amount, Ingredient
from recipebox.cards.onhand import OnHandEntry, change_amount, is_nothing, plus, read_on_hand
from recipebox.cards.things import thing
from recipebox.cards.unitwords import is_container, read_unit
from recipebox.measures import compare_amounts, footing
from recipebox.pantry.errors import PantryError

_NOTHING = Amount(Fraction(0), Fraction(0))
_KEPT_EXACT = 16
"""Parts of a cup, an ounce or a can that a list is still kept in."""
_METRIC_PARTS = {
    "kilogram": 1000, "litre": 1000, "decilitre": 100, "centilitre": 10, "gram": 1, "millilitre": 1, "milligram": 1,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Share:
    """How much of one entry, in its own unit, the whole of what was used is. `row`: the table row that said so."""

    entry: OnHandEntry
    amount: Fraction
    same_unit: bool
    row: str | None = None
    source: str = ""


def used(data: bytes, words: str) -> tuple[bytes, str | None]:
    """on-hand.txt after some of a thing was used, what must be used first first; and what a person should know of it.

    "2 leeks" takes two; "leeks" takes all of the entry used first. An amount in another unit is converted exactly; a
    volume becomes a weight, or the other way round, only by a table row, which is then told, as is any rounding.

    Raises PantryError, one line, where there is none of it, less than that, or no way to tell how much that is.
    """
    entries = [entry for entry in read_on_hand(data).entries if not is_nothing(entry)]
    reading, having = _having(words, entries)
    having.sort(key=lambda entry: (entry.use_by or date.max, entry.line))
    if reading.amount is None:
        return change_amount(data, having[0], _NOTHING), None
    shares = [share for entry in having if (share := _share(reading, entry)) is not None]
    surely = [share for share in shares if share.row is None]
    if not shares:
        there = "; ".join(entry.text for entry in having)
        raise PantryError(f"{words.strip()}: no telling how much of this that is: {there}; nothing is changed")
    return _taken(data, words, surely or shares)


def _having(words: str, entries: Sequence[OnHandEntry]) -> tuple[Ingredient, list[OnHandEntry]]:
    """What was used, read so that something on hand is meant by it, and the entries it is.

    Whole words first tried without their unit: "2 cloves" may be the spice if nothing in cloves is there.
    """
    said = words.strip()
    reading = read_ingredient(said)
    amount = read_amount(said)
    behind = said[amount[1] :].strip() if amount else said
    unit = read_unit(behind) if amount else None
    named = behind[unit[1] :].strip().removeprefix("of ").strip() if unit else behind
    tried = [(reading.item, reading), (named, reading)]
    if amount:
        tried.append((behind, Ingredient(said, amount=amount[0], item=behind)))
    for item, meant in tried:
        found = [entry for entry in entries if thing(item) and thing(entry.item) == thing(item)]
        if found:
            return meant, found
    if not thing(behind):
        raise PantryError(f"{said}: names nothing that was used")
    raise PantryError(f"no {reading.item or behind} on hand")


def _share(wanted: Ingredient, entry: OnHandEntry) -> _Share | None:
    """What was used in an entry's own unit; None where nothing tells."""
    if entry.amount is None or wanted.amount is None:
        return None
    there = entry.reading
    one_size = wanted.container is None or wanted.container == there.container
    if wanted.unit == entry.unit and one_size and not wanted.plus and not there.plus:
        return _Share(entry, wanted.amount.high, same_unit=True)
    ratio = compare_amounts(wanted, there)
    if ratio is None or there.plus:
        return None
    amount = entry.amount.middle / ratio.value
    if not ratio.approximate:
        return _Share(entry, amount, same_unit=False)
    if is_container(wanted.unit) or is_container(entry.unit):
        return None  # how much of a food goes into somebody's tin no table says
    by = next(found for found in (footing(wanted), footing(there)) if found.row is not None)
    return _Share(entry, amount, same_unit=False, row=by.row, source=by.why)


def _taken(data: bytes, words: str, shares: Sequence[_Share]) -> tuple[bytes, str | None]:
    wanted, told = Fraction(1), []
    for share in shares:
        entry = share.entry
        if entry.amount is None or not wanted or not share.amount:
            continue
        take = min(wanted * share.amount, entry.amount.high)
        wanted -= take / share.amount
        left = plus(entry.amount, Amount(-take, -take))
        kept = left if share.same_unit else Amount(_rounded(left.low, entry.unit), _rounded(left.high, entry.unit))
        data = change_amount(data, entry, kept)
        if share.row is not None:
            took = f"{_told(take, entry.unit)} {entry.unit or ''}".strip()
            told.append(f"{words.strip()} counted as {took}: {share.row} ({share.source})")
        if kept != left:
            told.append("what is left is rounded")
    if wanted:
        there = "; ".join(share.entry.text for share in shares)
        raise PantryError(f"{words.strip()}: only this is on hand: {there}; nothing is changed")
    return data, "; ".join(told) or None


def _rounded(amount: Fraction, unit: str | None) -> Fraction:
    """What a list is kept in after a conversion: whole grams and millilitres, sixteenths of all else."""
    parts = _METRIC_PARTS.get(unit or "", _KEPT_EXACT)
    if parts == _KEPT_EXACT and amount.denominator <= parts:
        return amount
    return Fraction(round(amount * parts), parts)


def _told(amount: Fraction, unit: str | None) -> str:
    amount = _rounded(amount, unit)
    return f"{float(amount):g}" if unit in _METRIC_PARTS else write_amount(amount)
