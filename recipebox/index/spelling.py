"""Which words of the box a person may have meant by one they typed."""

import re
import sqlite3
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from recipebox.cards.things import thing

_WORD = re.compile(r"[^\W_]+")
# Words that nobody looks for, left out when others are there: common practice, no source.
_EMPTY = frozenset(
    ("a", "an", "and", "at", "by", "for", "from", "in", "my", "of", "on", "or", "our", "the", "to", "with")
)
_MOST_WORDS = 30  # of one search; more would be too deep a question for FTS5
_MOST = 5  # words that one misspelled word may stand for


@dataclass(frozen=True, slots=True)
class Meant:
    """One typed word, and the phrases of words in the box that count for it.

    `respelled`: the box has the word in no form of its own.
    """

    typed: str
    phrases: tuple[tuple[str, ...], ...]
    respelled: bool = False

    @property
    def match(self) -> str:
        """As a term of an FTS5 query."""
        return "(" + " OR ".join('"' + " ".join(phrase) + '"' for phrase in self.phrases) + ")"


def words_of(text: str) -> list[str]:
    """The words of a text as the index holds them: lower case, without accents."""
    return _WORD.findall(plain(text))


def plain(text: str) -> str:
    """Text in lower case, without accents."""
    if text.isascii():
        return text.lower()
    return "".join(c for c in unicodedata.normalize("NFD", text.lower()) if not unicodedata.combining(c))


def meant(connection: sqlite3.Connection, text: str) -> list[Meant] | None:
    """What each typed word may mean; None if one of them means nothing in this box.

    A word means itself, its singular and plural, and the common name of the food it names. Only where the box has none
    of these, words that begin with it, or else the least differently spelled ones, are taken instead.
    """
    typed = list(dict.fromkeys(words_of(text)))
    full = ([word for word in typed if word not in _EMPTY] or typed)[:_MOST_WORDS]
    found = [_meant(connection, word) for word in full]
    return found if all(word.phrases for word in found) else None


def _meant(connection: sqlite3.Connection, word: str) -> Meant:
    own = [(form,) for form in dict.fromkeys((word, *_forms(word))) if _has(connection, form)]
    food = tuple(words_of(thing(word)))
    if food and food not in own and all(_has(connection, part) for part in food):
        return Meant(word, (*own, food), respelled=not own)
    if own:
        return Meant(word, tuple(own))
    if longer := _longer(connection, word):
        return Meant(word, tuple((form,) for form in longer))
    return Meant(word, tuple((form,) for form in _respelled(connection, word)), respelled=True)


def _forms(word: str) -> Iterator[str]:
    """Plurals of a singular and singulars of a plural; wrong ones do no harm, since no card has them."""
    if len(word) < 3 or word.isdigit():
        return
    yield from (word + "s", word + "es")
    if word.endswith("y"):
        yield word[:-1] + "ies"
    if word.endswith("f"):
        yield word[:-1] + "ves"
    if word.endswith("ies"):
        yield word[:-3] + "y"
    if word.endswith("ves"):
        yield from (word[:-3] + "f", word[:-3] + "fe")
    if word.endswith("es"):
        yield word[:-2]
    if word.endswith("s") and not word.endswith("ss"):
        yield word[:-1]


def _has(connection: sqlite3.Connection, word: str) -> bool:
    return connection.execute("SELECT 1 FROM vocabulary WHERE term = ?", (word,)).fetchone() is not None


def _longer(connection: sqlite3.Connection, word: str) -> list[str]:
    if len(word) < 3:
        return []
    rows = connection.execute(
        "SELECT term FROM vocabulary WHERE term >= ? AND term < ? ORDER BY cards DESC, term LIMIT ?",
        (word, word + "\U0010ffff", _MOST),
    )
    return [row[0] for row in rows]


def _respelled(connection: sqlite3.Connection, word: str) -> list[str]:
    """The words that differ in the fewest letters, at most 1 in 3; letters swapped count once."""
    if len(word) < 3 or word.isdigit():
        return []
    from rapidfuzz.distance import OSA
    from rapidfuzz.process import extract

    most = max(1, min(3, len(word) // 3))
    rows = connection.execute(
        "SELECT term, cards FROM vocabulary WHERE length(term) BETWEEN ? AND ?", (len(word) - most, len(word) + most)
    )
    many = dict(rows.fetchall())
    close = extract(word, many.keys(), scorer=OSA.distance, score_cutoff=most, limit=None)
    near = [(distance, term[0] != word[0], -many[term], term) for term, distance, _ in close]
    least = min((one[:2] for one in near), default=None)
    return [term for distance, other, _, term in sorted(near) if (distance, other) == least][:_MOST]
