"""prepTime, cookTime and totalTime to a card's `time:` line."""

from fractions import Fraction
from typing import Any

from recipebox.cards.amounts import write_amount
from recipebox.gather.durations import read_duration
from recipebox.gather.plainwords import Words

_KINDS = (("prepTime", " to prepare"), ("cookTime", " to cook"), ("totalTime", ""))


def read_times(words: Words, left: dict[str, Any], stated: bool) -> list[tuple[str, str]]:
    """A `time:` header of the durations in `left`, which are taken out; what is no duration stays there.

    `stated` says that the card has such a line in its own words, which then stands alone.
    """
    found = []
    for key, meaning in _KINDS:
        minutes = _minutes(left.get(key))
        if minutes is not None:
            left.pop(key)
            found.append(f"{write_amount(minutes)} minutes{meaning}")
        elif key in left and _nothing(words.line(left[key])):
            left.pop(key)
    return [("time", ", ".join(found))] if found and not stated else []


def _minutes(value: Any) -> Fraction | None:
    if isinstance(value, list) and len(value) == 1:
        value = value[0]
    return read_duration(value) if isinstance(value, str) else None


def _nothing(words: str) -> bool:
    """Whether a value is a duration of nothing at all, which many pages state for what they do not know."""
    return set(words.upper()) <= set("PT0YMWDHS., ")
