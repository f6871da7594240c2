"""A whole ingredient line as the kitchen reads it, at whatever batch its amounts stand."""

import re
from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.measured import read_measured
from recipebox.cards.model import Alternative, Amount, Ingredient, Measure
from recipebox.cards.nouns import many, one
from recipebox.cards.things import is_known
from recipebox.cards.unitwords import read_unit
from recipebox.measures.kitchen import heaped, kitchen, kitchen_range
from recipebox.measures.shown import Shown
from recipebox.measures.units import US, Measures, convert
from recipebox.measures.units import unit as unit_named
from recipebox.measures.written import as_it_is

_NUMBER = re.compile(r"[\d /.]+ ")
_NUMBER_BEGINS = re.compile(
    r"(?<![\w.,/½¼¾⅓⅔⅛⅜⅝⅞])(?=[\d½¼¾⅓⅔⅛⅜⅝⅞])|\b(?=an?\b|half\b|one\b|two\b|three\b)", re.IGNORECASE
)
_BETWEEN = re.compile(r"[\s-]*")
_SIZED = re.compile(r"\s*(?:small|medium|large|big)\b", re.IGNORECASE)
_OF_A_PIECE_BEFORE = re.compile(
    r"(?:\b(?:cut|sliced|diced|broken|shaped|torn|chopped) (?:up )?(?:in|into|to)"
    r"|\b(?:per|each|every|from an?|about an?|of an?))\s+(?:about )?$",
    re.IGNORECASE,
)
_OF_A_PIECE_BEHIND = re.compile(
    r"[\s-]*(?:each|apiece|per|(?:\w+ )?(?:pieces?|portions?|chunks?|cubes?|steaks?|fillets?|slices?|balls?|cans?|tins?"
    r"|jars?|packets?|packages?|pkgs?|bags?|box(?:es)?|bottles?|cartons?|blocks?|bars?|pots?|tubs?|size[ds]?))\b",
    re.IGNORECASE,
)
_BY_EYE = frozenset({"heaped", "scant"})
_ARTICLE = re.compile(r"(?:of )?an? ", re.IGNORECASE)
_ALONE_BEFORE = re.compile(r"\((?:(?:or )?(?:about|around|approx\.?|ca\.?)\s+)?$", re.IGNORECASE)  # "(about 4)"
# "1 egg + 1 yolk", "1 lemon and 2 limes": another thing counted, not a time, a length or a part.
_ADDED = re.compile(r"(?:\+|\bplus|\band|&)\s*$", re.IGNORECASE)
_THING = re.compile(
    r"\s+(?!(?:min|hour|hr|sec|day|week|month|inch|in\b|cm\b|mm\b|f\b|c\b|degree|time|people|person|serving)|of\b|more\b)"
    r"[^\W\d_]{3}",
    re.IGNORECASE,
)
_WORDS = re.compile(r"\s*[^,;()\d]{1,40}?(?=\s+and\b|\s+plus\b|[,;()\d]|$)")


def shown_line(line: Ingredient, which: Measures | None = None) -> Shown:
    """The whole line with its amounts rounded as `kitchen` does; `error` is the largest of the line, sign kept.

    Every other word stays as and where it was written, save further amounts among them ("60 g sugar, 120 g butter and
    a teaspoon cinnamon"): a line is scaled wholly. Sizes of a piece, a can or a cut stay. `amount` is the low end
    shown. A line without an amount, or a heading, comes as written.
    """
    if line.kind != "ingredient" or line.amount is None or line.amount.low <= 0:
        return Shown(line.text, Fraction(0), line.unit, Fraction(0))
    writing = _Writing(line, which)
    text = _in_place(line, writing) or _anew(line, writing)
    error = max((part.error for part in writing.parts), key=abs)
    return Shown(text, writing.main.amount, line.unit, error)


