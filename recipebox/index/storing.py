"""The rows of the index: what is kept of each file and card."""

import json
import sqlite3
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from recipebox.box import BoxTrouble
from recipebox.cards.data import card_from_data
from recipebox.cards.model import Card
from recipebox.index.rows import CardRow, Taken
from recipebox.index.spelling import words_of


@dataclass(slots=True)
class Touched:
    """Which versions are new and which are gone, by card id."""

    new: list[int] = field(default_factory=list)
    gone: list[int] = field(default_factory=list)


class Storage:
    """Reads and changes rows; the caller begins and ends the transaction."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self.connection = connection

    def state(self) -> tuple[str, str]:
        """The scan last taken in, and the recipebox that did."""
        return self._kept("state").decode(), self._kept("tool").decode()

    def set_state(self, state: str, tool: str) -> None:
        """Remember the scan taken in now."""
        self._keep("state", state.encode())
        self._keep("tool", tool.encode())

    def sayings(self) -> bytes:
        """dishes.txt as last taken in."""
        return self._kept("sayings")

    def set_sayings(self, data: bytes) -> None:
        """Remember dishes.txt as taken in now."""
        self._keep("sayings", data)

    def named(self) -> list[str]:
        """What the family recipes said about versions when last taken in."""
        return list(json.loads(self._kept("named") or b"[]"))

    def set_named(self, named: list[str]) -> None:
        """Remember what the family recipes say now."""
        self._keep("named", json.dumps(named).encode())

    def count(self) -> int:
        """How many cards there are."""
        return int(self.connection.execute("SELECT count(*) FROM cards").fetchone()[0])

    def files(self, few: Collection[str] | None = None) -> dict[str, tuple[str, str]]:
        """Path: id of the bytes taken in, and what they are; only of a `few` paths, if given."""
        asked = "SELECT path, blob_id, what FROM files"
        if few is None:
            rows = self.connection.execute(asked)
        else:
            wanted = json.dumps(sorted(few))
            rows = self.connection.execute(f"{asked} WHERE path IN (SELECT value FROM json_each(?))", (wanted,))
        return {path: (blob_id, what) for path, blob_id, what in rows}

    def trouble(self) -> list[BoxTrouble]:
        """Trouble met in reading files, in order of path and line."""
        rows = self.connection.execute("SELECT path, line, what FROM trouble ORDER BY path, line, what")
        return [BoxTrouble(*row) for row in rows]

    def clear(self) -> None:
        """Forget all files and cards."""
        for table in (
            "files",
            "cards",
            "search",
            "things",
            "keys",
            "alike",
            "dishes",
            "members",
            "trouble",
            "kept",
            "vocabulary",
        ):
            self.connection.execute(f"DELETE FROM {table}")

    def families(self) -> list[Card]:
        """The family recipes, in order of path."""
        rows = self.connection.execute("SELECT data, name FROM cards WHERE kind = 'family' ORDER BY called")
        return [card_of(data, name) for data, name in rows]

    def take_out(self, paths: Iterable[str]) -> Touched:
        """Take out all that is kept of files that are gone or changed."""
        touched = Touched()
        for path in paths:
            self._take_out(path, touched)
        return touched

    def put_in(self, taken: Sequence[tuple[str, str, Taken]], touched: Touched) -> None:
        """Put in what was taken in of files that are new or changed: path, id of the bytes, what they are."""
        from sqlite_utils import Database

        database = Database(self.connection)
        database.table("files").insert_all(
            {"path": path, "blob_id": name, "what": now.what} for path, name, now in taken
        )
        database.table("trouble").insert_all(
            {"path": t.path, "line": t.line, "what": t.what} for _, _, now in taken for t in now.trouble
        )
        self._put_in([card for _, _, now in taken for card in now.cards], touched)

    def _take_out(self, path: str, touched: Touched) -> None:
        run = self.connection.execute
        rows = run("SELECT id, kind, keys, things FROM cards WHERE path = ?", (path,)).fetchall()
        for card, kind, keys, things in rows:
            if kind == "version":
                touched.gone.append(card)
            texts = run("SELECT title, ingredients, steps, other FROM search WHERE rowid = ?", (card,)).fetchone()
            self._count(dict.fromkeys(words_of("\n".join(texts)), -1))
            run("DELETE FROM search WHERE rowid = ?", (card,))
            self.connection.executemany("DELETE FROM keys WHERE word = ? AND card = ?", _pairs(keys, card))
            self.connection.executemany("DELETE FROM things WHERE thing = ? AND card = ?", _pairs(things, card))
        run("DELETE FROM cards WHERE path = ?", (path,))
        run("DELETE FROM files WHERE path = ?", (path,))
        run("DELETE FROM trouble WHERE path = ?", (path,))

    def _put_in(self, cards: Collection[CardRow], touched: Touched) -> None:
        # Never the id of a card just taken out, whose pairs are still to be forgotten.
        last = self.connection.execute("SELECT coalesce(max(id), 0) FROM cards").fetchone()[0]
        first = max(last, *touched.gone, 0) + 1
        numbered = list(enumerate(cards, start=first))
        # Measured against sqlite-utils' insert_all, which takes about twice as long for these many rows.
        many = self.connection.executemany
        many(
            "INSERT INTO cards VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (
                (
                    *(number, card.called, card.path, card.kind, card.title, card.name, card.sender, card.tags),
                    *(card.data, card.features, json.dumps(card.keys), json.dumps(card.things)),
                )
                for number, card in numbered
            ),
        )
        many(
            "INSERT INTO search (rowid, title, ingredients, steps, other) VALUES (?, ?, ?, ?, ?)",
            ((number, *card.words) for number, card in numbered),
        )
        many("INSERT INTO things VALUES (?, ?)", sorted((name, n) for n, card in numbered for name in card.things))
        many("INSERT INTO keys VALUES (?, ?)", sorted((word, n) for n, card in numbered for word in card.keys))
        words = Counter(word for card in cards for word in set(words_of("\n".join(card.words))))
        self._count(words)
        for number, card in numbered:
            if card.kind == "version":
                touched.new.append(number)

    def _count(self, words: Mapping[str, int]) -> None:
        self.connection.executemany(
            "INSERT INTO vocabulary VALUES (?, ?) ON CONFLICT (term) DO UPDATE SET cards = cards + excluded.cards",
            sorted(words.items()),
        )
        gone = [(word,) for word, more in words.items() if more < 0]
        self.connection.executemany("DELETE FROM vocabulary WHERE term = ? AND cards = 0", gone)

    def _kept(self, name: str) -> bytes:
        row = self.connection.execute("SELECT value FROM kept WHERE name = ?", (name,)).fetchone()
        return bytes(row[0]) if row else b""

    def _keep(self, name: str, value: bytes) -> None:
        self.connection.execute("INSERT OR REPLACE INTO kept VALUES (?, ?)", (name, value))


def card_of(data: str, name: str) -> Card:
    """A card as it was kept."""
    return replace(card_from_data(json.loads(data)), name=name)


def _pairs(names: str, card: int) -> Iterable[tuple[str, int]]:
    return ((name, card) for name in json.loads(names))
