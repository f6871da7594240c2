"""The commonest ingredient lines, read by looking their words up: a number, a unit, a name, what is done to it.

"2 cups flour", "3 large eggs", "1 1/2 tsp. salt", "1 onion, finely chopped": more than half of all lines. A line with
any word that could mean something else ("or", "each", a second unit) is left to the closer look, which reads these
lines to the same data.
"""

import re
from functools import cache, lru_cache

from recipebox.cards.amounts import read_amount
from recipebox.cards.measurewords import NOT_UNITS
from recipebox.cards.model import Amount, Ingredient
from recipebox.cards.preparations import DONE, LINKS, MANNER, NO_NAMES, TELLING
from recipebox.cards.unitwords import spellings
from recipebox.cards.wordlists import listed

_LETTERS = r"[A-Za-zÀ-ÖØ-öø-ɏ]+(?:['’-][A-Za-zÀ-ÖØ-öø-ɏ]+)*"
_PLAIN = re.compile(
    rf"(\d{{1,4}}(?:[ ]\d[/⁄]\d{{1,2}}|[½⅓⅔¼¾⅛])?|\d[/⁄]\d{{1,2}}|[½⅓⅔¼¾⅛])[ ]({_LETTERS})(\.?)((?:[ ]{_LETTERS}){{0,6}})"
    rf"(?:,[ ]({_LETTERS}(?:[ ]{_LETTERS}){{0,4}}))?"
)
# Words that say more than a name does.
_SPEAKING = listed(
    """a an and or and/or of the to for with without from by in into on at as if such like until according each every
    depending plus minus less more extra additional x per half third quarter fourth couple pair dozen one two three
    four five six seven eight nine ten eleven twelve cut dissolved mixed worth de du la d size sized weight total
    optional optionally opt use used substitute sub alternatively i my you your not see about approx scant garnish
    serving greasing dusting sprinkling taste needed desired required choice liking your and/or hundred twenty thirty
    forty fifty thirteen fourteen fifteen sixteen halves thirds quarters n t s c w"""
)
_NO_UNITS = frozenset(("inch", "centimetre", "millimetre", *NOT_UNITS))


def read_plain(text: str, line: int, group: str | None) -> Ingredient | None:
    """The ingredient of a plain line; None for a line that needs a closer look."""
    match = _PLAIN.fullmatch(text)
    if match is None:
        return None
    number, first, stop, rest, done = match.groups()
    exact, folded, several, said = _vocabulary()
    low = first.lower()
    if low in several or not low.isalpha() or low == "cc":
        return None
    unit = exact.get(first + stop) or exact.get(first) or folded.get(low)
    words = rest.lower().split()
    if unit is not None:
        if unit in _NO_UNITS or not words:
            return None
        name = rest[1:]
        if words[0] == "of" and len(words) > 1:
            name = name[3:]
            del words[0]
    elif stop or low in said:
        return None
    else:
        name = first + rest
        words.append(low)
    if not said.isdisjoint(words):
        return None
    if done is not None:
        steps = done.lower().split()
        if not _STEPS.issuperset(steps) or DONE.isdisjoint(steps) or not folded.keys().isdisjoint(steps):
            return None
        if NO_NAMES.issuperset(words):
            return None
    amount = _amount(number)
    if amount is None:
        return None
    return Ingredient(text, line, "ingredient", group, amount, unit, None, (), (), None, name, (name,), done)


@lru_cache(maxsize=1024)
def _amount(number: str) -> Amount | None:
    """The amount that a number alone is; a kitchen has few numbers."""
    read = read_amount(number)
    return read[0] if read is not None and read[1] == len(number) else None


_STEPS = DONE | MANNER | LINKS


@cache
def _vocabulary() -> tuple[dict[str, str], dict[str, str], frozenset[str], frozenset[str]]:
    """Units as written and in lower case, first words of units of several words, and all words that say more."""
    exact, folded, several = spellings()
    units = {word.rstrip(".").lower() for word in (*exact, *folded)}
    return exact, folded, frozenset(several), frozenset(_SPEAKING | TELLING | LINKS | units | set(several))
