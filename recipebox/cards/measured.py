"""The measure at the start of a line: how, how much, in what, of what printed size."""

import re

from recipebox.cards.amounts import read_amount
from recipebox.cards.measureparts import ONE, Measured, measure_at, skip, skip_space
from recipebox.cards.measurewords import (
    ABOUT,
    ABROAD_ONE,
    ALSO,
    BEFORE,
    BRACKET,
    CLOSE,
    HOW,
    LESS,
    NOT_UNITS,
    OF,
    OF_A,
    OR_MORE,
    OR_SO,
    PIECE,
    PLUS,
    SIZE,
    TIMES_WORD,
    VAGUE,
)
from recipebox.cards.model import Amount, Measure
from recipebox.cards.plainmeasure import read_plain_measure
from recipebox.cards.printedsize import joined_size, printed_size
from recipebox.cards.unitwords import is_container, is_measure, read_unit, system
from recipebox.cards.wordlists import listed

# Letters that begin neither "x", "of", nor "or", "and", "plus", "minus", "less": most names.
_PLAIN_LETTERS = frozenset("abcdefghijklmnpqrstuvwyzABCDEFGHIJKLMNPQRSTUVWYZ")
_PLAIN_NAMES = _PLAIN_LETTERS - frozenset("aplmAPLM")
_SIZE_SIGN = re.compile(r"[\d(\[#½¼¾⅓⅔⅛-]")
_IN_A_NAME = re.compile(r"%|-(?=[^\W\d_])")
_LENGTHS = ("inch", "centimetre", "millimetre")
# Spoken without a number: "pinch of salt". Plurals and foods ("bar", "roll") are not among them.
_SPOKEN = listed(
    "pinch dash handful splash drizzle knob squeeze bunch sprig glug fistful sprinkling cup teaspoon tablespoon clove "
    "stick can package packet jar slice piece"
)

_SMALL = _SPOKEN & listed("pinch dash handful splash drizzle knob squeeze bunch sprig glug") | {"drop"}


def read_measured(words: str) -> Measured:
    """The measure at the start of `words`; `end` is where the name begins. Without an amount only `how` may be set."""
    if (plain := read_plain_measure(words)) is not None:
        return plain
    return read_measure_closely(words)


def read_measure_closely(words: str) -> Measured:
    """As `read_measured`, without the short way for plain measures."""
    found = Measured()
    at = 0
    for _ in range(0 if words[:1].isdigit() else 4):
        before = BEFORE.match(words, at)
        if before is None:
            break
        found.how = HOW.get(before[1].lower(), found.how)
        at = before.end()
    if vague := VAGUE.match(words, at):
        return _vague(words, vague.end(), found)
    first = read_amount(words[at : at + 120])
    if first is None and (one := ABROAD_ONE.match(words, at)) and read_unit(words, one.end()):
        first = ONE, one.end() - at
    if first is None:
        return _unnumbered(words, at, found)
    found.amount, at = first[0], at + first[1]
    if (end := joined_size(words, at, found)) is not None:
        return _following(words, end, found)
    if words[at + 1 : at + 2] not in _PLAIN_LETTERS:
        at = _again(words, at, found)
    if _SIZE_SIGN.search(words, at, at + 60):
        at = _printed(words, at, found)
    if found.unit is None:
        at = _unit(words, at, found)
    if found.unit is None and found.container is None and _IN_A_NAME.match(words, at):
        return Measured(how=found.how)  # "7-grain bread", "2% milk"
    return _following(words, at, found)


def _printed(words: str, at: int, found: Measured) -> int:
    """Behind a printed size, also behind a word of size: "1 large (28 oz) can"."""
    if sized := SIZE.match(words, skip(words, at)):
        end = printed_size(words, sized.end(), found)
        if end != sized.end():
            return end
    return printed_size(words, at, found)


def may_measure(words: str) -> bool:
    """Whether words can begin with a measure at all: they hold a number, or one of the words that begin one."""
    if _DIGIT.search(words) is not None:
        return True
    return not _OPENING.isdisjoint(_TOKENS.findall(words[:40].lower()))


_DIGIT = re.compile(r"[0-9½⅓⅔¼¾⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒]")
_TOKENS = re.compile(r"[^\W\d_]+")
# Words that a measure without figures begins with, of which one must be among the first.
_OPENING = _SPOKEN | listed(
    """a an one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen twenty
    thirty forty fifty hundred half halves third thirds quarter quarters fourth fourths eighth eighths couple pair few
    several some little bit lot lots plenty enough un une ein eine einen einem einer et ett en una uno"""
)
# What a measure that is the whole of some words begins with, if not with a number.
_FIRST = _OPENING | listed(
    """about approx approximately around roughly ca circa from weighing each makes use maybe perhaps say scant scanty
    heaped heaping rounded generous overflowing level good up at another additional extra just over under nearly
    almost between"""
)


