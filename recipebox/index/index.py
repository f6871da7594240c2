"""The index of a box: found, read, and brought up to date. All other rooms use this one object."""

import json
import sqlite3
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self, TypeVar

from recipebox.box import Box, BoxTrouble, Scan
from recipebox.cards.model import Card
from recipebox.index import finding, naming, refreshing
from recipebox.index.beat import watched
from recipebox.index.database import (
    NAME,
    IndexBrokenError,
    IndexNotWrittenError,
    Say,
    connect,
    in_memory,
    made_by,
    throw_away,
    told,
)
from recipebox.index.dishes_kept import all_dishes
from recipebox.index.finding import Hits
from recipebox.index.pairs import Pairs
from recipebox.index.refreshing import Progress, Refreshed
from recipebox.index.storing import Storage, card_of

if TYPE_CHECKING:
    from recipebox.dishes import Dish, Dishes

_Answer = TypeVar("_Answer")


def open_index(box: Box, say: Say = lambda line: None) -> "Index":
    """The index of a box; made anew, with a line to `say`, if it is broken. It is empty until `refresh`.

    Where the disk takes none it lives in memory, and `say` is told. Raises IndexLockedError.
    """
    try:
        return Index(box, connect(box), say)
    except IndexBrokenError:
        return Index(box, _anew(box, say), say)
    except IndexNotWrittenError:
        return Index(box, _for_this_once(box, say), say)


