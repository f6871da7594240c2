"""What a step says, wording aside: heat, times, sizes, what goes in, what is done."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.model import Ingredient
from recipebox.compare.naming import step_names
from recipebox.compare.words import plain

_NUMBER = r"(\d+(?:\.\d+)?(?:\s*[½¼¾⅓⅔]|\s+\d+/\d+)?|\d+/\d+|[½¼¾⅓⅔])"
_RANGE = rf"{_NUMBER}(?:\s*(?:-|–|to|or)\s*{_NUMBER})?"
_TIME = re.compile(rf"{_RANGE}\s*-?\s*(seconds?|secs?|minutes?|mins?|hours?|hrs?|days?)\b")
_HEAT = re.compile(
    rf"{_RANGE}\s*(?:°|º|degrees?|deg\.?)?\s*(f|c|fahrenheit|celsius|centigrade)\b|{_RANGE}\s*(?:°|º|degrees?)"
)
_GLYPHS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"}
_SECONDS = {"s": 1, "m": 60, "h": 3600, "d": 86400}
# What is done, several words for one: common practice, no source. A change from one line to another is a change.
_DONE = {
    word: line.split()[0]
    for line in """
    beat whip
    fold
    simmer
    boil
    bake
    fry saute sear brown
    grill broil
    steam
    poach
    knead
    marinate soak
    freeze
    chill refrigerate
    drain strain
    grind
    puree blend
    mash
    peel
    toast
    """.strip().splitlines()
    for word in line.split()
}


@dataclass(frozen=True, slots=True)
class Facts:
    """The facts of one or several steps. Times in seconds and heats in Fahrenheit, as (low, high)."""

    times: frozenset[tuple[Fraction, Fraction]] = frozenset()
    heats: frozenset[tuple[Fraction, Fraction]] = frozenset()
    things: frozenset[str] = frozenset()
    done: frozenset[str] = frozenset()

    @staticmethod
    def of_all(several: Iterable["Facts"]) -> "Facts":
        """What several steps say together."""
        whole = list(several)
        return Facts(
            frozenset(x for facts in whole for x in facts.times),
            frozenset(x for facts in whole for x in facts.heats),
            frozenset(x for facts in whole for x in facts.things),
            frozenset(x for facts in whole for x in facts.done),
        )

    def words(self) -> tuple[str, ...]:
        """The facts in words, for a person."""
        return (
            *sorted(self.things),
            *sorted(self.done),
            *(f"{_span(heat)} F" for heat in sorted(self.heats)),
            *(_time_words(time) for time in sorted(self.times)),
        )

    def against(self, other: "Facts") -> tuple[tuple[str, ...], tuple[str, ...]]:
        """What `other` says more than this, and what less."""
        return _more(self, other).words(), _more(other, self).words()


def step_facts(step: str, named: Mapping[Ingredient, str]) -> Facts:
    """The facts of a step, given the card's ingredients and what each is called beside other cards'."""
    text = plain(step).replace("⁄", "/")
    heats = frozenset(_heats(text))
    times = frozenset(_times(text))
    words = set(re.findall(r"[a-z]+", text))
    done = frozenset(_DONE[word] for word in (_base(w) for w in words) if word in _DONE)
    things = frozenset(name for line, name in named.items() if step_names(step, line))
    return Facts(times, heats, things, done)


def _more(one: Facts, other: Facts) -> Facts:
    return Facts(
        frozenset(time for time in other.times if not any(_within(time, known, Fraction(0)) for known in one.times)),
        frozenset(heat for heat in other.heats if not any(_within(heat, known, Fraction(10)) for known in one.heats)),
        other.things - one.things,
        other.done - one.done,
    )


def _within(a: tuple[Fraction, Fraction], b: tuple[Fraction, Fraction], slack: Fraction) -> bool:
    inside = a[0] >= b[0] - slack and a[1] <= b[1] + slack
    return inside or (b[0] >= a[0] - slack and b[1] <= a[1] + slack)


def _heats(text: str) -> Iterable[tuple[Fraction, Fraction]]:
    for match in _HEAT.finditer(text):
        low_text, high_text, scale = match[1] or match[4], match[2] or match[5], (match[3] or "")[:1]
        low = _number(low_text)
        high = _number(high_text) if high_text else low
        if scale == "c" or (not scale and high < 130):
            low, high = low * 9 / 5 + 32, high * 9 / 5 + 32
        if 100 <= low <= 600:
            yield low, high


def _times(text: str) -> Iterable[tuple[Fraction, Fraction]]:
    for match in _TIME.finditer(text):
        low = _number(match[1])
        high = _number(match[2]) if match[2] else low
        size = _SECONDS[match[3][0]]
        yield low * size, high * size


def _number(text: str) -> Fraction:
    for glyph, plain_text in _GLYPHS.items():
        text = text.replace(glyph, f" {plain_text}")
    return sum((Fraction(word) for word in text.split()), Fraction(0))


def _base(word: str) -> str:
    for ending in ("ing", "ed", "es", "s", "d"):
        if word.endswith(ending):
            bare = word[: -len(ending)]
            for base in (bare, bare + "e", bare[:-1]):
                if base in _DONE:
                    return base
    return word


def _span(pair: tuple[Fraction, Fraction]) -> str:
    low, high = pair
    return str(round(low)) if low == high else f"{round(low)}-{round(high)}"


def _time_words(pair: tuple[Fraction, Fraction]) -> str:
    size, name = (60, "minutes") if pair[1] >= 60 else (1, "seconds")
    if pair[0] >= 7200:
        size, name = 3600, "hours"
    low, high = (str(float(x / size)).removesuffix(".0") for x in pair)
    return f"{low} {name}" if low == high else f"{low}-{high} {name}"
