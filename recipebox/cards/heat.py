"""Ovens: the heat a card says, in one or several scales, and the minutes of each bake."""

import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from recipebox.cards.model import Amount, Bake, Heat, Passage
from recipebox.cards.times import read_time

MOST = 2000  # letters of one step that are looked at
_DEGREES = re.compile(
    r"(?P<low>\d{2,3})\s*(?:°|º|degrees?|deg\.?|grad|degrés|gradi|grados|grader|graden|stopni)?\s*(?:(?:-|–|to"
    r"|bis|à)\s*(?P<high>\d{2,3})\s*)?"
    r"(?P<sign>°|º|˚|degrees?|deg\.?|grad|degrés|gradi|grados|graus|grader|graden|stopni)?\s*"
    r"(?P<scale>fahrenheit|celsius|centigrade|[FfCc](?![a-z]))?(?P<fan>\s*(?:\(?\s*(?:fan|convection|umluft"
    r"|heißluft|chaleur tournante|ventilato|ventilado|hetelucht|varmluft)[\w -]{0,12}\)?))?",
)
_FAN_BEFORE = re.compile(r"(?:fan|convection|umluft|heißluft|varmluft|hetelucht)\s*(?:oven\s*)?:?\s*$", re.IGNORECASE)
_GAS = re.compile(
    r"gas\s*(?:mark)?\s*(?P<low>\d{1,2}|½|¼|1/2|1/4)(?:\s*(?:-|–|to)\s*(?P<high>\d{1,2}))?", re.IGNORECASE
)
_NAMED_HEAT = r"\b(?P<words>(?:very |moderately |fairly |quite )?(?:hot|moderate|medium|slow|cool|warm|low|quick))"
_WORDS = re.compile(_NAMED_HEAT + r"\s+(?:heat )?oven\b", re.IGNORECASE)
_WORDS_ALONE = re.compile(_NAMED_HEAT + r"\b", re.IGNORECASE)
_OVEN = re.compile(
    r"\b(?:oven|bake|baked|bakes|baking|roast|preheat\w*|pre-heat\w*|ofen|backofen|backen|vorheizen|four|cuire"
    r"|enfourne\w*|préchauff\w+|horno|hornear|"
    r"precalent\w+|forno|cuocere|infornare|asse|oven|bak|ugn\w*|grädda|ovn\w*|bag|stek|piekarnik\w*|piec|heat"
    r"|turn|reduce|lower|increase|raise|temperature|gas mark)\b",
    re.IGNORECASE,
)
_NOT_OVEN = re.compile(
    r"\b(?:thermometer|internal|inside|inner|core|syrup|oil|candy|sugar|reads?|reaches|registers|lukewarm|water"
    r"|milk|yeast|warm)\b",
    re.IGNORECASE,
)
_BAKING = re.compile(
    r"\b(?:bake|bakes|baked|baking|roast|roasted|cook|return|oven|back(?:en|t)?|cuire|enfourne\w*|hornea\w*"
    r"|cuocere|asse|bak|grädda|bag|stek|piecz)\b",
    re.IGNORECASE,
)
_TIME_AT = re.compile(
    r"(?<![\d/.])(?=\d)[\d½¼¾ /–-]{1,9}(?:\s*to\s*\d+)?\s*(?:more\s+|further\s+)?(?:hours?|hrs?|minutes?|mins?"
    r"|min\b|h\b|stunden?|std\.?|minuten|heures?|minutos|minuti|uur|minuter|minutter|minut\w*)"
    r"(?:\s*(?:and\s*)?\d+\s*(?:minutes?|mins?|min)\b)?|\b(?:an hour(?: and a half)?|half an hour)",
    re.IGNORECASE,
)
_MORE_BAKING = re.compile(
    r"\b(?:bake|roast|oven)\b.{0,40}\d+ (?:minutes?|mins?|hours?) (?:more|longer|further)|\b(?:bake"
    r"|roast) (?:for )?(?:another|a further) \d",
    re.IGNORECASE,
)
_BAKES = re.compile(r"\s*(?:;|,?\s*\bthen\b|,?\s*\bdann\b|,?\s*\bpuis\b)\s*", re.IGNORECASE)