class Index:
    """Answers about the cards of one box. A cache: what it says can always be worked out anew from the cards.

    Cards it gives have no `lines` and `headers`; whoever changes a text reads the file.
    """

    def __init__(self, box: Box, connection: sqlite3.Connection, say: Say) -> None:
        self.box = box
        self._connection = connection
        self._say = say
        self._looked: tuple[BoxTrouble, ...] | None = None

    def refresh(
        self,
        progress: Progress | None = None,
        *,
        again: bool = False,
        leave: Collection[str] = (),
        found: Scan | None = None,
    ) -> Refreshed:
        """Take in what changed on the disk, all of it or nothing; the first time only if no `watch` does it already.

        `progress` is called with (files done, files to do). `again` reads every card anew. Files in `leave` are left
        for a later time. `found` is a look at the box that was just made for another purpose. Raises BoxError.
        """
        first = self._looked is None
        if first and not again and not leave and watched(self.box) and self._current():
            self._looked = ()
            return Refreshed(self._storage().count())

        def act() -> Refreshed:
            done, self._looked = refreshing.refresh(
                self.box, self._connection, progress, again=again, leave=leave, found=found
            )
            return done

        return self._mending(act)

    def cards(self, only: Collection[str] | None = None) -> Iterator[Card]:
        """All cards, family recipes too, or `only` those called so, in order of path.

        No two versions of a dish have one NAME.
        """
        with self._told():
            told = naming.names_apart(self._connection)
            for called, data, name in self._connection.execute("SELECT called, data, name FROM cards ORDER BY called"):
                if only is None or called in only:
                    yield card_of(data, told.get(called, name))

    def things(self) -> list[str]:
        """The common name of everything that some card asks for, each once."""
        return [thing for (thing,) in self._ask("SELECT DISTINCT thing FROM things")]

    def called_asking(self, things: Iterable[str]) -> set[str]:
        """What the cards are called that ask for one of these; all family recipes and cards that may name another, too.

        A line that names another card says batch, recipe or card ("1 batch white sauce, see card").
        """
        asked = (
            "SELECT called FROM cards WHERE kind = 'family' "
            "OR id IN (SELECT card FROM things WHERE thing IN (SELECT value FROM json_each(?))) "
            "OR id IN (SELECT rowid FROM search WHERE search MATCH 'ingredients : (batch OR recipe OR card)')"
        )
        return {called for (called,) in self._ask(asked, json.dumps(list(things)))}

    def titles(self) -> list[tuple[str, str, str]]:
        """Of every card what it is called, its kind and its title; family recipes first, then in order of path."""
        return self._ask("SELECT called, kind, title FROM cards ORDER BY kind <> 'family', called")

    def open_cards(self) -> Iterator[Card]:
        """Family recipes, and cards with something undecided; in order of path, without reading any other."""
        with self._told():
            asked = "SELECT data, name FROM cards WHERE kind = 'family' OR instr(data, ?) ORDER BY called"
            for data, name in self._connection.execute(asked, ('"undecided":[{',)):
                yield card_of(data, name)

    def count(self) -> int:
        """How many cards there are, family recipes too."""
        return self._mending(lambda: self._storage().count())

    def card(self, called: str) -> Card:
        """The card of this path ("path#2"). Raises NotFoundError."""
        rows = self._ask("SELECT data, name FROM cards WHERE called = ?", called)
        if not rows:
            raise naming.NotFoundError("no card is called so", called, "look for it with: recipebox find")
        told = self._mending(lambda: naming.names_apart(self._connection, called))
        return card_of(rows[0][0], told.get(called, rows[0][1]))

    def resolve(self, words: str) -> list[Card]:
        """All cards that a path, or words of title and NAME, fit; in order of path."""
        return [self.card(called) for called in self._mending(lambda: naming.resolve(self._connection, words))]

    def one(self, words: str) -> Card:
        """The one card that fits. Raises NotFoundError, or AmbiguousError with the list."""
        return self.card(self._mending(lambda: naming.one_card(self._connection, words)))

    def named(self, words: Sequence[str]) -> list[Card]:
        """The cards that several CARDs name, each once; a single one, or a dish's name, stands for its whole dish.

        Raises NotFoundError or AmbiguousError.
        """
        called: dict[str, None] = {}
        for one in words:
            dish = self._dish_meant(one, alone=len(words) == 1)
            if dish is None:
                called[self.one(one).called] = None
            else:
                called.update(dict.fromkeys(member.called for member in dish.cards))
        return [self.card(one) for one in called]

    def find(
        self,
        words: str = "",
        has: Iterable[str] = (),
        without: Iterable[str] = (),
        sender: str | None = None,
        tag: str | None = None,
    ) -> Hits:
        """Search the cards; see `finding.find`."""
        has, without = list(has), list(without)
        return self._mending(lambda: finding.find(self._connection, words, has, without, sender, tag))

    def dishes(self) -> "Dishes":
        """Which versions are the same dish, and which stand alone."""
        return self._mending(lambda: all_dishes(Pairs(self._connection)))

    def dish(self, words: str) -> "Dish | None":
        """The dish of a name, or of the one card that fits; None if that card stands alone.

        Raises NotFoundError or AmbiguousError.
        """
        dishes = self.dishes()
        return self._mending(lambda: naming.one_dish(self._connection, dishes, words))

    def dish_of(self, card: Card) -> "Dish | None":
        """The dish a version is in; None if it stands alone."""
        return naming.dish_of(self.dishes(), card.called)

    def trouble(self) -> list[BoxTrouble]:
        """What a person may want to mend, in order of path and line, as of the last `refresh`."""
        kept = self._mending(lambda: self._storage().trouble())
        if self._looked is None:
            return kept
        return sorted({*kept, *self._looked})

    def close(self) -> None:
        """Let go of the database."""
        self._connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def _dish_meant(self, words: str, *, alone: bool) -> "Dish | None":
        if alone:
            return self.dish(words)
        return None if self.resolve(words) else self.dish(words)

    def _current(self) -> bool:
        state, tool = self._mending(lambda: self._storage().state())
        return bool(state) and tool == made_by()

    def _storage(self) -> Storage:
        return Storage(self._connection)

    def _ask(self, question: str, *values: str) -> list[Any]:
        return self._mending(lambda: self._connection.execute(question, values).fetchall())

    def _mending(self, act: Callable[[], _Answer]) -> _Answer:
        """Do something with the database; if it turns out broken, make it anew from the cards and do it again.

        If the disk takes nothing, do it again in memory.
        """
        try:
            with self._told():
                return act()
        except IndexNotWrittenError:
            self._connection.close()
            self._connection = _for_this_once(self.box, self._say)
            with self._told():
                return act()
        except IndexBrokenError:
            self._connection.close()
            self._connection = _anew(self.box, self._say)
            with self._told():
                _, self._looked = refreshing.refresh(self.box, self._connection)
                return act()

    @contextmanager
    def _told(self) -> Iterator[None]:
        with told(self.box.hidden / NAME):
            yield


def _for_this_once(box: Box, say: Say) -> sqlite3.Connection:
    say(f"{box.hidden / NAME}: cannot be written, so the answer is worked out in memory, for this once")
    return in_memory(box)


def _anew(box: Box, say: Say) -> sqlite3.Connection:
    say(f"{box.hidden / NAME}: the index was broken and is made anew from the cards; nothing of yours was in it alone")
    throw_away(box)
    return connect(box)