def only_measure(words: str) -> Measured | None:
    """A measure that is the whole of `words` ("about 2 cups", "14 oz each", "2 large"), or None."""
    if words[:1].isalpha() and _TOKENS.findall(words[:20])[0].lower() not in _FIRST:
        return None
    if not may_measure(words):
        return None
    start = ABOUT.match(words)
    at = start.end() if start else 0
    measured = read_measured(words[at:])
    measured.each = words[:4].lower() == "each"
    if measured.amount is None:
        return None
    rest = words[at + measured.end :].strip(" .)")
    if OR_SO.fullmatch(rest):
        measured.each = measured.each or rest.lower() in ("each", "apiece")
        return measured
    if measured.unit is None and SIZE.fullmatch(rest + " "):
        measured.size = rest
        return measured
    return None


def _vague(words: str, at: int, found: Measured) -> Measured:
    """ "a few sprigs of thyme": a unit, but no number."""
    unit = read_unit(words, at)
    if unit and (not is_measure(unit[0]) or unit[0] in _SMALL) and words[unit[1] : unit[1] + 1] == " ":
        found.unit, at = unit
        of = OF.match(words, at)
        at = of.end() if of else at
    found.end = at
    return found


def _unnumbered(words: str, at: int, found: Measured) -> Measured:
    """ "Pinch of salt", "scant cup sugar": a unit without a number is one."""
    start = at
    for _ in range(2):
        if size := SIZE.match(words, start):
            start = size.end()
    unit = read_unit(words, start)
    named = words[start : unit[1]].rstrip(".").lower() if unit else ""
    if unit and at > 0 and unit[1] == len(words) and not is_measure(unit[0]):
        said = words[at:start].strip(" -") or None
        return Measured(how=found.how, amount=ONE, unit=unit[0], size=said, end=unit[1])  # "parsley, a big handful"
    of = OF.match(words, unit[1]) if unit else None
    said_of = of is not None and of.group().lower().strip().startswith("of")
    counted = said_of and unit is not None and not is_measure(unit[0]) and named[-1:] != "s"  # "tin of tomatoes"
    spoken = unit is not None and unit[0] in _SPOKEN and (named == unit[0] or at > 0)
    if not unit or of is None or words[unit[1] : unit[1] + 1] != " " or of.end() == len(words):
        return Measured()
    if counted or (spoken and (unit[0] in _SMALL or said_of or at > 0)):
        said = words[at:start].strip(" -") or None
        return Measured(how=found.how, amount=ONE, unit=unit[0], size=said, end=of.end())
    return Measured()


def _again(words: str, at: int, found: Measured) -> int:
    """Over what may follow a number: the same number once more, "(or 4)", "x", "of a"."""
    if more := OR_MORE.match(words, at):
        second = read_amount(words[more.end() : more.end() + 40])
        close = words[more.end() + second[1] : more.end() + second[1] + 1] if second else ""
        if second and found.amount and close == ")" and second[0].low > found.amount.low:
            found.amount = Amount(found.amount.low, second[0].high)
            return more.end() + second[1] + 1
    space = skip_space(words, at)
    second = read_amount(words[space : space + 60]) if space > at and words[space : space + 1].isdigit() else None
    if second and second[0] == found.amount and words[space + second[1] : space + second[1] + 1] == " ":
        unit = read_unit(words, space + second[1] + 1)
        holder = read_unit(words, skip(words, unit[1])) if unit else None
        if not (holder and is_container(holder[0])):
            return space + second[1]  # "2 2 slices", "1⁄2 1/2 cup": the amount written twice
    if times := TIMES_WORD.match(words, at):
        return times.end() - 1
    of_a = OF_A.match(words, at)
    return of_a.end() if of_a else at


