"""The rows of the index that dishes are made from: alike pairs, the dishes, and what the family recipes named."""

import json
import sqlite3
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from recipebox.dishes import Dish


class Pairs:
    """Reads and changes rows; the caller begins and ends the transaction. Cards are told by id."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self.connection = connection

    def count(self) -> int:
        """How many versions there are."""
        return int(self.connection.execute("SELECT count(*) FROM cards WHERE kind = 'version'").fetchone()[0])

    def card_id(self, called: str) -> int | None:
        """The id of the version of this name, None if there is none."""
        row = self.connection.execute(
            "SELECT id FROM cards WHERE called = ? AND kind = 'version'", (called,)
        ).fetchone()
        return None if row is None else int(row[0])

    def called(self, card: int) -> str:
        """What a card is called."""
        return str(self.connection.execute("SELECT called FROM cards WHERE id = ?", (card,)).fetchone()[0])

    def features(self, card: int) -> str:
        """A card's features, as JSON."""
        return str(self.connection.execute("SELECT features FROM cards WHERE id = ?", (card,)).fetchone()[0])

    def all_features(self) -> Iterator[tuple[int, str]]:
        """The features of all versions, as JSON."""
        yield from self.connection.execute("SELECT id, features FROM cards WHERE kind = 'version'")

    def sharing_keys(self, card: int, many: int) -> list[int]:
        """Versions that share at least `many` keys with one."""
        words = json.loads(self.connection.execute("SELECT keys FROM cards WHERE id = ?", (card,)).fetchone()[0])
        marks = ", ".join("?" * len(words))
        rows = self.connection.execute(
            f"SELECT card FROM keys WHERE word IN ({marks}) AND card <> ? GROUP BY card HAVING count(*) >= ?",
            (*words, card, many),
        )
        return [row[0] for row in rows]

    def alike(self, card: int) -> list[int]:
        """The versions alike enough to one to be the same dish."""
        return [row[0] for row in self.connection.execute("SELECT other FROM alike WHERE card = ?", (card,))]

    def add_alike(self, pairs: Iterable[tuple[int, int]]) -> None:
        """Remember alike pairs."""
        both = ((one, other) for a, b in pairs for one, other in ((a, b), (b, a)))
        self.connection.executemany("INSERT OR IGNORE INTO alike VALUES (?, ?)", list(both))

    def forget_alike(self, card: int) -> None:
        """Forget all pairs of a card that is gone, and its place in a dish."""
        others = self.alike(card)
        self.connection.executemany("DELETE FROM alike WHERE card = ? AND other = ?", ((o, card) for o in others))
        self.connection.execute("DELETE FROM alike WHERE card = ?", (card,))

    def of_same_dish(self, card: int) -> list[int]:
        """The cards that were put in one dish with this one, itself among them; none if it stands alone."""
        rows = self.connection.execute(
            "SELECT card FROM members WHERE dish = (SELECT dish FROM members WHERE card = ?)", (card,)
        )
        return [row[0] for row in rows]

    def put_dishes(self, cards: Iterable[int], dishes: "Iterable[Dish]") -> None:
        """Put cards that hang together into these dishes instead of what they were in; `cards` has all of both."""
        run = self.connection.execute
        old = {row[0] for card in cards for row in run("SELECT dish FROM members WHERE card = ?", (card,))}
        for dish in old:
            run("DELETE FROM dishes WHERE id = ?", (dish,))
            run("DELETE FROM members WHERE dish = ?", (dish,))
        for made in dishes:
            members = json.dumps([[m.called, str(m.batch), m.why] for m in made.cards], ensure_ascii=False)
            row = run("INSERT INTO dishes (name, cards) VALUES (?, ?)", (made.name, members)).lastrowid
            for member in made.cards:
                run("INSERT INTO members SELECT id, ? FROM cards WHERE called = ?", (row, member.called))

    def dishes(self) -> list[tuple[str, str]]:
        """Each dish's own name, and its cards as JSON."""
        return self.connection.execute("SELECT name, cards FROM dishes").fetchall()

    def singles(self) -> list[str]:
        """Versions in no dish, by path."""
        rows = self.connection.execute(
            "SELECT called FROM cards WHERE kind = 'version' AND id NOT IN (SELECT card FROM members)"
        )
        return sorted(row[0] for row in rows)
