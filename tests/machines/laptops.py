"""What a family does with two to five laptops, as a state machine over any kind of laptop, with a ledger of its words.

Every edit brings a word of its own. A word may leave a box only by a person's act, on the laptop where it was done or
on others that learn of it; all others must stand in every box at the end, and every recorded one in history.
"""

import contextlib
import re
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import lru_cache
from random import Random
from typing import ClassVar

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.cards.text import NotTextError
from recipebox.family import FamilyError, propose_new
from recipebox.merge import SettleError, asks_of_the_box, settle, unsettle
from recipebox.merge.batch import rescaled
from tests.merge import hands, typed

_WORD = re.compile(rb"w\d+x\d+q")
_PLACES = 2
_ROUNDS = 9
_NEW = ("new.txt", "pies/new.txt", "Pies/New.txt", "letters/rolls.md")
_FAMILY = "family/quay-fish-and-leek-bake.txt"
_ON_HAND = b"Pantry\n  3 cans chopped tomatoes\n  2 kg flour\nFreezer\n  1 loaf bread\n"
_START = {
    "pies/bake.txt": typed.TIDY.encode(),
    "notes/barley.md": typed.MARKDOWN.encode(),
    "letters/plums.txt": typed.LETTER.encode(),
    "pot.txt": typed.NUMBERED.encode(),
    _FAMILY: typed.FAMILY.replace("letters/tomasz.txt", "pies/bake.txt").encode(),
    "dishes.txt": b"# ours\nsame: pies/bake.txt | pot.txt\n",
    "on-hand.txt": _ON_HAND,
    "pot.jpg": b"\xff\xd8\0w0x0q",
}

which = st.integers(0, 63)
seeds = st.integers(0, 1 << 32)


class Home(ABC):
    """One laptop with its box."""

    @abstractmethod
    def files(self) -> dict[str, bytes]:
        """Every file in the box."""

    @abstractmethod
    def put(self, path: str, data: bytes | None) -> None:
        """Write a file as an editor does; None removes it."""

    @abstractmethod
    def sync(self, place: int, yes: bool, few: int | None = None) -> None:
        """Meet the others at a place. `few`: so many of their files have arrived there so far."""

    @abstractmethod
    def undo_sync(self) -> None:
        """Lay aside what the last sync brought, if nothing was recorded since."""

    @abstractmethod
    def remember(self, command: bool = False) -> str | None:
        """Record the box, as an act of a `command` or as edited by hand; the state it is then at."""

    @abstractmethod
    def undo_act(self, before: str | None, after: str) -> bool:
        """Take back the act that led from one state to the other; False where it cannot be."""

    @abstractmethod
    def knows(self, word: str) -> bool:
        """Whether history has a text with this word."""

    @abstractmethod
    def state(self) -> str | None:
        """The state the box is at."""

    def whole(self) -> dict[str, bytes]:
        """The files that are recorded as they stand."""
        return self.files()

    def agree(self, dish: list[str], chance: Random) -> None:
        """Make the family recipe of some versions anew."""
        cards = [card for path in dish for card in read_cards(self.files()[path], path)[:1]]
        made = propose_new("", cards, path=_FAMILY, texts={path: self.files()[path] for path in dish})
        self.put(_FAMILY, made.text)


class World(ABC):
    """A family's laptops and the places where they meet."""

    @abstractmethod
    def first(self, files: Mapping[str, bytes]) -> Home:
        """The laptop that the box begins on."""

    @abstractmethod
    def another(self, place: int) -> Home:
        """One more laptop, which takes the box it finds at a place."""

    @abstractmethod
    def close(self) -> None:
        """Leave nothing behind."""