def _unit(words: str, at: int, found: Measured) -> int:
    """The unit behind the amount, over words of size."""
    start = skip(words, at)
    for _ in range(4):
        unit = read_unit(words, start)
        if unit and _is_unit_here(words, unit, words[skip(words, at) : start]):
            found.unit = unit[0]
            if size := words[skip(words, at) : start].strip(" -"):
                found.how = HOW.get(size.split()[0].lower(), found.how)
                found.size = None if size.lower() in HOW or size.lower() == "level" else size
            if unit[0] in _LENGTHS and not PIECE.match(words, unit[1]) and words[start - 1 : start] == "-":
                found.amount = found.unit = None  # "9-inch pie crust" is no amount
            return unit[1]
        size_word = SIZE.match(words, start)
        if size_word is None:
            break
        start = size_word.end()
    return at


def _is_unit_here(words: str, unit: tuple[str, int], size: str) -> bool:
    name, end = unit
    behind = words[end : end + 20].lstrip(" -").lower()
    if behind.startswith(NOT_UNITS.get(name, ("\0",))):
        return False
    if size.lower().startswith("half") and is_measure(name):
        return False  # "2 half pints" are not two pints
    # "4 leaf-lettuce", "1 can-sized": a counting word joined to a name is part of it
    return not (words[end : end + 1] == "-" and not is_measure(name) and not behind[:1].isdigit())


def _following(words: str, at: int, found: Measured) -> Measured:
    """What may stand between unit and name: a second measure, something added, a printed size, "of"."""
    for _ in range(4):
        if words[at : at + 1] == " " and words[at + 1 : at + 2] in _PLAIN_NAMES:
            break
        here = _more(words, at, found)
        if here is None:
            break
        at = here
    unit = found.unit
    if unit and words[at : at + 4].lower() == " or " and (other := read_unit(words, at + 4)):
        found.size, at = words[at + 1 : other[1]], other[1]  # "1 can or jar of olives"
    if unit in _LENGTHS:
        piece = PIECE.match(words, at)
        at = piece.end() if piece else at
    elif unit and is_measure(unit):
        holder = read_unit(words, skip(words, at))
        if holder and _holds(words, holder) and words[holder[1] : holder[1] + 1] in (" ", "", ","):
            found.also += (Measure(ONE, holder[0]),)
            at = holder[1]
    of = OF.match(words, at)
    found.end = of.end() if of and (unit or "of" in of.group()) else skip_space(words, at)
    return found


def _holds(words: str, holder: tuple[str, int]) -> bool:
    """Whether a unit behind a measure is what the shop sells it in: "400g tin", but not "2 cups canned peaches"."""
    name, end = holder
    return (is_container(name) or name == "sheet") and not words[:end].lower().endswith("canned")


def _more(words: str, at: int, found: Measured) -> int | None:
    """Where the next measure beside the first ends, once it is put in its place; None if none follows."""
    if found.unit is None:
        return None
    if bracket := BRACKET.match(words, at):
        return _bracketed(words, bracket.end(), found)
    joint = PLUS.match(words, at)
    if not is_measure(found.unit):  # "1 stick plus 2 tablespoons butter", but not "1 can and 1 cup"
        added = measure_at(words, joint.end()) if joint and joint[0].strip(" ,").lower() in ("+", "plus") else None
        if added is None or not is_measure(added[0].unit):
            return None
        found.plus += (added[0],)
        return added[1]
    if less := LESS.match(words, at):
        taken = measure_at(words, less.end())
        if taken:
            found.size, found.unsure = words[less.start() : taken[1]].strip(" ,"), True
            return taken[1]
    added = measure_at(words, joint.end()) if joint else None
    if added and is_measure(added[0].unit):
        found.plus += (added[0],)
        return added[1]
    joint = ALSO.match(words, at)
    same = measure_at(words, joint.end()) if joint else None
    if same and is_measure(same[0].unit):
        found.also += (same[0],)
        return same[1]
    space = skip(words, at)
    beside = measure_at(words, space) if space > at else None
    if beside is None or not is_measure(beside[0].unit):
        return None
    if system(beside[0].unit) == system(found.unit) and not found.also:
        found.plus += (beside[0],)
    else:
        found.also += (beside[0],)
    return beside[1]


def _bracketed(words: str, at: int, found: Measured) -> int | None:
    lead = ABOUT.match(words, at)
    second = measure_at(words, lead.end() if lead else at)
    if second is None:
        return None
    joint = ALSO.match(words, second[1])
    third = measure_at(words, joint.end()) if joint else None
    close = CLOSE.match(words, third[1] if third else second[1])
    if close is None:
        return None
    one = is_container(found.unit) or (close["each"] is not None and not is_measure(found.unit))
    if one and found.container is None:
        found.container = second[0]
    else:
        found.also += (second[0],)
    if third:
        found.also += (third[0],)
    return close.end()