def read_oven(value: str, line: int) -> tuple[Bake, ...]:
    """The bakes of an `oven:` line, in order: "425 F (220 C), 20 minutes, then 350 for 40"."""
    bakes = []
    scale = None
    for part in _BAKES.split(value[:MOST]):
        settings = tuple(_settings(part, scale))
        minutes = _minutes(part)
        if settings or minutes is not None:
            bakes.append(Bake(part.strip(), line, settings, minutes))
            scale = next((s.scale for s in settings if s.scale in ("F", "C")), scale)
    return tuple(bakes)


def oven_in_steps(steps: Iterable[Passage]) -> tuple[Bake, ...]:
    """The bakes that steps speak of, in order; a heat set while heating the oven belongs to the next baking time."""
    bakes: list[Bake] = []
    waiting: Bake | None = None
    for step in (replace(step, text=step.text[:MOST]) for step in steps):
        if not _DEGREES.search(step.text) and not _GAS.search(step.text) and not _WORDS.search(step.text):
            if (
                waiting is not None
                and _BAKING.search(step.text)
                and (minutes := _baking_minutes(step.text)) is not None
            ):
                bakes.append(replace(waiting, minutes=minutes))
                waiting = None
            elif waiting is None and bakes and _MORE_BAKING.search(step.text):
                minutes = _baking_minutes(step.text)
                bakes.append(Bake(step.text.strip(" ."), step.line, bakes[-1].settings, minutes))
            continue
        baked = ""
        for clause in _clauses(step.text):
            settings = tuple(_settings(clause, None, strict=True))
            minutes = _baking_minutes(clause)
            if not settings and baked and _THEN_AT.match(clause):
                settings = tuple(_settings(clause, None, strict=True, baking=True))
                minutes = _minutes(clause.rstrip(" ."))
            baked = clause if settings else ""
            if settings:
                if waiting is not None and waiting.settings != settings:
                    bakes.append(waiting)
                waiting = Bake(clause.strip(" ,."), step.line, settings, None)
            if settings and minutes is None and _heat_and_time(clause):
                minutes = _minutes(clause)
            if waiting is not None and minutes is not None:
                bakes.append(replace(waiting, minutes=minutes))
                waiting = None
    if waiting is not None:
        bakes.append(waiting)
    return tuple(_without_repeats(bakes))


def baking_minutes_in(steps: Iterable[Passage]) -> Amount | None:
    """The minutes of the first baking that steps speak of."""
    return next((found for step in steps if (found := _baking_minutes(step.text[:MOST])) is not None), None)


def _without_repeats(bakes: list[Bake]) -> list[Bake]:
    """A heat said again later with its minutes ("Heat the oven to 350 ... Bake at 350 for 20 minutes") is one bake."""
    kept: list[Bake] = []
    for bake in bakes:
        if kept and kept[-1].minutes is None and set(bake.settings) & set(kept[-1].settings):
            bake = replace(bake, settings=max(kept[-1].settings, bake.settings, key=len))
            kept.pop()
        kept.append(bake)
    return kept


def _clauses(words: str) -> list[str]:
    return [part for part in re.split(r"(?<=[.;!?])\s+(?=[A-ZÀ-Þ])|\s*\bthen\b\s*|;\s*", words) if part]


_THEN_AT = re.compile(r"(?:at |to |down to |on |for \d+ \w+ at )?\d{3}\b", re.IGNORECASE)


