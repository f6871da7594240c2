"""Lengths of time as ISO 8601 writes them, the form schema.org asks for: PT1H30M is 90 minutes."""

import re
from fractions import Fraction

_NUMBER = r"(\d{1,9}(?:[.,]\d{1,9})?)"
_DURATION = re.compile(
    rf"\s*\+?P(?:{_NUMBER}Y)?(?:{_NUMBER}M)?(?:{_NUMBER}W)?(?:{_NUMBER}D)?"
    rf"(?:T(?:{_NUMBER}H)?(?:{_NUMBER}M)?(?:{_NUMBER}S)?)?\s*\Z",
    re.IGNORECASE,
)
# ISO 8601 gives years and months no fixed length; no recipe is read as lasting that long.
_MINUTES = (None, None, Fraction(7 * 24 * 60), Fraction(24 * 60), Fraction(60), Fraction(1), Fraction(1, 60))


def read_duration(words: str) -> Fraction | None:
    """Minutes of an ISO 8601 duration; None for anything else, for years and months, and for nothing ("PT0M")."""
    match = _DURATION.match(words)
    if match is None:
        return None
    total = Fraction(0)
    for part, minutes in zip(match.groups(), _MINUTES, strict=True):
        if part is None:
            continue
        amount = Fraction(part.replace(",", "."))
        if minutes is None and amount:
            return None
        total += amount * (minutes or 0)
    return total or None


def write_duration(minutes: Fraction) -> str:
    """Minutes as an ISO 8601 duration, to the nearest second: 90 -> PT1H30M."""
    seconds = round(minutes * 60)
    hours, rest = divmod(seconds, 3600)
    whole, left = divmod(rest, 60)
    parts = [(hours, "H"), (whole, "M"), (left, "S")]
    return "PT" + ("".join(f"{number}{sign}" for number, sign in parts if number) or "0M")
