"""Times as cards state them, in minutes."""

import re
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.model import Amount

ABOUT = re.compile(
    r"^(?:about\b|approximately\b|approx\b\.?|around\b|roughly\b|ca\b\.?|circa\b|up to\b|at least\b|~"
    r"|a generous\b|generous\b|good\b|enough for\b|for\b|serves\b|makes\b)\s*",
    re.IGNORECASE,
)
_TIME = re.compile(r"(?P<n>(?:an?\s+(?:half(?:\s+an?)?\s+)?|half\s+an?\s+|overnight\b)|[\d½¼¾⅓⅔])", re.IGNORECASE)
_UNIT = re.compile(
    r"\s*(?P<plus>\+)?\s*[-–]?\s*(?P<unit>hours?\b|hrs?\.?|h\b\.?|std\.?|stunden?|heures?\b|horas?|ora\b|ore\b|uur\b"
    r"|uren\b|timer?\b|timme\b|timmar\b|godz\w*\.?|"
    r"minutes?\b|mins?\b\.?|m\b|minuten|minutos?\b|minuti|minutter|minuter|minut\w*|seconds?|secs?\.?|days?|tage?|'|’)",
    re.IGNORECASE,
)
_HALF = re.compile(r"\s*and a half(?=\s|$)", re.IGNORECASE)
_ISO = re.compile(r"P(?:(\d+)D)?T?(?:(\d+)H)?(?:(\d+)M)?(?:\d+S)?$")


def read_time(value: str, whole: bool = False) -> Amount | None:
    """Minutes that words state: "1 hour 20 minutes", "30-40 min", "1 1/2 h", "PT1H20M"; with `whole` nothing else."""
    words = value.strip(" .~*_")
    if iso := _ISO.match(words):
        days, hours, minutes = (int(part or 0) for part in iso.groups())
        total = Fraction(days * 1440 + hours * 60 + minutes)
        return Amount(total, total) if total else None
    words = ABOUT.sub("", words, count=1)
    low = high = Fraction(0)
    at = found = 0
    while (piece := _piece(words, at)) is not None:
        amount, end = piece
        low, high = low + amount.low, high + amount.high
        at = end
        found += 1
        gap = re.match(r"\s*(?:,|and|und|et|y|e|&|\+)?\s*", words[at:])
        step = at + (gap.end() if gap else 0)
        if not _TIME.match(words, step):
            break
        at = step
    if not found:
        if re.fullmatch(r"\d{1,3}", words) and whole:
            return Amount(Fraction(int(words)), Fraction(int(words)))
        return None
    rest = words[at:].strip(" .")
    if (
        whole
        and rest
        and not re.match(
            r"[(+,;]|plus\b|or\b|per\b|depending|total|in the|each|approx|including|cook|prep|ca\b|for\b|of\b|until",
            rest,
            re.IGNORECASE,
        )
    ):
        return None
    return Amount(low, high)


def read_times(value: str) -> dict[str, Amount]:
    """The times of a `time:` line: "20 minutes to prepare, 40 minutes to cook" or "1 hour"."""
    found: dict[str, Amount] = {}
    for part in re.split(r"[,;|+]\s*|\s+(?:and|plus)\s+(?=\d+\s*\w+\s+(?:to|prep|cook|bak))", value):
        amount = read_time(part)
        if amount is None:
            continue
        if re.search(r"prep|active|hands", part, re.IGNORECASE):
            found["prepare"] = amount
        elif re.search(r"cook|bak|roast|simmer|oven", part, re.IGNORECASE):
            found["cook"] = amount
        elif re.search(r"rest|chill|ris", part, re.IGNORECASE):
            continue
        else:
            before = found.get("all")
            found["all"] = amount if before is None else Amount(before.low + amount.low, before.high + amount.high)
    return found


def _piece(words: str, at: int) -> tuple[Amount, int] | None:
    match = _TIME.match(words, at)
    if match is None:
        return None
    spoken = match[0].lower().split()
    if spoken[:1] == ["overnight"]:
        return Amount(Fraction(480), Fraction(480)), match.end()
    if spoken and spoken[0] in ("a", "an", "half"):
        amount = Amount(Fraction(1, 2), Fraction(1, 2)) if "half" in spoken else Amount(Fraction(1), Fraction(1))
        end = match.end()
    else:
        read = read_amount(words[at : at + 24])
        if read is None:
            return None
        amount, used = read
        end = at + used
    unit = _UNIT.match(words, end)
    if unit is None:
        return None
    end = unit.end()
    name = unit["unit"].lower()
    if half := _HALF.match(words, end):
        amount = Amount(amount.low + Fraction(1, 2), amount.high + Fraction(1, 2))
        end = half.end()
    return _minutes(amount, name), end


def _minutes(amount: Amount, unit: str) -> Amount:
    if unit.startswith(("m", "'", "’")):
        return amount
    if unit.startswith("s") and not unit.startswith("st"):
        size = Fraction(1, 60)
    elif unit.startswith(("d", "ta")):
        size = Fraction(1440)
    elif unit.startswith(("timme", "timmar", "h", "st", "o", "u", "ti", "g")):
        size = Fraction(60)
    else:
        size = Fraction(1)
    return Amount(amount.low * size, amount.high * size)
