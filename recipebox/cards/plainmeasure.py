"""The commonest measures, read by looking their words up: "2 cups", "1 1/2 tsp.", "1 (14 ounce) can", "3 large".

What needs a closer look is left to it; it reads these measures to the same data.
"""

import re
from dataclasses import dataclass
from functools import cache, lru_cache

from recipebox.cards.amounts import read_amount
from recipebox.cards.measureparts import Measured
from recipebox.cards.measurewords import NOT_UNITS, SIZES
from recipebox.cards.model import Amount, Measure
from recipebox.cards.preparations import LINKS
from recipebox.cards.unitwords import is_measure, spellings
from recipebox.cards.wordlists import listed

NUMBER = r"(?:\d{1,4}(?:[ ]\d[/⁄]\d{1,2}|[ ]?[½⅓⅔¼¾⅛]|\.\d{1,2})?|\d[/⁄]\d{1,2}|[½⅓⅔¼¾⅛])"
# Greedy without giving back, so that a line that is not plain is known for one in a single pass.
LETTERS = r"[A-Za-zÀ-ÖØ-öø-ɏ]+(?:['’-][A-Za-zÀ-ÖØ-öø-ɏ]+)*"
# Words that say more than a name does.
SPEAKING = listed(
    """a an and or and/or of the to for with without from by in into on at as if such like until according each every
    depending plus minus less more x per half third quarter fourth couple pair dozen one two three four five six seven
    eight nine ten eleven twelve thirteen fourteen fifteen sixteen twenty thirty forty fifty hundred halves thirds
    quarters cut dissolved mixed worth de du la d weight total optional optionally opt use used substitute substituted
    sub alternatively can i my mine we me i'm i've it they them was were is are don't note you your not see about approx
    approximately around roughly circa ca nearly almost scant scanty needed desired required choice liking taste q s
    few several some enough plenty lots lot bit little between etwas quelques några lite lidt litt paar wenig peu poco
    een beetje di gestr gestrichener gestrichene gehäufter gehäufte gehäuften nach selon al q.b qb efter etter naar"""
)
_PRINTED = frozenset(("ounce", "gram", "fluid ounce", "millilitre"))  # "2 - 15 oz cans" is no range
_DOUBTFUL = ("cc", "stk", "stks")  # what they mean hangs on the rest of the line
_NO_UNITS = frozenset(("inch", "centimetre", "millimetre", *NOT_UNITS))

_HEAD = re.compile(
    rf"({NUMBER}(?:(?:[ ]?[-–][ ]?|[ ]to[ ]){NUMBER})?)[ ](?:\(({NUMBER})[ -]({LETTERS})\.?\)[ ])?({LETTERS})(\.?)"
    rf"(?:[ ](of[ ])?({LETTERS})(?:[ ]({LETTERS}))?)?"
)


def read_plain_measure(words: str) -> Measured | None:
    """The measure at the start of words that are plain as far as they concern it; None for others."""
    match = _HEAD.match(words)
    if match is None:
        return None
    number, size, size_unit, first, stop, of, second, third = match.groups()
    amount = number_of(number)
    if amount is None:
        return None
    low = first.lower()
    if not low.isalpha():
        return None
    known = vocabulary()
    unit = known.unit(first, stop)
    if unit is None:
        ahead = [low, second.lower(), third.lower()] if third else [low]
        if stop or size or of or not known.plain(ahead) or known.sizes.issuperset(ahead):
            return None
        return Measured(amount=amount, end=match.start(4))
    if second is None or not takes_name(amount, unit, low, "of" if of else second.lower()):
        return None
    container = None
    if size is not None and (container := container_of(size, size_unit, unit)) is None:
        return None
    ahead = [second.lower(), third.lower()] if third else [second.lower()]
    if not known.plain(ahead):
        return None
    return Measured(amount=amount, unit=unit, container=container, end=match.start(7))


def takes_name(amount: Amount, unit: str, spelt: str, following: str) -> bool:
    """Whether a unit stands before a name without more ado."""
    if unit in _NO_UNITS or spelt in _DOUBTFUL or vocabulary().goes_on(spelt, following):
        return False
    return not (unit in _PRINTED and amount.low < amount.high)


def container_of(size: str, unit_word: str, unit: str | None) -> Measure | None:
    """The printed size in the brackets before a container; None where it is none."""
    known = vocabulary()
    inner = known.unit(unit_word, "")
    each = number_of(size)
    if each is None or not is_measure(inner) or is_measure(unit) or known.goes_on(unit_word.lower(), ""):
        return None
    return Measure(each, inner)


@lru_cache(maxsize=1024)
def number_of(number: str) -> Amount | None:
    """The amount that a number alone is; a kitchen has few numbers."""
    read = read_amount(number)
    return read[0] if read is not None and read[1] == len(number) else None


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Units as written and in lower case, all words they are written with, the second words of those of several words
    by their first (None where a full stop may come between), words of size, and words that say more than a name."""

    exact: dict[str, str]
    folded: dict[str, str]
    units: frozenset[str]
    several: dict[str, frozenset[str] | None]
    sizes: frozenset[str]
    said: frozenset[str]

    def unit(self, word: str, stop: str) -> str | None:
        """The unit that a word is, with its full stop or without."""
        return self.exact.get(word + stop) or self.exact.get(word) or self.folded.get(word.lower())

    def plain(self, words: list[str]) -> bool:
        """Whether no unit begins here, nor behind words of size, and the first word is a name's."""
        if words[0] in self.said or _lead(words[0]) in self.said:
            return False
        for at, word in enumerate(words):
            word = _lead(word)
            if word in self.units or (word in self.several and self.goes_on(word, *words[at + 1 : at + 2])):
                return False
            if word not in self.sizes:
                return True
        return True

    def goes_on(self, word: str, following: str = "") -> bool:
        """Whether a word and the one behind it may be a unit of several words."""
        seconds = self.several.get(word, _NOTHING)
        return seconds is None or following in seconds


def _lead(word: str) -> str:
    """The first letters of a word: "can's" begins with a unit too, and "thumb-sized" is a word of size."""
    if word.isalpha():
        return word
    return "sized" if word.endswith(("-size", "-sized")) else _NO_LETTER.split(word, maxsplit=1)[0]


_NO_LETTER = re.compile(r"[\W\d_]")
_NOTHING: frozenset[str] = frozenset()


@cache
def vocabulary() -> Vocabulary:
    """The words that measures are made of."""
    exact, folded, several = spellings()
    units = frozenset(word.rstrip(".").lower() for word in (*exact, *folded))
    seconds: dict[str, frozenset[str] | None] = {}
    for first, aliases in several.items():
        spelt = [alias for alias, _ in aliases]
        seconds[first] = (
            None
            if any("." in alias or "-" in alias for alias in spelt)
            else frozenset(alias.split()[1] for alias in spelt)
        )
    return Vocabulary(exact, folded, units, seconds, SIZES, SPEAKING | LINKS)
