"""Searching the cards."""

import json
import sqlite3
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import Any

from recipebox.cards.things import thing
from recipebox.index.naming import names_apart
from recipebox.index.spelling import Meant, meant, plain, words_of

MOST_HITS = 50
_WEIGHTS = "10.0, 4.0, 1.0, 1.0"  # title, ingredients, steps, all else
_TITLED = 1000.0  # above any bm25 of a few words: who types a title wants that card first


@dataclass(frozen=True, slots=True)
class Hit:
    """One card found. `path` is what the card is called; `why` shows the lines that matched."""

    path: str
    title: str
    why: str


@dataclass(frozen=True, slots=True)
class Hits:
    """At most MOST_HITS cards, the best first; `more` is how many fit beyond those."""

    hits: tuple[Hit, ...]
    more: int


def find(
    connection: sqlite3.Connection,
    words: str = "",
    has: Iterable[str] = (),
    without: Iterable[str] = (),
    sender: str | None = None,
    tag: str | None = None,
) -> Hits:
    """Cards that have all the words, in any field: first those with all in the title, then by bm25, ties by path.

    `has` and `without` name things ("spuds" is potato), never what stands in for them; `sender` words of the version's
    NAME or sender; `tag` a tag. Without words: by path.
    """
    has = list(has)
    asked = meant(connection, words) if words.strip() else []
    if asked is None or (words.strip() and not asked):
        return Hits((), 0)
    allowed = _allowed(connection, has, list(without), sender, tag)
    ranked = _ranked(connection, asked, allowed)
    top = _top(connection, ranked)
    hits = [_hit(connection, card, asked, has, sender, tag) for card in top]
    return Hits(tuple(hits), len(ranked) - len(hits))


def _allowed(
    connection: sqlite3.Connection, has: Sequence[str], without: Sequence[str], sender: str | None, tag: str | None
) -> set[int] | None:
    """The ids of cards that fit all but the words; None for all."""
    allowed: set[int] | None = None
    for item in has:
        cards = _with_thing(connection, item)
        allowed = cards if allowed is None else allowed & cards
    if sender is not None or tag is not None:
        # Few people write many cards: each name and list of tags is judged once.
        is_from, is_tagged = cache(partial(_is_from, sender)), cache(partial(_is_tagged, tag))
        told = names_apart(connection) if sender is not None else {}
        rows = connection.execute("SELECT id, called, name, sender, tags FROM cards")
        fit = {
            card for card, called, name, own, tags in rows if is_from(told.get(called, name), own) and is_tagged(tags)
        }
        allowed = fit if allowed is None else allowed & fit
    for item in without:
        if allowed is None:
            allowed = {row[0] for row in connection.execute("SELECT id FROM cards")}
        allowed -= _with_thing(connection, item)
    return allowed


def _with_thing(connection: sqlite3.Connection, item: str) -> set[int]:
    rows = connection.execute("SELECT card FROM things WHERE thing = ?", (thing(item),))
    return {row[0] for row in rows}


def _is_from(wanted: str | None, *names: str | None) -> bool:
    return wanted is None or any(name is not None and set(words_of(wanted)) <= set(words_of(name)) for name in names)


def _is_tagged(wanted: str | None, tags: str) -> bool:
    return wanted is None or any(words_of(tag) == words_of(wanted) for tag in json.loads(tags))


def _ranked(
    connection: sqlite3.Connection, asked: Sequence[Meant], allowed: Collection[int] | None
) -> list[tuple[float, int]]:
    if not asked:
        return [(0.0, card) for card in allowed or ()]
    wanted = " AND ".join(word.match for word in asked)
    rows = connection.execute(f"SELECT bm25(search, {_WEIGHTS}), rowid FROM search WHERE search MATCH ?", (wanted,))
    titled = {
        card for (card,) in connection.execute("SELECT rowid FROM search WHERE search MATCH ?", (f"title: ({wanted})",))
    }
    # Rounded, since the sum of the same terms may differ in its last bits with the order they were stored in.
    return [
        (float(f"{score:.9g}") - (_TITLED if card in titled else 0.0), card)
        for score, card in rows
        if allowed is None or card in allowed
    ]


def _top(connection: sqlite3.Connection, ranked: list[tuple[float, int]]) -> list[int]:
    """The ids of the best, ties by path: only cards that can be among them are looked up."""
    if len(ranked) > MOST_HITS:
        last = sorted(score for score, _ in ranked)[MOST_HITS - 1]
        ranked = [one for one in ranked if one[0] <= last]
    named = sorted((score, _called(connection, card), card) for score, card in ranked)
    return [card for _, _, card in named[:MOST_HITS]]


def _called(connection: sqlite3.Connection, card: int) -> str:
    return str(connection.execute("SELECT called FROM cards WHERE id = ?", (card,)).fetchone()[0])


def _hit(
    connection: sqlite3.Connection,
    card: int,
    asked: Sequence[Meant],
    has: Sequence[str],
    sender: str | None,
    tag: str | None,
) -> Hit:
    called, title, name, data = connection.execute(
        "SELECT called, title, name, data FROM cards WHERE id = ?", (card,)
    ).fetchone()
    fields = connection.execute(
        "SELECT title, ingredients, steps, other FROM search WHERE rowid = ?", (card,)
    ).fetchone()
    shown = _telling_lines([line for field in fields for line in field.split("\n")], asked)
    if has:
        shown += _lines_with(json.loads(data)["ingredients"], has)
    if sender is not None:
        shown.append(f"from {names_apart(connection, called).get(called, name)}")
    if tag is not None:
        shown += [f"tag {own}" for own in json.loads(data)["tags"] if words_of(own) == words_of(tag)]
    respelled = [f"{word.typed}: {' '.join(word.phrases[0])}" for word in asked if word.respelled]
    why = " | ".join(dict.fromkeys(shown))
    return Hit(called, title, f"{why} (read {', '.join(respelled)})" if respelled else why)


def _telling_lines(lines: Sequence[str], asked: Sequence[Meant]) -> list[str]:
    """The fewest lines that show each asked word once: the line with most of them first, then earlier ones."""
    left = list(asked)
    shown = []
    # Only lines that can have a word are taken apart: most cannot, and there are fifty cards of them.
    starts = [phrase[0] for word in asked for phrase in word.phrases]
    tokens = [words_of(line) if any(start in plain(line) for start in starts) else [] for line in lines]
    while left:
        counts = [sum(_occurs(word, line) for word in left) for line in tokens]
        best = max(range(len(lines)), key=lambda at: (counts[at], -at))
        if not counts[best]:
            break
        shown.append(lines[best])
        left = [word for word in left if not _occurs(word, tokens[best])]
    return shown


def _occurs(word: Meant, line: Sequence[str]) -> bool:
    return any(
        tuple(line[at : at + len(phrase)]) == phrase
        for phrase in word.phrases
        for at in range(len(line) - len(phrase) + 1)
    )


def _lines_with(ingredients: Iterable[dict[str, Any]], has: Iterable[str]) -> list[str]:
    wanted = {thing(item) for item in has}
    return [
        " ".join(str(line["text"]).split())
        for line in ingredients
        if wanted & {thing(str(item)) for item in line["items"] or [line["item"]]}
    ]
