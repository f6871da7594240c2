"""Which card or dish a person means."""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING
from unicodedata import normalize

from recipebox.box import BoxError
from recipebox.cards.names import told_apart
from recipebox.index.spelling import plain, words_of

if TYPE_CHECKING:
    from recipebox.dishes import Dish, Dishes

_LISTED = 10


class NotFoundError(BoxError):
    """No card or dish fits the words."""


class AmbiguousError(BoxError):
    """More than one fits; `fits` has all that do, as they can be typed."""

    def __init__(self, words: str, fits: Sequence[str]) -> None:
        self.fits = tuple(fits)
        more = f" and {len(fits) - _LISTED} more" if len(fits) > _LISTED else ""
        listed = ", ".join(fits[:_LISTED])
        super().__init__(f"fits {len(fits)} cards: {listed}{more}", f'"{words}"', "name one of them by its path")


def resolve(connection: sqlite3.Connection, words: str) -> list[str]:
    """What the cards are called that fit a path as printed, or else a whole title or NAME, or else words of both.

    In order of path; empty if none fits.
    """
    path = normalize("NFC", words.strip().removeprefix("./"))
    rows = connection.execute("SELECT called, title, name FROM cards WHERE called = ?", (path,)).fetchall()
    if rows:
        return [path]
    rows = connection.execute("SELECT called, title, name FROM cards ORDER BY called").fetchall()
    if not words_of(words):
        return []
    alike = [row[0] for row in rows if not row[0].isascii() and normalize("NFC", row[0]) == path]
    told = names_apart(connection)
    return alike or fitting([(called, title, told.get(called, name)) for called, title, name in rows], words)


def fitting(cards: Iterable[tuple[str, str, str]], words: str) -> list[str]:
    """What those of (called, title, NAME) are called whose whole title or NAME the words are, or else hold them all.

    In order of path; case and accents aside.
    """
    asked = words_of(words)
    near = [card for card in cards if asked and all(word in plain(f"{card[1]} {card[2]}") for word in asked)]
    whole = [card for card in near if asked in (words_of(card[1]), words_of(card[2]))]
    return sorted(
        called for called, title, name in whole or near if whole or set(asked) <= {*words_of(title), *words_of(name)}
    )


def names_apart(connection: sqlite3.Connection, called: str | None = None) -> dict[str, str]:
    """The NAMEs of versions (of one card's dish, or of all) that another of their dish has too, told apart."""
    rows = connection.execute(
        "SELECT members.dish, cards.called, cards.name FROM members JOIN cards ON cards.id = members.card"
        + (
            " WHERE dish = (SELECT dish FROM members JOIN cards ON cards.id = members.card WHERE called = ?)"
            if called is not None
            else ""
        ),
        () if called is None else (called,),
    )
    dishes: dict[int, dict[str, str]] = {}
    for dish, one, name in rows:
        dishes.setdefault(dish, {})[one] = name
    told: dict[str, str] = {}
    for names in dishes.values():
        told |= {one: name for one, name in told_apart(names).items() if name != names[one]}
    return told


def one_card(connection: sqlite3.Connection, words: str) -> str:
    """What the one card is called that fits. Raises NotFoundError or AmbiguousError."""
    fits = resolve(connection, words)
    if not fits:
        raise NotFoundError("no card has this path or these words in its title or name", f'"{words}"', _LOOK)
    if len(fits) > 1:
        raise AmbiguousError(words, fits)
    return fits[0]


def one_dish(connection: sqlite3.Connection, dishes: "Dishes", words: str) -> "Dish | None":
    """The dish of this name, or of the cards that fit; None if one card fits and stands alone.

    A family recipe means the dish its Versions name. Raises NotFoundError or AmbiguousError.
    """
    wanted = words_of(words)
    named = [dish for dish in dishes.dishes if wanted and words_of(dish.name) == wanted]
    exact = [dish for dish in named if dish.name == words.strip()]
    if len(exact or named) == 1:
        return (exact or named)[0]
    of_fitting = [_dish_meant(connection, dishes, called) for called in resolve(connection, words)]
    if of_fitting and of_fitting[0] is not None and all(dish is of_fitting[0] for dish in of_fitting):
        return of_fitting[0]
    return _dish_meant(connection, dishes, one_card(connection, words))


def _dish_meant(connection: sqlite3.Connection, dishes: "Dishes", called: str) -> "Dish | None":
    """The dish of a version; of a family recipe, that which most of its Versions are in."""
    rows = connection.execute("SELECT data FROM cards WHERE called = ? AND kind = 'family'", (called,)).fetchall()
    if not rows:
        return dish_of(dishes, called)
    listed = {version["path"] for version in json.loads(rows[0][0])["versions"]}
    most = max(
        dishes.dishes, key=lambda dish: (sum(one.called in listed for one in dish.cards), dish.name), default=None
    )
    return most if most and any(one.called in listed for one in most.cards) else None


def dish_of(dishes: "Dishes", called: str) -> "Dish | None":
    """The dish a card is in; None if it stands alone."""
    return next((dish for dish in dishes.dishes if any(member.called == called for member in dish.cards)), None)


_LOOK = "look for it with: recipebox find"