class Laptops(RuleBasedStateMachine):
    """Two to five laptops of a family that edit, meet and undo in any order."""

    world_of: ClassVar[Callable[[], World]]

    def __init__(self) -> None:
        super().__init__()
        self.world = type(self).world_of()
        self.homes: list[Home] = []
        self.count = 0
        self.written: set[bytes] = set()
        self.let_go: set[bytes] = set()
        self.recorded: set[bytes] = set()

    @initialize(laptops=st.integers(2, 5))
    def start(self, laptops: int) -> None:
        """The box begins on one laptop; the others take it from the first place."""
        self.homes = [self.world.first(_START)]
        for place in range(_PLACES):
            self.homes[0].sync(place, True)
        self.homes += [self.world.another(n % _PLACES) for n in range(1, laptops)]
        self.written = words(_START)

    @rule(laptop=which, card=which, seed=seeds)
    def edit(self, laptop: int, card: int, seed: int) -> None:
        """An amount, preparation, item, step, title, header, note, tag, group, section: any line, as in an editor."""
        self._edit_card(laptop, card, seed)

    @rule(laptop=which, other=which, card=which, seed=seeds)
    def edit_on_two(self, laptop: int, other: int, card: int, seed: int) -> None:
        """Two laptops edit the same card before they meet."""
        self._edit_card(laptop, card, seed)
        self._edit_card(other, card, seed + 1)

    @rule(laptop=which, seed=seeds)
    def edit_a_question(self, laptop: int, seed: int) -> None:
        """By hand: an entry of Undecided or Settled goes, or a wording in it."""
        chance = Random(seed)
        with self._act(laptop) as home:
            asked = [(path, data) for path, data in home.files().items() if b"    - " in data]
            if asked:
                path, data = chance.choice(sorted(asked))
                lines = data.split(b"\n")
                at = chance.choice([n for n, line in enumerate(lines) if line.startswith(b"    - ")])
                home.put(path, b"\n".join(lines[:at] + lines[at + 1 :]))

    @rule(laptop=which, seed=seeds)
    def settle(self, laptop: int, seed: int) -> None:
        """A question is answered, or an answer taken back."""
        chance = Random(seed)
        with self._act(laptop) as home:
            asked = [(path, card) for path, card in cards(home) if card.undecided or card.settled]
            if not asked:
                return
            path, card = chance.choice(asked)
            entry = chance.choice([*card.undecided, *card.settled])
            if not entry.wordings:
                return
            data = home.files()[path]
            with contextlib.suppress(SettleError):
                if chance.random() < 0.2:
                    home.put(path, unsettle(data, path, entry.about))
                    return
                take = chance.randrange(len(entry.wordings))
                home.put(path, settle(data, path, entry.about, take))
                wish = asks_of_the_box(entry.about, entry.wordings[take].text)
                if wish is not None:
                    new = home.files()[path]
                    if wish[1] is None or wish[1] not in home.files():
                        home.put(path, None)
                        if wish[1] is not None:
                            home.put(wish[1], new)

    @rule(laptop=which, card=which, times=st.sampled_from([Fraction(2), Fraction(3), Fraction(1, 2)]))
    def rescale(self, laptop: int, card: int, times: Fraction) -> None:
        """The whole card at another size."""
        with self._act(laptop) as home, contextlib.suppress(NotACardError, NotTextError):
            path = pick(sorted(path for path, _ in cards(home)), card)
            if path is not None:
                home.put(path, rescaled(home.files()[path], times, path))

    @rule(laptop=which, name=st.sampled_from(_NEW), seed=seeds)
    def add(self, laptop: int, name: str, seed: int) -> None:
        """A card comes in, now and then under a name that another laptop uses too."""
        chance = Random(seed)
        with self._act(laptop) as home:
            if name not in home.files():
                self.count += 1
                home.put(name, hands.edited(chance, hands.base_of(chance), f"w{self.count}x"))

    @rule(laptop=which, card=which, to=st.sampled_from(["pies", "letters", "soups", ""]), rename=st.booleans())
    def move(self, laptop: int, card: int, to: str, rename: bool) -> None:
        """A card goes into another folder, or gets another name."""
        with self._act(laptop) as home:
            path = pick(sorted(path for path, _ in cards(home) if path != _FAMILY), card)
            if path is None:
                return
            stem = path.rpartition("/")[2]
            new = f"{to}/{'our ' if rename else ''}{stem}".lstrip("/")
            if new not in home.files() and len(new) < 60:
                home.put(new, home.files()[path])
                home.put(path, None)

    @rule(laptop=which, card=which)
    def delete(self, laptop: int, card: int) -> None:
        """A card is thrown away."""
        with self._act(laptop) as home:
            there = sorted(path for path, _ in cards(home))
            path = pick(there, card)
            if path is not None and len(there) > 3:
                home.put(path, None)

    @rule(laptop=which, seed=seeds)
    def agree(self, laptop: int, seed: int) -> None:
        """The family recipe is made of some versions."""
        chance = Random(seed)
        with self._act(laptop) as home, contextlib.suppress(FamilyError, NotACardError, NotTextError):
            versions = sorted(path for path, card in cards(home) if card.kind == "version")
            if len(versions) > 1:
                home.agree(chance.sample(versions, 2), chance)

    @rule(laptop=which, seed=seeds)
    def other_texts(self, laptop: int, seed: int) -> None:
        """What is on hand, what the family says of dishes, a picture, a note that is no card."""
        chance = Random(seed)
        self.count += 1
        word = f"w{self.count}x0q".encode()
        with self._act(laptop) as home:
            files = home.files()
            kind = chance.randrange(5)
            if kind == 0:
                lines = files.get("on-hand.txt", _ON_HAND).split(b"\n")
                at = chance.choice([n for n, line in enumerate(lines) if line.startswith(b"  ")] or [0])
                lines.insert(at + 1, b"  %d jars %s" % (chance.randint(1, 5), word))
                home.put("on-hand.txt", b"\n".join(lines))
            elif kind == 1:
                old = files.get("on-hand.txt", _ON_HAND)
                home.put("on-hand.txt", re.sub(rb"\d+", str(chance.randint(0, 5)).encode(), old, count=1))
            elif kind == 2:
                paths = sorted(path for path, _ in cards(home))
                said = b"same: %s | %s\n" % tuple(path.encode() for path in sorted(chance.sample(paths, 2)))
                said = said if chance.random() < 0.5 else b"name: %s | %s\n" % (word, chance.choice(paths).encode())
                home.put("dishes.txt", files.get("dishes.txt", b"") + said)
            elif kind == 3:
                home.put(chance.choice(["pot.jpg", "pies/pie.jpg"]), b"\xff\xd8\0" + word)
            else:
                home.put("to do.txt", files.get("to do.txt", b"") + b"buy " + word + b"\n")

    @rule(
        laptop=which, place=st.integers(0, _PLACES - 1), yes=st.booleans(), few=st.sampled_from([None, None, 0, 1, 2])
    )
    def sync(self, laptop: int, place: int, yes: bool, few: int | None) -> None:
        """A laptop meets the others at a place, where not all files may have arrived."""
        self._sync(laptop % len(self.homes), place, yes, few)

    @rule(laptop=which)
    def undo_sync(self, laptop: int) -> None:
        """What a sync brought is laid aside."""
        self.homes[laptop % len(self.homes)].undo_sync()

    @rule(laptop=which, card=which, seed=seeds, again=st.booleans())
    def undo_an_act(self, laptop: int, card: int, seed: int, again: bool) -> None:
        """An act is taken back, with another edit in between or not."""
        home = self.homes[laptop % len(self.homes)]
        before = home.remember()
        self._edit_card(laptop, card, seed)
        after = home.remember(command=True)
        self.recorded |= words(home.whole())
        if again:
            self._edit_card(laptop, card, seed + 1)
        with self._act(laptop):
            if before != after and after is not None:
                self.recorded |= words(home.whole())
                home.undo_act(before, after)

    def teardown(self) -> None:
        try:
            if self.homes:
                self.settle_down()
        finally:
            self.world.close()

    def settle_down(self) -> None:
        """Once edits stop and all have met: alike in every byte, at one state, nothing lost, and nothing chases."""
        for _ in range(_ROUNDS):
            states = [home.state() for home in self.homes]
            for at in range(len(self.homes)):
                for place in range(_PLACES):
                    self._sync(at, place, True, None)
            if len(set(states)) == 1 and [home.state() for home in self.homes] == states:
                break
        files = [home.files() for home in self.homes]
        assert all(found == files[0] for found in files)
        states = [home.state() for home in self.homes]
        assert len(set(states)) == 1
        for at in range(len(self.homes)):
            self._sync(at, 0, True, None)
        assert [home.state() for home in self.homes] == states, "a sync with nothing new made a new state"
        there = words(files[0])
        assert not self.written - self.let_go - there, "words were lost"
        for word in sorted((self.let_go & self.recorded) - there):
            assert self.homes[0].knows(word.decode()), f"{word!r} is not even in history"

    def _sync(self, at: int, place: int, yes: bool, few: int | None) -> None:
        home = self.homes[at]
        before = words(home.files())
        self.recorded |= words(home.whole())
        home.sync(place, yes, few)
        lost = before - words(home.files()) - self.let_go
        assert not lost, f"a sync took away what nobody let go: {lost}"

    def _edit_card(self, laptop: int, card: int, seed: int) -> None:
        with self._act(laptop) as home:
            path = pick(sorted(path for path, _ in cards(home)), card)
            if path is not None:
                self.count += 1
                with contextlib.suppress(NotACardError):
                    new = hands.edited(Random(seed), home.files()[path], f"w{self.count}x", path, most=2)
                    read_cards(new, path)
                    home.put(path, new)

    @contextlib.contextmanager
    def _act(self, laptop: int) -> Iterator[Home]:
        """A person's act on one laptop: the words that it brings, and those that it lets go."""
        home = self.homes[laptop % len(self.homes)]
        before = home.files()
        yield home
        after = home.files()
        self.written |= words(after)
        self.let_go |= words(before) - words(after)
        for path, data in after.items():
            if before.get(path) != data:
                self.let_go |= _questioned(data, path)  # who changes a line in question has chosen what then stands


def words(files: Mapping[str, bytes]) -> set[bytes]:
    """The words of the ledger that stand in some files."""
    return {word for data in files.values() for word in _WORD.findall(data)}


def cards(home: Home) -> list[tuple[str, Card]]:
    """Each card of a box, by path."""
    return [(path, card) for path, data in sorted(home.files().items()) if (card := _card(data, path)) is not None]


@lru_cache(maxsize=512)
def _card(data: bytes, path: str) -> Card | None:
    if could_be_card(path):
        with contextlib.suppress(NotACardError, NotTextError):
            return read_cards(data, path)[0]
    return None


def _questioned(data: bytes, path: str) -> set[bytes]:
    """Words that stand in wordings of a card's questions."""
    card = _card(data, path)
    entries = (*card.undecided, *card.settled) if card is not None else ()
    return words({path: "\n".join(w.text for entry in entries for w in entry.wordings).encode()})


def pick(paths: list[str], at: int) -> str | None:
    """One of some paths."""
    return paths[at % len(paths)] if paths else None
