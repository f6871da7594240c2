"""The measure at the start of a line: how, how much, in what, of what printed size."""

import re
from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.model import Amount, Measure
from recipebox.cards.unitwords import is_container, is_measure, read_unit, system

_HOW = {
    "about": "about", "approx": "about", "approximately": "about", "around": "about", "roughly": "about",
    "circa": "about", "ca": "about", "~": "about", "nearly": "about", "almost": "about", "c.": "about",
    "scant": "scant", "scanty": "scant", "heaped": "heaped", "heaping": "heaped", "rounded": "heaped",
    "generous": "heaped", "overflowing": "heaped",
}  # fmt: skip
_BEFORE = re.compile(
    r"(?:(about|approximately|approx|around|roughly|circa|ca(?=[. ])|nearly|almost|scanty?|heap(?:ed|ing)|rounded|generous|"
    r"overflowing|level|good|up to|at least|another|additional|extra|an additional|just (?:under|over)|a(?= (?:scant|heap|round|generous|level|good)))"
    r"\b\.?|(~))\s*",
    re.IGNORECASE,
)
_SIZE = re.compile(
    r"(?:(?:extra[- ])?(?:large|small)|medium|big|thick|thin|whole|full|level|heap(?:ed|ing)|rounded|scant|generous|packed"
    r"|regular|long|short|good|fat|firmly|loosely|lightly|tightly|well|giant|jumbo|mini|little|tall|standard|wide|very"
    r"|(?:medium|small|large|regular|good)[- ]sized?|double|fresh|dried|hot|cold|plump|wee|metric|slightly)(?:\s+(?:of\s+)?|-(?=\w))",
    re.IGNORECASE,
)
_TIMES = re.compile(r"\s?[x×]\s?(?=[\d½¼¾⅓⅔])", re.IGNORECASE)
_BRACKET = re.compile(r"\s*[(\[]\s*")
_CLOSE = re.compile(
    r"[\s.]*(?:each|apiece|size|sized|in weight|total|weight|drained weight)?[\s.]*[)\]]\s*", re.IGNORECASE
)
_ABOUT = re.compile(
    r"(?:about|approx(?:imately)?\.?|around|roughly|ca\.|circa|or|=|~|from|weighing|each)?\s*", re.IGNORECASE
)
_SPACES = re.compile(r"[\s.]*(?:-\s?)?")
_PLUS = re.compile(r"[\s,]*(?:\+|\bplus\b|\band\b|&)\s*", re.IGNORECASE)
_ALSO = re.compile(r"\s*(?:/|\||=|;|\bor\b|~)\s*(?:about\s)?", re.IGNORECASE)
_OF = re.compile(r"[\s.]*(?:of the\b|of\b|de la\b|de\b|d['’]|du\b|worth of\b)?\s*", re.IGNORECASE)
_NOT_UNITS = {"strip": ("steak", "loin"), "cube": ("steak",), "stick": ("blender",), "link": ("sausage mix",)}


@dataclass
class Measured:
    """What a line's measure says; fields as in Ingredient."""

    how: str | None = None
    amount: Amount | None = None
    unit: str | None = None
    container: Measure | None = None
    plus: tuple[Measure, ...] = ()
    also: tuple[Measure, ...] = ()
    size: str | None = None
    end: int = 0


def read_measured(words: str) -> Measured:
    """The measure at the start of `words`; `end` is where the name begins. Without an amount only `how` may be set."""
    found = Measured()
    at = 0
    for _ in range(3):
        before = _BEFORE.match(words, at)
        if before is None:
            break
        found.how = _HOW.get((before[1] or before[2]).lower(), found.how)
        at = before.end()
    first = read_amount(words[at : at + 120])
    if first is None:
        return _unmeasured(words)
    found.amount, at = first[0], at + first[1]
    at = _sized(words, at, found)
    if found.unit is None:
        at = _unit(words, at, found)
    return _following(words, at, found)


def only_measure(words: str) -> Measured | None:
    """A measure that is the whole of `words` ("about 2 cups", "14 oz each"), or None."""
    start = _ABOUT.match(words)
    at = start.end() if start else 0
    measured = read_measured(words[at:])
    if measured.amount is None:
        return None
    rest = words[at + measured.end :].strip(" .)").lower()
    if rest in (
        "",
        "each",
        "apiece",
        "total",
        "in total",
        "in all",
        "weight",
        "drained weight",
        "more or less",
        "or so",
    ):
        return measured
    return None


def _unmeasured(words: str) -> Measured:
    """ "Pinch of salt", "Handful parsley": a unit without a number is one."""
    at = 0
    size = _SIZE.match(words)
    if size:
        at = size.end()
    unit = read_unit(words, at)
    bare = {
        "pinch",
        "dash",
        "handful",
        "sprinkle",
        "splash",
        "drizzle",
        "knob",
        "squeeze",
        "bunch",
        "sprig",
        "glug",
        "fistful",
    }
    if unit and unit[0] in bare:
        of = _OF.match(words, unit[1])
        end = of.end() if of else unit[1]
        if end < len(words) and words[unit[1] : unit[1] + 1] == " ":
            return Measured(amount=Amount(Fraction(1), Fraction(1)), unit=unit[0], end=end, how=None)
    return Measured()


