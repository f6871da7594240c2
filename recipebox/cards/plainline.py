"""The commonest ingredient lines, read by looking their words up.

"2 cups flour", "1 (14 ounce) can chopped tomatoes", "1 onion, finely chopped", "salt, to taste": two lines in three. A
line with any word that could mean something else ("or", "each", a second unit) is left to the closer look, which
reads these lines to the same data.
"""

import re

from recipebox.cards.headings import is_heading
from recipebox.cards.itemname import OR, counted, is_one_thing
from recipebox.cards.linedraft import Draft, is_talk
from recipebox.cards.lineparts import Part
from recipebox.cards.measureparts import Measured
from recipebox.cards.model import Alternative, Ingredient, quick_ingredient
from recipebox.cards.plainmeasure import LETTERS, NUMBER, Vocabulary, container_of, number_of, takes_name, vocabulary
from recipebox.cards.preparations import DONE, NO_NAMES, TELLING, is_done, is_preparation, split_preparation
from recipebox.cards.unitwords import is_container
from recipebox.cards.wordlists import listed

_WORD = rf"(?:{LETTERS}|\d{{1,2}}(?:[/⁄]\d{{1,2}})?(?:-[a-z]+)?)"
_TAIL = rf"{LETTERS}(?:[ ]{_WORD}){{0,7}}"
_PLAIN = re.compile(
    rf"(?:({NUMBER}(?:(?:[ ]?[-–][ ]?|[ ]to[ ]){NUMBER})?)[ ](?:\(({NUMBER})[ -]({LETTERS})\.?\)[ ])?)?"
    rf"({LETTERS})(\.?)((?:[ ]{LETTERS}){{0,7}})"
    rf"((?:,[ ]{_TAIL}){{0,3}})(?:[ ]\(((?:[^\s()\[\]{{}}<>&*_`~|#\\¹²³⁴⁵⁶⁷⁸⁹†‡§™®©]|[ ](?![ ])){{1,200}})\))?"
)
_ASIDE = re.compile(rf"{_TAIL}(?:,[ ]{_TAIL}){{0,3}}")
# An aside that begins so is talk, whatever follows.
_TALK = frozenset(("i", "you", "your", "we", "my", "mine", "it", "they", "them"))
# Before a name without a number these may begin a measure too.
_OPENING = listed(
    """another additional extra just over under up un une ein eine einen ett en una uno et heaped heaping rounded
    generous overflowing level good also then juice zest rind peel whites white yolks yolk finely freshly grated
    squeezed"""
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
    pair = None
    if not known.said.isdisjoint(words) and not _only_of(words, known) and (pair := _pair(name, words, known)) is None:
        return None
    if not known.plain(words) or words[0] in ("s", "garni"):
        return None
    container = container_of(size, size_unit, unit) if size is not None else None
    if size is not None and container is None:
        return None
    tails = None
    if behind or aside:
        tails = _Tails(amount is not None)
        if NO_NAMES.issuperset(words):
            return None
        if not tails.take(behind, aside, known):
            return _take_closely(text, line, group, Measured(None, amount, unit, container), name, behind, aside)
    preparation: list[str] = []
    if not TELLING.isdisjoint(words):
        if behind and is_done(name.strip()):
            return None  # "peeled, sliced apples"
        name, preparation = split_preparation(name, is_container(unit))
    if amount is not None and unit is None and (found := counted(name)) is not None:
        if pair is not None:
            return None
        name, unit = found
    items = pair or (name,)
    if tails is None:
        told = ", ".join(preparation) or None
        return quick_ingredient(text, line, group, amount, unit, name, items, container=container, preparation=told)
    return quick_ingredient(
        text,
        line,
        group,
        amount,
        unit,
        name,
        items,
        container=container,
        how=tails.how,
        preparation=", ".join(preparation + tails.preparation) or None,
        purpose=tails.purpose,
        optional=tails.optional,
        remark="; ".join(tails.remark) or None,
        instead=tails.instead,
    )


def _take_closely(
    text: str, line: int, group: str | None, measured: Measured, name: str, behind: str, aside: str | None
) -> Ingredient | None:
    """A plain beginning with what needs a closer look behind it; None where that may change the name."""
    parts = [Part("comma", part) for part in behind[2:].split(", ")] if behind else []
    if (
        " or " in behind
        or "size of" in text
        or any(OR.match(part.text) for part in parts)
        or (parts and aside and OR.match(aside))
    ):
        return None
    if aside and (said := aside.strip(" ,;").strip(" ,;.")):
        parts.append(Part("bracket", said))
    draft = Draft(measured=measured)
    name, phrases = split_preparation(name, is_container(measured.unit))
    for phrase in phrases:
        if not draft.take_phrase(phrase):
            draft.preparation.append(phrase)
    for part in parts:
        draft.take(part)
    found = draft.measured
    if found.amount is not None and found.unit is None and (split := counted(name)):
        name, found.unit = split
    return draft.as_ingredient(text, line, group, name)


def _only_of(words: list[str], known: Vocabulary) -> bool:
    """Whether the name says no more than what it is of: "leg of lamb"."""
    for at, word in enumerate(words):
        if word in known.said and (word != "of" or at in (0, len(words) - 1) or words[at + 1] in _NOT_OF):
            return False
    return True


_NOT_OF = frozenset(("your", "choice", "a", "an", "the", "one"))


def _pair(name: str, words: list[str], known: Vocabulary) -> tuple[str, ...] | None:
    """The two things of "salt and pepper"; None for words that say more than that."""
    if words.count("and") != 1 or not TELLING.isdisjoint(words):
        return None
    at = words.index("and")
    first, second = words[:at], words[at + 1 :]
    if not first or not second or not known.said.isdisjoint(first) or not known.said.isdisjoint(second):
        return None
    if not known.plain(second) or second[0] in _OPENING or NO_NAMES.issuperset(first) or NO_NAMES.issuperset(second):
        return None
    if is_one_thing(name):
        return None
    spelt = name.split()
    return " ".join(spelt[:at]), " ".join(spelt[at + 1 :])


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
        if _ASIDE.fullmatch(aside) is None or aside.split(" ", 1)[0].lower() in _TALK:
            return self._take_talk(aside)
        if aside.startswith("or ") and aside[3:] in _MORE:
            return self._take(aside, known, True)
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
        if part in _SERVED and self.purpose is None:
            self.purpose = part
            return True
        if part in _FRUIT:
            self.preparation.append(part)
            return True
        if part.startswith(_ADDED) or (part.startswith("or ") and part[3:] in _MORE):
            self.remark.append(part)
            return self.measured and "opt" not in part
        words = part.lower().split()
        if words[0] in DONE and _NOT_PLAIN.isdisjoint(words):
            talk = bracket and is_talk(part)
            (self.remark if talk else self.preparation).append(part)
            return not talk or self.measured
        if any(word[0].isdigit() for word in words):
            return False
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

    def _take_talk(self, aside: str) -> bool:
        """Talk in brackets: "(I like mine sweet)"."""
        words = aside.lower().replace(",", " ").split()
        if not self.measured or not words or words[0] not in _TALK or "opt" in aside.lower():
            return False
        self.remark.append(aside.strip(" ,;").strip(" ,;.\t"))
        return True

    def _take_other(self, name: str, known: Vocabulary) -> bool:
        """One thing that may stand in, without an amount."""
        words = name.lower().split()
        if (
            any(word[0].isdigit() for word in words)
            or words[0] in _OPENING
            or words[0] in _NONE
            or not known.plain(words)
        ):
            return False
        if not known.said.isdisjoint(words) or not TELLING.isdisjoint(words) or NO_NAMES.issuperset(words):
            return False
        self.instead = ((Alternative(None, None, name),),)
        return True


_SERVED = frozenset(f"to {what}" for what in ("serve", "garnish", "decorate", "finish", "cover", "coat", "season"))
_FRUIT = frozenset(("juice of", "zest of", "juice only", "zest only", "juice and zest", "zest and juice"))
_ADDED = ("plus more ", "plus extra ")
_MORE = frozenset(("to taste", "more to taste", "more", "less", "as needed"))
_NOT_PLAIN = frozenset(("or", "and/or", "optional", "optionally", "opt"))
_NONE = frozenset(("so", "whatever", "however", "any", "other", "try", "just", "equivalent", "thereabouts", "both"))
