"""The commonest ingredient lines, read by looking their words up.

"2 cups flour", "1 (14 ounce) can chopped tomatoes", "1 onion, finely chopped", "salt, to taste": two lines in three. A
line with any word that could mean something else ("or", "each", a second unit) is left to the closer look, which
reads these lines to the same data.
"""

import re

from recipebox.cards.headings import is_heading
from recipebox.cards.itemname import COUNTED
from recipebox.cards.model import Alternative, Ingredient
from recipebox.cards.plainmeasure import LETTERS, NUMBER, Vocabulary, container_of, number_of, takes_name, vocabulary
from recipebox.cards.preparations import NO_NAMES, TELLING, is_done, is_preparation, split_preparation
from recipebox.cards.unitwords import is_container
from recipebox.cards.wordlists import listed

_TAIL = rf"{LETTERS}(?:[ ]{LETTERS}){{0,5}}"
_PLAIN = re.compile(
    rf"(?:({NUMBER}(?:(?:[ ]?[-–][ ]?|[ ]to[ ]){NUMBER})?)[ ](?:\(({NUMBER})[ -]({LETTERS})\.?\)[ ])?)?"
    rf"({LETTERS})(\.?)((?:[ ]{LETTERS}){{0,7}})"
    rf"((?:,[ ]{_TAIL}){{0,3}})(?:[ ]\(({_TAIL}(?:,[ ]{_TAIL}){{0,3}})\))?"
)
# Before a name without a number these may begin a measure too.
_OPENING = listed(
    """another additional extra just over under up un une ein eine einen ett en una uno et heaped heaping rounded
    generous overflowing level good also then juice zest rind peel finely freshly grated squeezed"""
)


def read_plain(text: str, line: int, group: str | None) -> Ingredient | None:
    """The ingredient of a plain line; None for a line that needs a closer look."""
    match = _PLAIN.fullmatch(text)
    if match is None:
        return None
    number, size, size_unit, first, stop, rest, behind, aside = match.groups()
    known = vocabulary()
    words = rest.lower().split()
    low = first.lower()
    amount = unit = None
    name = first + rest
    if number is None:
        if stop or low in _OPENING or text.count(" ") > 5 or is_heading(text):
            return None
        words.insert(0, low)
    else:
        amount = number_of(number)
        unit = known.unit(first, stop)
        if amount is None or not low.isalpha():
            return None
        if unit is None:
            if stop or size:
                return None
            words.insert(0, low)
        elif not words or not takes_name(amount, unit, low, words[0]):
            return None
        else:
            name = rest[1:]
            if words[0] == "of" and len(words) > 1:
                name = name[3:]
                del words[0]
    if not known.said.isdisjoint(words) or not known.plain(words):
        return None
    container = container_of(size, size_unit, unit) if size is not None else None
    if size is not None and container is None:
        return None
    tails = None
    if behind or aside:
        tails = _Tails(amount is not None)
        if NO_NAMES.issuperset(words) or not tails.take(behind, aside, known):
            return None
    elif words[-1] in COUNTED and unit is None and amount is not None:
        return None
    preparation: list[str] = []
    if not TELLING.isdisjoint(words):
        name, preparation = split_preparation(name, is_container(unit))
    if amount is not None and unit is None and name.rpartition(" ")[2].lower() in COUNTED:
        return None
    if tails is None:
        told = ", ".join(preparation) or None
        return Ingredient(text, line, "ingredient", group, amount, unit, container, (), (), None, name, (name,), told)
    return Ingredient(
        text,
        line,
        "ingredient",
        group,
        amount,
        unit,
        container,
        how=tails.how,
        item=name,
        items=(name,),
        preparation=", ".join(preparation + tails.preparation) or None,
        purpose=tails.purpose,
        optional=tails.optional,
        remark="; ".join(tails.remark) or None,
        instead=tails.instead,
    )


class _Tails:
    """What stands behind the name, behind commas or in brackets at the end."""

    def __init__(self, measured: bool) -> None:
        self.measured = measured
        self.preparation: list[str] = []
        self.remark: list[str] = []
        self.how: str | None = None
        self.purpose: str | None = None
        self.optional = False
        self.instead: tuple[tuple[Alternative, ...], ...] = ()

    def take(self, behind: str, aside: str | None, known: Vocabulary) -> bool:
        """Takes all of it; False for words that need a closer look."""
        if behind and not all(self._take(part, known, False) for part in behind[2:].split(", ")):
            return False
        if aside is None:
            return True
        if aside.startswith("or ") and not behind and "," not in aside:
            return self._take_other(aside[3:], known)
        if aside.startswith("for ") and "," in aside:
            return False
        return all(self._take(part, known, True) for part in aside.split(", "))

    def _take(self, part: str, known: Vocabulary, bracket: bool) -> bool:
        if is_done(part):
            self.preparation.append(part)
            return True
        if part == "to taste":
            if self.measured:
                self.remark.append(part)
            else:
                self.how = part
            return True
        if part == "optional":
            self.optional = True
            return True
        words = part.lower().split()
        if words[0] == "for" and self.purpose is None and len(words) > 1:
            self.purpose = part
            return known.said.isdisjoint(words[1:])
        if not known.said.isdisjoint(words) or not known.plain(words) or words[0] in _OPENING:
            return False
        if is_preparation(part):
            self.preparation.append(part)
        elif self.measured or bracket:
            self.remark.append(part)
        else:
            return False
        return True

    def _take_other(self, name: str, known: Vocabulary) -> bool:
        """One thing that may stand in, without an amount."""
        words = name.lower().split()
        if words[0] in _OPENING or words[0] in _NONE or not known.plain(words):
            return False
        if not known.said.isdisjoint(words) or not TELLING.isdisjoint(words):
            return False
        self.instead = ((Alternative(None, None, name),),)
        return True


_NONE = frozenset(("so", "whatever", "however", "any", "other", "try", "just", "equivalent", "thereabouts", "both"))