class _Writing:
    """The amounts of one line as a kitchen measures them; `parts` are those used so far."""

    def __init__(self, line: Ingredient, which: Measures | None) -> None:
        self.line, self.which = line, which
        amount = line.amount or Amount(Fraction(1), Fraction(1))
        if line.how in _BY_EYE and line.unit is not None and 0 < amount.low == amount.high:
            self.main = heaped(amount.low, line.unit)
        else:
            self.main = self._shown(amount, line.unit, line.item)
        self.parts = [self.main]

    def measure(self, amount: Amount, unit: str | None, item: str | None = None) -> str:
        """The amount in words, counted among the line's."""
        shown = self._shown(amount, unit, item or self.line.item)
        self.parts.append(shown)
        return shown.text

    def opening(self, plus: tuple[Measure, ...], also: tuple[Measure, ...]) -> str:
        """ "about 2 cups plus 1 Tbsp (500 ml)", "2 cans (14 1/2 oz)": all that stands before the item."""
        together = self._together(plus) if plus else ""
        told = [together] if together else [self.main.text, *(self.measure(more.amount, more.unit) for more in plus)]
        words = [_as_told(self.line.how, " plus ".join(told))]
        if self.line.container is not None:
            words.append(f"({_printed(self.line.container)})")
        same_again = [text for same in also if (text := self.measure(same.amount, same.unit)) != self.main.text]
        return " ".join([*words, *(f"({text})" for text in same_again)])

    def _together(self, plus: tuple[Measure, ...]) -> str:
        """ "2 cups plus 2 Tbsp", doubled, is 4 1/4 cups: the sum as one amount; empty where it is none."""
        amounts = [Measure(self.line.amount or Amount(Fraction(1), Fraction(1)), self.line.unit), *plus]
        units = [unit_named(more.unit) if more.unit else None for more in amounts]
        if any(more.amount.low != more.amount.high for more in amounts):
            return ""
        known = [found for found in units if found is not None and found.dimension in ("volume", "weight")]
        if len(known) < len(amounts) or len({found.dimension for found in known}) > 1:
            return ""
        names = [(self.which or US).row(found.name) for found in known]
        first = names[0]
        total = sum(convert(more.amount.low, name, first) for more, name in zip(amounts, names, strict=True))
        self.main = kitchen(total, self.line.unit, self.line.item, self.which)
        self.parts[0] = self.main
        return self.main.text

    def _shown(self, amount: Amount, unit: str | None, item: str) -> Shown:
        if amount.low <= 0 or amount.high <= 0:
            return Shown(as_it_is(amount, unit), amount.low, unit, Fraction(0))
        if amount.low == amount.high:
            return kitchen(amount.low, unit, item, self.which)
        return kitchen_range(amount.low, amount.high, unit, item, self.which)


def _in_place(line: Ingredient, writing: _Writing) -> str | None:
    """The line as written with only its amounts changed; None where they are not found again in its words."""
    opened = _opening(line)
    if opened is None or line.amount is None:
        return None
    before, after = line.text[: opened.start], line.text[opened.end :]
    plus, also = line.plus[: opened.plus], line.also[: opened.also]
    wanted = [(more.amount, more.unit, line.item) for more in (*line.plus[opened.plus :], *line.also[opened.also :])]
    wanted += [(other.amount, other.unit, other.item) for group in line.instead for other in group if other.amount]
    made = writing.opening(plus, also)
    rest = _change(after, wanted, opened.factor, writing)
    if rest is None:
        del writing.parts[1:]
        return None
    head, bent = _heads(line)
    article = _ARTICLE.match(rest)
    if article and line.unit is None and writing.main.amount != Fraction(1, 2):
        rest = rest[article.end() :]  # "1/2 a pepper" four times over is 2 peppers
    if rest.startswith(head):
        rest = bent + rest.removeprefix(head)
    size = f"{opened.size} " if opened.size else ""
    if size and (number := _NUMBER.match(made)):
        made, size = f"{number.group()}{size}{made[number.end() :]}", ""
    return f"{before}{made} {size}{rest}".strip()


@dataclass(frozen=True, slots=True)
class _Opening:
    """Where the line's measure stands in its text, and how many times as much the line is now."""

    start: int
    end: int
    factor: Fraction
    plus: int
    also: int
    size: str | None


def _opening(line: Ingredient) -> _Opening | None:
    for start in dict.fromkeys((0, *(match.start() for match in _NUMBER_BEGINS.finditer(line.text[:200])))):
        found = read_measured(line.text[start:])
        if found.amount is None or line.amount is None or found.amount.low <= 0 or found.unit != line.unit:
            continue
        factor = line.amount.low / found.amount.low
        same_container = found.container == line.container
        if found.amount.high * factor == line.amount.high and same_container and found.end:
            return _Opening(start, start + found.end, factor, len(found.plus), len(found.also), found.size)
    return None


def _change(text: str, wanted: list[tuple[Amount, str | None, str]], factor: Fraction, writing: _Writing) -> str | None:
    """The text with each wanted amount, which stands there at 1/`factor`, as it is now; None where one is not there."""
    made, done = "", 0
    for amount, unit, item in wanted:
        for match in _NUMBER_BEGINS.finditer(text, done):
            read = read_amount(text[match.start() :])
            if read is None or Amount(read[0].low * factor, read[0].high * factor) != amount:
                continue
            end = match.start() + read[1]
            if unit is not None:
                named = read_unit(text, (_BETWEEN.match(text, end) or match).end())
                if named is None or named[0] != unit:
                    continue
                end = named[1]
            made += _further(text[done : match.start()], factor, writing) + writing.measure(amount, unit, item)
            done = end
            break
        else:
            return None
    return made + _further(text[done:], factor, writing)