def _settings(words: str, scale: str | None, strict: bool = False, baking: bool = False) -> list[Heat]:
    found: list[tuple[int, Heat]] = []
    for match in _GAS.finditer(words):
        low = _gas(match["low"])
        found.append((match.start(), Heat("gas", Amount(low, _gas(match["high"]) if match["high"] else low))))
    in_oven = not strict or baking or _OVEN.search(words) is not None or _heat_and_time(words)
    for degrees in _DEGREES.finditer(words):
        heat = _degrees(degrees, words, scale, in_oven)
        if heat is not None:
            found.append((degrees.start(), heat))
    if not found:
        named = (_WORDS if strict else _WORDS_ALONE).search(words)
        if named is not None:
            found.append((named.start(), Heat("words", None, False, named["words"].lower())))
    unique: list[Heat] = []
    for _, heat in sorted(found, key=lambda pair: pair[0]):
        if heat not in unique:
            unique.append(heat)
    return unique


def _heat_and_time(words: str) -> bool:
    """ "350° for 30 min" is said of an oven, though none is named, unless something is fried."""
    return _HEAT_AND_TIME.search(words) is not None and _FRIED.search(words) is None


_HEAT_AND_TIME = re.compile(
    r"\b\d{3}\s*(?:°|º|degrees?)\s*(?:[FfCc]\b)?,?\s+(?:for\s+)?(?:about\s+)?\d[\d½¼¾ /–-]{0,8}\s*"
    r"(?:min|hours?\b|hrs?\b)",
    re.IGNORECASE,
)
_FRIED = re.compile(r"\b(?:fry|fried|deep|grill|smoke|oil|fat|air)", re.IGNORECASE)


def _degrees(match: re.Match[str], words: str, scale: str | None, in_oven: bool) -> Heat | None:
    low = Fraction(match["low"])
    high = Fraction(match["high"]) if match["high"] else low
    named = match["scale"]
    before = words[: match.start()]
    if not named and not match["sign"]:
        behind = words[match.end() : match.end() + 14].lower()
        if (
            not in_oven
            or not 100 <= low <= 550
            or re.match(r"\s*(?:-|–)?\s*(?:min|hour|sec|g\b|gram|ml|kg|oz|lb|cal|kcal|cm|mm)", behind)
        ):
            return None
    if not in_oven or (before and before[-1].isalnum()):
        return None
    near = before[-40:]
    if _NOT_OVEN.search(near) and not re.search(r"\boven\b", near, re.IGNORECASE):
        return None
    if low > 600 or low < 40:
        return None
    if named:
        letter = "F" if named[0] in "Ff" else "C"
    elif scale and (scale == "F") == (low > 260):
        letter = scale
    else:
        # ovens are marked up to 260 C and from 200 F; a bare 250 or less is Celsius unless F was said before
        letter = "F" if low >= 275 or (scale == "F") else "C"
    fan = bool(match["fan"]) or _FAN_BEFORE.search(before[-18:]) is not None
    return Heat(letter, Amount(low, max(low, high)), fan)


def _gas(words: str) -> Fraction:
    return {"½": Fraction(1, 2), "¼": Fraction(1, 4)}.get(words) or Fraction(words)


def _minutes(words: str) -> Amount | None:
    match = _TIME_AT.search(words)
    if match is not None:
        return read_time(re.sub(r"\b(?:more|further)\s+", "", match[0]))
    bare = re.search(r"\bfor (\d{1,3})(?:\s*(?:-|–|to)\s*(\d{1,3}))?\s*$", words)
    if bare is None:
        return None
    return Amount(Fraction(bare[1]), Fraction(bare[2] or bare[1]))


def _baking_minutes(words: str) -> Amount | None:
    """The minutes of the first baking that a clause speaks of."""
    for baking in _BAKING.finditer(words):
        after = words[baking.start() :]
        if match := _TIME_AT.search(after):
            return read_time(re.sub(r"\b(?:more|further)\s+", "", match[0]))
    times = list(_TIME_AT.finditer(words))
    if len(times) == 1 and _BAKING.search(words):
        return read_time(re.sub(r"\b(?:more|further)\s+", "", times[0][0]))
    return None