def _sized(words: str, at: int, found: Measured) -> int:
    """A printed size between amount and unit: 1 (14.5 oz) can, 2 14-oz. cans, 1 x 400 g tin, a 10-ounce package."""
    times = _TIMES.match(words, at)
    bracket = None if times else _BRACKET.match(words, at)
    joint = times or bracket or _SPACES.match(words, at)
    start = joint.end() if joint else at
    if bracket:
        lead = _ABOUT.match(words, start)
        start = lead.end() if lead else start
    size = read_amount(words[start : start + 60])
    if size is None or start == at:
        return at
    gap = _SPACES.match(words, start + size[1])
    unit = read_unit(words, gap.end() if gap else start + size[1])
    if unit is None or not is_measure(unit[0]):
        return at
    end = unit[1]
    if bracket:
        also = _ALSO.match(words, end)
        second = read_amount(words[also.end() : also.end() + 60]) if also else None
        if also and second:
            other = read_unit(words, _skip(words, also.end() + second[1]))
            end = other[1] if other else end
        thick = re.compile(r"[\s-]*(?:thick|long|wide|square|round|diameter)").match(words, end)
        close = _CLOSE.match(words, thick.end() if thick else end)
        if close is None:
            return at
        end = close.end()
    else:
        end = _skip(words, end)
    holder_at = _skip_sizes(words, end)
    holder = read_unit(words, holder_at)
    container = Measure(size[0], unit[0])
    if holder and not is_measure(holder[0]):
        found.unit, found.container = holder[0], container
        return holder[1]
    if times and not (holder and is_container(holder[0])):
        found.container = container
        return end
    if bracket:
        found.container = container
        return end
    if unit[0] in ("inch", "centimetre", "millimetre"):
        return at
    if words[:at].lower().strip() in ("a", "an") or words[start + size[1] : start + size[1] + 1] == "-":
        found.container = container
        return end
    return at


def _unit(words: str, at: int, found: Measured) -> int:
    """The unit behind the amount, over words of size."""
    start = _skip(words, at)
    for _ in range(3):
        unit = read_unit(words, start)
        if unit and _is_unit_here(words, unit, found):
            found.unit = unit[0]
            size = words[_skip(words, at) : start].strip(" -")
            if size:
                word = size.split()[0].lower()
                found.how = _HOW.get(word, found.how)
                found.size = None if word in _HOW or word == "level" else size
            return unit[1]
        size_word = _SIZE.match(words, start)
        if size_word is None:
            break
        start = size_word.end()
    return at


def _is_unit_here(words: str, unit: tuple[str, int], found: Measured) -> bool:
    name, end = unit
    behind = words[end : end + 20].lstrip(" -").lower()
    if behind.startswith(_NOT_UNITS.get(name, ("\0",))):
        return False
    if words[end : end + 1] == "-" and not is_measure(name) and not behind[:1].isdigit():
        return False  # "4 leaf-lettuce", "1 can-sized"
    return bool(behind) or is_measure(name) or found.amount is None or name in ("can", "package")


def _following(words: str, at: int, found: Measured) -> Measured:
    """What may stand between unit and name: a second measure, something added, a printed size, "of"."""
    for _ in range(4):
        here = _more(words, at, found)
        if here is None:
            break
        at = here
    unit = found.unit
    if unit and is_measure(unit):
        piece = re.compile(r"[\s.-]*(?:thick |long )?(?:piece|knob|chunk|length|stick|slice|cube|strip)s?\b").match(
            words, at
        )
        if unit in ("inch", "centimetre", "millimetre"):
            at = piece.end() if piece else at
        else:
            holder = read_unit(words, _skip(words, at))
            if holder and is_container(holder[0]) and words[holder[1] : holder[1] + 1] in (" ", "", ","):
                found.also += (Measure(Amount(Fraction(1), Fraction(1)), holder[0]),)
                at = holder[1]
    of = _OF.match(words, at)
    if of and (unit or of.group().strip(" .").startswith("of")):
        found.end = of.end()
    else:
        found.end = _skip_space(words, at)
    return found


def _more(words: str, at: int, found: Measured) -> int | None:
    if found.unit is None:
        return None
    bracket = _BRACKET.match(words, at)
    if bracket:
        lead = _ABOUT.match(words, bracket.end())
        second = _measure_at(words, lead.end() if lead else bracket.end())
        if second is None:
            return None
        measure, end = second
        third_joint = _ALSO.match(words, end)
        third = _measure_at(words, third_joint.end()) if third_joint else None
        end = third[1] if third else end
        close = _CLOSE.match(words, end)
        if close is None:
            return None
        if is_container(found.unit) and found.container is None:
            found.container = measure
        else:
            found.also += (measure,)
        if third:
            found.also += (third[0],)
        return close.end()
    if not is_measure(found.unit):
        return None
    joint = _PLUS.match(words, at)
    added = _measure_at(words, joint.end()) if joint else None
    if added and is_measure(added[0].unit):
        found.plus += (added[0],)
        return added[1]
    joint = _ALSO.match(words, at)
    same = _measure_at(words, joint.end()) if joint else None
    if same and is_measure(same[0].unit):
        found.also += (same[0],)
        return same[1]
    space = _skip(words, at)
    beside = _measure_at(words, space) if space > at else None
    if beside and is_measure(beside[0].unit):
        if system(beside[0].unit) == system(found.unit):
            found.plus += (beside[0],)
        else:
            found.also += (beside[0],)
        return beside[1]
    return None


def _measure_at(words: str, at: int) -> tuple[Measure, int] | None:
    amount = read_amount(words[at : at + 60])
    if amount is None:
        return None
    unit = read_unit(words, _skip_sizes(words, _skip(words, at + amount[1])))
    return None if unit is None else (Measure(amount[0], unit[0]), unit[1])


def _skip(words: str, at: int) -> int:
    match = _SPACES.match(words, at)
    return match.end() if match else at


def _skip_space(words: str, at: int) -> int:
    while at < len(words) and words[at].isspace():
        at += 1
    return at


def _skip_sizes(words: str, at: int) -> int:
    match = _SIZE.match(words, at)
    return match.end() if match else at
