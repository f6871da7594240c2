"""Finding the keywords of a table in a text: whole words, what is no such food masked first, the longest first."""

import re
from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class Keywords:
    """The keywords of one table row, and the words that look like them but are something else."""

    words: tuple[str, ...]
    masked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Found:
    """A keyword that stands in a text at `start`..`end`."""

    keyword: str
    start: int
    end: int


def keywords(words: str, not_words: str = "") -> Keywords:
    """Keywords from two cells of a table, each a list parted by semicolons."""
    return Keywords(_parted(words), _parted(not_words))


def find(text: str, these: Keywords) -> Found | None:
    """The longest keyword in the text, the first of equals; None if none stands outside the masked words."""
    return max(find_all(text, these), key=lambda found: (found.end - found.start, -found.start), default=None)


def find_all(text: str, these: Keywords) -> list[Found]:
    """Every keyword in the text, left to right, the longest at each place; masked words are no match."""
    plain = text.lower().replace("’", "'")
    if these.masked:
        plain = _pattern(these.masked).sub(lambda match: "\0" * len(match.group()), plain)
    return [Found(match.group(), match.start(), match.end()) for match in _pattern(these.words).finditer(plain)]


def one(word: str) -> str:
    """A keyword as for one thing: "graham crackers" -> "graham cracker"; swiss, couscous and the like stay."""
    return word[:-1] if len(word) > 4 and word.endswith("s") and not word.endswith(("ss", "us", "is")) else word


@lru_cache(maxsize=1024)
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    longest_first = sorted(words, key=lambda word: (-len(word), word))
    spelled = "|".join(re.escape(one(word)).replace(r"\ ", r"\s+") for word in longest_first)
    # One or many is the same word; a possessive is a person ("Grandma's casserole" is eaten by anybody).
    return re.compile(rf"(?<!\w)(?:{spelled})(?:e?s)?(?!\w|'s\b)" if words else r"(?!)")


def _parted(cell: str) -> tuple[str, ...]:
    return tuple(word.strip().lower() for word in cell.split(";") if word.strip())