def _further(text: str, factor: Fraction, writing: _Writing) -> str:
    """Words with the volumes and weights among them `factor` times as much; sizes of one piece or can stay."""
    if factor == 1:
        return text
    made, done = "", 0
    for match in _NUMBER_BEGINS.finditer(text):
        read = read_amount(text[match.start() :]) if match.start() >= done else None
        if read is None or read[0].low <= 0 or _OF_A_PIECE_BEFORE.search(text[: match.start()]):
            continue
        at = match.start() + read[1]
        named = read_unit(text, (_BETWEEN.match(text, at) or match).end())
        known = unit_named(named[0]) if named is not None else None
        measured = known is not None and known.dimension in ("volume", "weight")
        end = named[1] if named is not None and measured else at
        more = _ADDED.search(text[: match.start()]) and _THING.match(text, at)
        alone = _ALONE_BEFORE.search(text[: match.start()]) and text[at : at + 1] == ")"
        if _OF_A_PIECE_BEHIND.match(text, end) or not (measured or more or alone or _SIZED.match(text, at)):
            continue
        amount = Amount(read[0].low * factor, read[0].high * factor)
        behind = _WORDS.match(text, end)
        made += text[done : match.start()]
        made += writing.measure(amount, known.name if known is not None and measured else None, behind and behind[0])
        made += " " if end == at and text[at - 1 : at].isspace() else ""
        done = end
        if more and not measured and behind:
            made += _bent(behind[0], read[0].high <= 1, amount.high <= 1)
            done = behind.end()
    return made + text[done:]


def _anew(line: Ingredient, writing: _Writing) -> str:
    """The line from its data, where the amounts stand too far apart to be changed in their places."""
    head, bent = _heads(line)
    item = bent + line.item.removeprefix(head)
    if (line.unit or "").startswith(f"{line.item} "):
        item = ""  # "butter the size of an egg" names its item
    words = [" ".join(filter(None, (writing.opening(line.plus, line.also), item)))]
    if line.preparation:
        words[-1] += f", {line.preparation}"
    if line.purpose:
        words.append(line.purpose)
    words += ["or " + " plus ".join(_other(other, writing) for other in group) for group in line.instead]
    if line.optional:
        words.append("(optional)")
    if line.remark:
        words.append(f"({_further(line.remark, _factor(line), writing)})")
    return " ".join(words)


def _factor(line: Ingredient) -> Fraction:
    """How many times what its words say a line is; 1 where they say no amount."""
    said = read_ingredient(line.text).amount
    return line.amount.low / said.low if said is not None and line.amount is not None and said.low > 0 else Fraction(1)


def _other(other: Alternative, writing: _Writing) -> str:
    return (
        other.item if other.amount is None else f"{writing.measure(other.amount, other.unit, other.item)} {other.item}"
    )


def _printed(size: Measure) -> str:
    """What the shop sells, never rounded: "14 1/2 oz", "9-inch"."""
    known = unit_named(size.unit) if size.unit else None
    if known is None or known.dimension != "length":
        return as_it_is(size.amount, size.unit)
    return f"{as_it_is(size.amount, None)}-{known.name}"


def _as_told(how: str | None, measured: str) -> str:
    """The amount with how it is meant: "about 2 cups", "2 heaped Tbsp"."""
    if not how or how == "to taste" or how in measured:
        return measured
    number = _NUMBER.match(measured)
    if how == "about" or number is None or "+" in measured or "plus" in measured:
        return f"{how} {measured}"
    return f"{number.group()}{how} {measured[number.end() :]}"


def _heads(line: Ingredient) -> tuple[str, str]:
    """The thing counted, as written, and singular for one or less, plural for more, where the batch changed which."""
    head = re.split(r"(?= with | in | of | for | and | or )", line.item, maxsplit=1)[0]
    written = next(filter(None, (read_amount(line.text[at:]) for at in _numbers_in(line.text))), None)
    if line.unit is not None or line.amount is None or written is None:
        return head, head
    return head, _bent(head, written[0].high <= 1, line.amount.high <= 1)


def _numbers_in(text: str) -> tuple[int, ...]:
    return (0, *(match.start() for match in _NUMBER_BEGINS.finditer(text[:60])))


def _bent(words: str, was_one: bool, is_one: bool) -> str:
    """A thing's name in the number it now has; its own words stand where that has not changed."""
    *before, noun = words.split(" ")
    if was_one == is_one or not noun.isalpha():
        return words
    if not is_one and noun[:1].isupper() and not is_known(words):
        return words  # a noun with a capital that we do not know may be of another language: 2 Ei, not 2 Eis
    return " ".join([*before, one(noun) if is_one else many(noun)])
