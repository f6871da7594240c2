"""What a step says, wording aside: heat, times, sizes, what goes in, what is done."""

import re
from collections.abc import Collection, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from recipebox.cards.model import Amount, Card, Heat, Ingredient
from recipebox.compare.naming import step_names
from recipebox.compare.words import plain
from recipebox.measures import fahrenheit

Span = tuple[Fraction, Fraction]  # low, high

_NUMBER = r"(\d+(?:\.\d+)?(?:\s*[½¼¾⅓⅔]|\s+\d+/\d+)?|\d+/\d+|[½¼¾⅓⅔])"
_RANGE = rf"{_NUMBER}(?:\s*(?:-|–|to|or)\s*{_NUMBER})?"
_TIME = re.compile(rf"{_RANGE}\s*-?\s*(?:more\s+|further\s+)?(seconds?|secs?|minutes?|mins?|hours?|hrs?|days?)\b")
_HEAT = re.compile(
    rf"{_RANGE}\s*(?:°|º|degrees?|deg\.?)?\s*(f|c|fahrenheit|celsius|centigrade)\b|{_RANGE}\s*(?:°|º|degrees?)"
)
_BEFORE_A_STATE = frozenset(("until", "till", "golden", "is", "are", "light", "lightly", "nicely", "a", "or", "turns"))
_SENTENCE_END = re.compile(r"[.!;]\s")
_HOTTEST_C = 241  # a heat without a scale: no oven is set to 230 F to bake, few to 250 C
_GLYPHS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"}
_NUMBERS = {
    "one": 1, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "twelve": 12,
    "fifteen": 15, "twenty": 20, "twenty-five": 25, "thirty": 30, "thirty-five": 35, "forty": 40, "forty-five": 45,
    "fifty": 50, "sixty": 60, "ninety": 90,
}  # fmt: skip
# How cooks say a time: common practice, no source.
_SPOKEN = [
    (re.compile(rf"\b{words}\b"), figures)
    for words, figures in (
        ("half an hour", "30 minutes"),
        ("(?:a )?quarter of an hour", "15 minutes"),
        ("three quarters of an hour", "45 minutes"),
        ("an hour and a half", "90 minutes"),
        ("(?:an|one) hour", "1 hour"),
        ("a minute", "1 minute"),
        ("(?:a couple of|two)(?= (?:minutes|hours|days|or|to))", "2"),
        *(
            (rf"{word}(?= (?:more |further )?(?:to|or|minutes?|hours?|mins?|days)\b)", str(number))
            for word, number in _NUMBERS.items()
        ),
    )
]
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
    """The facts of one or several steps. Times in seconds and heats in Fahrenheit, as (low, high).

    `things` are what the step names of the card's list, `unlisted` what it puts in besides.

    A time of two sentences counts twice.
    """

    times: tuple[Span, ...] = ()
    heats: frozenset[Span] = frozenset()
    things: frozenset[str] = frozenset()
    done: frozenset[str] = frozenset()
    unlisted: frozenset[str] = frozenset()

    @staticmethod
    def of_all(several: Iterable["Facts"]) -> "Facts":
        """What several steps say together."""
        whole = list(several)
        return Facts(
            tuple(sorted(x for facts in whole for x in facts.times)),
            frozenset(x for facts in whole for x in facts.heats),
            frozenset(x for facts in whole for x in facts.things),
            frozenset(x for facts in whole for x in facts.done),
            frozenset(x for facts in whole for x in facts.unlisted),
        )

    def words(self) -> tuple[str, ...]:
        """The facts in words, for a person."""
        return (
            *sorted(self.things),
            *sorted(self.unlisted),
            *sorted(self.done),
            *(f"{_span(heat)} F" for heat in sorted(self.heats)),
            *(_time_words(time) for time in sorted(self.times)),
        )

    def against(self, other: "Facts") -> tuple[tuple[str, ...], tuple[str, ...]]:
        """What `other` says more than this, and what less.

        What is done differs only where each does what the other does not: a cook may leave the verb unsaid.
        """
        more, less = self.more_in(other), other.more_in(self)
        if not (more.done and less.done):
            more, less = replace(more, done=frozenset()), replace(less, done=frozenset())
        return more.words(), less.words()

    def more_in(self, other: "Facts") -> "Facts":
        """What `other` says that these facts do not."""
        return Facts(
            _unmatched(other.times, self.times),
            frozenset(heat for heat in other.heats if not any(_same_heat(heat, x) for x in self.heats)),
            other.things - self.things,
            other.done - self.done,
            other.unlisted - self.unlisted,
        )

    def share(self, mine: "Facts", others: "Facts") -> "Facts":
        """The part of these facts that is about a step saying `mine`, not about steps beside it saying `others`."""
        more = mine.more_in(self)
        kept = others.more_in(more)
        times = list(self.times)
        for time in more.times:
            if time not in kept.times:
                times.remove(time)
        return Facts(
            tuple(times),
            self.heats - (more.heats - kept.heats),
            self.things - (more.things - kept.things),
            self.done - (more.done - kept.done),
            self.unlisted - (more.unlisted - kept.unlisted),
        )

    def without(self, others: Sequence["Facts"], placed: Container[str]) -> "Facts":
        """These facts without heats that all others say somewhere too, and without things that are not in `placed`."""
        told = [heat for heat in self.heats if all(any(_same_heat(heat, x) for x in other.heats) for other in others)]
        return replace(
            self, heats=self.heats.difference(told), things=frozenset(name for name in self.things if name in placed)
        )


