"""What a person asks of tonight: a time in words, an allergen by name; and how long a card takes."""

import re
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.model import Amount, Card
from recipebox.pantry.errors import PantryError
from recipebox.tables import rows

_TIME = re.compile(r"\s*(?P<unit>h(?:(?:ou)?rs?)?|m(?:in(?:ute)?s?)?)?\b\.?\s*(?:and\s+)?", re.IGNORECASE)
_IN_STEP = re.compile(
    r"(?P<low>\d+)(?:\s*(?:-|–|to|or)\s*(?P<high>\d+))?\s*(?P<unit>min(?:ute)?s?|h(?:ou)?rs?|hours?)\b", re.IGNORECASE
)
# How people call groups of the allergen list: common practice, no source.
_ALSO = {
    "dairy": ("milk",),
    "lactose": ("milk",),
    "gluten": ("wheat", "gluten"),
    "nut": ("tree nut", "peanut"),
    "shellfish": ("crustacean", "mollusc"),
    "seafood": ("fish", "crustacean", "mollusc"),
    "soya": ("soy",),
}


def minutes_in(words: str) -> int:
    """Minutes of "45 min", "1 h", "1 1/2 hours", "1 h 20 min" or a bare number of minutes. Raises PantryError."""
    at, total = 0, Fraction(0)
    text = words.strip()
    while at < len(text):
        read = read_amount(text[at:])
        if read is None or read[0].low <= 0:
            raise PantryError(f'{words}: say a time such as "45 min" or "1 1/2 h"')
        at += read[1]
        unit = _TIME.match(text, at)
        word = (unit["unit"] or "m").casefold() if unit else "m"
        total += read[0].high * (60 if word.startswith("h") else 1)
        at = unit.end() if unit else at
    if not total:
        raise PantryError('say a time such as "45 min" or "1 1/2 h"')
    return int(total)


def minutes_of(card: Card) -> int | None:
    """How long a card takes, in minutes: as its header says, else all times of its bakes and steps added up.

    None where the card names no time at all.
    """
    said = card.minutes
    if said.all is not None:
        return int(said.all.high)
    if said.prepare is not None and said.cook is not None:
        return int(said.prepare.high + said.cook.high)
    in_steps = sum(_minutes(match) for step in card.steps for match in _IN_STEP.finditer(step.text))
    steps = {step.line for step in card.steps}
    elsewhere = sum(_high(bake.minutes) for bake in card.oven if bake.line not in steps and bake.minutes)
    stated = _high(said.prepare) + max(_high(said.cook), 0)
    bakes = max(elsewhere - in_steps, 0) if elsewhere else 0
    return stated + in_steps + bakes or None


def allergens_named(words: str) -> frozenset[str]:
    """The allergens of major_allergens.csv that a person means; "dairy" is milk. Raises PantryError with the list."""
    known = [row["allergen"] for row in rows("major_allergens")]
    wanted = words.strip().casefold().rstrip("s")
    terms = _ALSO.get(wanted, (wanted,))
    found = {name for name in known for term in terms if term and term in name.casefold()}
    if wanted == "fish":
        found = {name for name in found if "shellfish" not in name.casefold()}
    if not found:
        raise PantryError(f"{words}: not an allergen of the published lists; there are {', '.join(sorted(known))}")
    return frozenset(found)


def _minutes(match: re.Match[str]) -> int:
    number = int(match["high"] or match["low"])
    return number * 60 if match["unit"].casefold().startswith("h") else number


def _high(amount: Amount | None) -> int:
    return 0 if amount is None else int(amount.high)
