"""What a box holds already, while something is brought in: names taken, originals kept, cards that say the same."""

import hashlib
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import PurePath

from recipebox.box import MAX_CARD, Box, BoxError, blob_id, read_file, scan
from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.gather.forms import PASTED
from recipebox.gather.sent import Found

# So that a shared original is not read as a second card beside the one made of it.
_SHARED_ENDINGS = {".txt": ".text", ".md": ".markdown"}
_KEPT_AS = re.compile(rb"kept as (?:cards/)?as-sent/[^\n/]{1,240}?-([0-9a-f]{8})[.\w-]*")


@dataclass(frozen=True, slots=True)
class Original:
    """Where an original lies or will lie, whether it does, and the mark in its name that tells its bytes."""

    path: str
    there: bool
    mark: str


class Here:
    """A box while cards are brought in."""

    def __init__(self, box: Box) -> None:
        self.box = box
        found = scan(box).files
        self.taken = {path.lower() for path in found}
        self.paths = sorted(path for path in found if could_be_card(path))
        self.where = {one.blob_id: path for path, one in sorted(found.items(), reverse=True)}
        self.marked: dict[str, list[str]] | None = None
        self.new: dict[str, bytes] = {}

    def cards_of(self, data: bytes) -> list[Card]:
        """The cards of a file in the box that has just these bytes."""
        path = self.where.get(blob_id(data))
        return self._read(path) if path is not None and could_be_card(path) else []

    def original(self, name: str, data: bytes, share: bool) -> Original:
        """The place for an original, told apart from others by eight letters of its SHA-256."""
        mark = hashlib.sha256(data).hexdigest()[:8]
        pure = PurePath("pasted.txt" if name == PASTED else PurePath(name).name)
        ending = pure.suffix.lower()
        folder = "cards/as-sent" if share else "as-sent"
        ending = _SHARED_ENDINGS.get(ending, ending) if share else ending
        path = f"{folder}/{file_stem(pure.stem)}-{mark}{ending}"
        try:
            there = read_file(self.box, path) == data
        except BoxError:
            there = False
        if not there and (self.box.root / path).exists():
            path = self.free(folder, f"{file_stem(pure.stem)}-{mark}", ending)
        return Original(path, there, mark)

    def same_card(self, found: Found, mark: str, sender: str | None) -> str | None:
        """What the card is called in the box, if it is there: made from the same original, or saying the same."""
        made = [card for path in self._marked(mark) for card in self._read(path)]
        named = [path for path in self.paths if _named_for(path, file_stem(found.title))]
        if found.card is None:
            return next(iter(self._marked(mark)), None) or self._beside(found.pictures[0].data)
        for card in made:
            if card.title == found.title or _half_alike(card, found.card):
                return card.called
        for card in (card for path in named for card in self._read(path)):
            if _says(card) == _says(found.card) and (sender is None or sender == card.sender):
                return card.called
        return None

    def _beside(self, picture: bytes) -> str | None:
        """The text beside a picture that the box has."""
        lies = self.where.get(blob_id(picture))
        return next(
            (p for p in self.paths if lies and PurePath(p).with_suffix("") == PurePath(lies).with_suffix("")), None
        )

    def free(self, folder: str, stem: str, ending: str) -> str:
        """A path that no file has, whatever its case; it counts as taken from now on."""
        path, number = f"{folder}/{stem}{ending}", 1
        while path.lower() in self.taken or (self.box.root / path).exists():
            number += 1
            path = f"{folder}/{stem}-{number}{ending}"
        self.taken.add(path.lower())
        return path

    def put(self, path: str, data: bytes, pictures: Mapping[str, bytes]) -> None:
        """Count a card and its pictures as being in the box, written yet or not."""
        self.where |= {blob_id(picture): place for place, picture in pictures.items()}
        self.taken.add(path.lower())
        for said in _marks(data):
            self._marked(said).append(path)
        self.new[path] = data
        self.paths.append(path)
        self.where[blob_id(data)] = path

    def _marked(self, mark: str) -> list[str]:
        """Files of cards that say they were made from the original with this mark."""
        if self.marked is None:
            self.marked = {}
            for path in self.paths:
                for said in _marks(self._bytes(path)):
                    self.marked.setdefault(said, []).append(path)
        return self.marked.setdefault(mark, [])

    def _read(self, path: str) -> list[Card]:
        try:
            return read_cards(self._bytes(path), path)
        except NotACardError:
            return []

    def _bytes(self, path: str) -> bytes:
        if path in self.new:
            return self.new[path]
        try:
            return read_file(self.box, path, MAX_CARD)
        except BoxError:
            return b""


def file_stem(title: str) -> str:
    """A file name every system can hold, made of a title: "Aunt Élise's Pie" -> "aunt-elises-pie", "Суп" -> "суп".

    Letters of any script stay, composed, Latin ones without their accents; at most 60 of them and 180 bytes.
    """
    words = "".join(letter if _is_of_a_word(letter) else " " for letter in _without_accents(title)).split()
    stem = "-".join(words)[:60].encode()[:180].decode("utf-8", "ignore").strip("-")
    return f"card-{stem}".rstrip("-") if not stem or re.fullmatch(r"con|prn|aux|nul|com\d|lpt\d", stem) else stem


def _without_accents(title: str) -> str:
    """Small letters, composed; a Latin letter stands without its accents, another script's keeps its signs."""
    kept, is_latin = "", False
    for letter in unicodedata.normalize("NFKD", title).lower().replace("'", "").replace("’", ""):
        if not unicodedata.category(letter).startswith("M"):
            is_latin = "LATIN" in unicodedata.name(letter, "")
        elif is_latin:
            continue
        kept += letter
    return unicodedata.normalize("NFC", kept)


def _is_of_a_word(letter: str) -> bool:
    return letter.isalnum() or unicodedata.category(letter).startswith("M")


def _marks(data: bytes) -> Iterator[str]:
    for found in _KEPT_AS.finditer(data.replace(b"\0", b"")):
        yield found[1].decode("ascii")


def _named_for(path: str, stem: str) -> bool:
    return bool(re.fullmatch(rf"cards/{re.escape(stem)}(-\d+)?\.(txt|md)", path.lower()))


def _says(card: Card) -> object:
    return card.title, [i.text for i in card.ingredients], [step.text for step in card.steps]


def _half_alike(one: Card, other: Card) -> bool:
    """At least half of the ingredient lines are the same: the title alone was changed since."""
    a, b = {i.text for i in one.ingredients}, {i.text for i in other.ingredients}
    return bool(a) and 2 * len(a & b) >= max(len(a), len(b))