def step_facts(step: str, named: Mapping[Ingredient, str]) -> Facts:
    """The facts of a step, given the card's ingredients and what each is called beside other cards'."""
    text = _figures(plain(step).replace("⁄", "/"))
    heats = frozenset(_heats(text))
    sentences = _SENTENCE_END.split(text)
    times = tuple(sorted(time for sentence in sentences for time in _widest(set(_times(sentence)))))
    done = frozenset(_DONE[word] for word in _verbs(text) if word in _DONE)
    things = frozenset(name for line, name in named.items() if step_names(step, line))
    return Facts(times, heats, things, done)


def _unmatched(times: Iterable[Span], others: Iterable[Span]) -> tuple[Span, ...]:
    """The times that have no like among the others, each of which is the like of one."""
    left = list(others)
    found = []
    for time in times:
        like = next((other for other in left if _within(time, other, Fraction(0))), None)
        if like is None:
            found.append(time)
        else:
            left.remove(like)
    return tuple(found)


def _widest(times: Collection[Span]) -> list[Span]:
    """The times without those that another one holds: "half an hour, about 30 to 35 minutes" is one time."""
    return [time for time in times if not any(time != other and _inside(time, other) for other in times)]


def _inside(a: Span, b: Span) -> bool:
    return b[0] <= a[0] and a[1] <= b[1]


def _same_heat(a: Span, b: Span) -> bool:
    return _within(a, b, Fraction(10))


def _figures(text: str) -> str:
    """Amounts of time told in words, in figures."""
    for words, figures in _SPOKEN:
        text = words.sub(figures, text)
    return text


def _within(a: Span, b: Span, slack: Fraction) -> bool:
    inside = a[0] >= b[0] - slack and a[1] <= b[1] + slack
    return inside or (b[0] >= a[0] - slack and b[1] <= a[1] + slack)


def times_of(step: str) -> frozenset[Span]:
    """The times that a step says, in seconds."""
    return frozenset(_times(_figures(plain(step))))


def oven_facts(card: Card) -> Facts:
    """The heats and times that a card gives of its oven, at its top or anywhere."""
    heats = {fahrenheit(heat) for bake in card.oven for heat in bake.settings} - {None}
    times = {(bake.minutes.low * 60, bake.minutes.high * 60) for bake in card.oven if bake.minutes}
    return Facts(tuple(sorted(times)), frozenset((heat, heat) for heat in heats if heat is not None))


def _verbs(text: str) -> Iterable[str]:
    """The words that bid to do something: "brown the meat", not "brown on top", "until brown" or "boiling water"."""
    words = re.findall(r"[a-z]+(?:-[a-z]+)*|[.;:]", text)
    for at, word in enumerate(words):
        before, behind = words[at - 1] if at else ".", words[at + 1] if at + 1 < len(words) else "."
        if word != "brown" or (before not in _BEFORE_A_STATE and behind not in ("on", "sugar", "rice", "bread")):
            yield word


def _heats(text: str) -> Iterable[Span]:
    """The heats in Fahrenheit; that of a fan oven, which is set lower, only where it is the only one."""
    found: list[Span] = []
    of_a_fan: list[Span] = []
    for match in _HEAT.finditer(text):
        low_text, high_text, scale = match[1] or match[4], match[2] or match[5], (match[3] or "")[:1]
        low = _number(low_text)
        high = _number(high_text) if high_text else low
        scale = scale.upper() or ("C" if high < _HOTTEST_C else "F")
        fan = "fan" in text[match.end() : match.end() + 8].split("/")[0]
        ends = [fahrenheit(Heat(scale, Amount(end, end), fan)) for end in (low, high)]
        if ends[0] is not None and ends[1] is not None and 100 <= ends[0] <= 600:
            (of_a_fan if fan else found).append((ends[0], ends[1]))
    return found or of_a_fan


def _times(text: str) -> Iterable[Span]:
    for match in _TIME.finditer(text):
        low = _number(match[1])
        high = _number(match[2]) if match[2] else low
        size = _SECONDS[match[3][0]]
        yield low * size, high * size


def _number(text: str) -> Fraction:
    for glyph, plain_text in _GLYPHS.items():
        text = text.replace(glyph, f" {plain_text}")
    return sum((Fraction(word) for word in text.split()), Fraction(0))


def _span(pair: Span) -> str:
    low, high = pair
    return str(round(low)) if low == high else f"{round(low)}-{round(high)}"


def _time_words(pair: Span) -> str:
    size, name = (60, "minutes") if pair[1] >= 60 else (1, "seconds")
    if pair[0] >= 7200:
        size, name = 3600, "hours"
    low, high = (str(float(x / size)).removesuffix(".0") for x in pair)
    if low == high == "1":
        name = name.removesuffix("s")
    return f"{low} {name}" if low == high else f"{low}-{high} {name}"
