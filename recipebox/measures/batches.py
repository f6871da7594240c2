"""How many times a batch is wanted, by a number, by people or by pans, and how it is shared out over pans."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.model import Amount, Card, Pan
from recipebox.measures.units import MeasureError

SMALLEST, LARGEST = Fraction(1, 100), Fraction(100)


class WrongNumberError(MeasureError):
    """No number, or one that is no batch a kitchen makes."""


@dataclass(frozen=True, slots=True)
class PanShare:
    """One pan of a batch. `use` is now or freezer, `batch` its share of the card's own batch, `serves` its people.

    `pan` is None where the card's pan does not fit this share, or the card names none.
    """

    use: str
    batch: Fraction
    serves: Amount | None
    pan: Pan | None


def number_wanted(words: str) -> Fraction:
    """A number as a person types it: 2, 1/2, 0.5 or 1 1/2.

    Raises WrongNumberError for anything else, or beyond 1/100..100.
    """
    plain = " ".join(words.split())
    read = read_amount(plain)
    if read is None or read[1] != len(plain) or read[0].low != read[0].high:
        raise WrongNumberError(f"'{plain[:40]}' is not a number: write 2, 1/2, 0.5 or 1 1/2")
    return _within(read[0].low, f"'{plain}'")


def times_for_serves(card: Card, people: Fraction) -> Fraction:
    """How many times the card serves so many people, counted from the least it serves.

    Raises MeasureError where the card says no number, WrongNumberError for a batch beyond 1/100..100 times.
    """
    if card.serves is None or card.serves.low <= 0:
        makes = "" if card.makes is None else f"; it makes {write_amount(card.makes.low)} {card.makes.what}".rstrip()
        raise MeasureError(
            f"{card.called}: the card does not say how many it serves{makes}: write serves: under its title, or say "
            "how many times the batch you want, as in --times 2"
        )
    return _within(people / card.serves.low, f"for {write_amount(people)} people the batch")


def times_for_pan(factor: Fraction) -> Fraction:
    """The factor of a `pan_fit`, checked. Raises WrongNumberError beyond 1/100..100 times."""
    return _within(factor, "for that pan the batch")


def share_out(card: Card, factor: Fraction, freezer: int, pan: Pan | None = None) -> tuple[PanShare, ...]:
    """A batch of `factor` times the card in equal pans, the last `freezer` of them for the freezer.

    With `pan` each is such a pan and there is one for now. Else a pan for each batch begun, and at least one more than
    go into the freezer.
    """
    count = freezer + 1 if pan is not None else max(freezer + 1, ceil(factor))
    share = factor / count
    serves = card.serves and Amount(card.serves.low * share, card.serves.high * share)
    own = pan if pan is not None else card.pan if share == 1 else None
    return tuple(PanShare("now" if at < count - freezer else "freezer", share, serves, own) for at in range(count))


def _within(factor: Fraction, what: str) -> Fraction:
    if not SMALLEST <= factor <= LARGEST:
        raise WrongNumberError(f"{what} is beyond what a kitchen makes: write a number from 1/100 to 100")
    return factor
