"""dishes.txt: the family's own say about which cards are the same dish, read and written a line at a time."""

from collections.abc import Iterable
from dataclasses import dataclass
from unicodedata import normalize

from recipebox.cards.text import Line, Text, decode, encode

Pair = tuple[str, str]

HEADING = "# dishes.txt: the family's own say, one a line; order means nothing"
_KINDS = ("same", "different", "name")


@dataclass(frozen=True, slots=True)
class Saying:
    """One understood line: of "same" and "different" two paths in byte order, of "name" a DISH and a path."""

    kind: str
    a: str
    b: str
    line: int = 0


@dataclass(frozen=True, slots=True)
class Sayings:
    """What dishes.txt says. `names` holds every (path, name) said; `other` the lines nobody understood, as written."""

    said: tuple[Saying, ...] = ()
    other: tuple[str, ...] = ()

    @property
    def same(self) -> frozenset[Pair]:
        """Pairs that count as one dish: said, and not also said to be different."""
        return self._pairs("same") - self._pairs("different")

    @property
    def different(self) -> frozenset[Pair]:
        """Pairs that count as kept apart: said, and not also said to be the same."""
        return self._pairs("different") - self._pairs("same")

    @property
    def names(self) -> dict[str, str]:
        """The dish's name by the path it was said of; a path (or cards joined by `same`) with two names has none."""
        quarrelling = {path for quarrel in quarrels(self) if quarrel.kind == "name" for path in quarrel.paths}
        return {s.b: s.a for s in self.said if s.kind == "name" and s.b not in quarrelling}

    def _pairs(self, kind: str) -> frozenset[Pair]:
        return frozenset((s.a, s.b) for s in self.said if s.kind == kind)


@dataclass(frozen=True, slots=True)
class Quarrel:
    """Lines that contradict one another and so count as unsaid. `kind` is "pair" or "name"."""

    kind: str
    paths: tuple[str, ...]
    wordings: tuple[str, ...]


def read_sayings(data: bytes) -> Sayings:
    """Read dishes.txt. Never raises for text; raises NotTextError (cards.text) for what is no text."""
    said, other = [], []
    for number, line in enumerate(decode(data).lines, start=1):
        saying = _read_line(line.words, number)
        if saying:
            said.append(saying)
        elif line.words.strip() and not line.words.lstrip().startswith("#"):
            other.append(line.words)
    return Sayings(tuple(said), tuple(other))


def say(data: bytes, kind: str, a: str, b: str) -> bytes:
    """dishes.txt with one thing said: kind "same" or "different" of two paths, or "name" of a name and a path.

    What contradicts it is taken out, so saying it again settles a quarrel; said already, the bytes come back as they
    are. Raises ValueError for another kind, a path with "|" or a line break in it, or a card with itself.
    """
    if kind not in _KINDS:
        raise ValueError(f"dishes.txt knows same, different and name, not {kind}")
    a, b = _clean(a), _clean(b)
    if kind != "name":
        if a == b:
            raise ValueError(f"{a}: a card is always the same dish as itself")
        a, b = sorted((a, b), key=str.encode)
    wanted = Saying(kind, a, b)
    before = read_sayings(data)
    rivals = {s.line for s in before.said if _rivals(wanted, s, before)}
    there = any((s.kind, s.a, s.b) == (kind, a, b) for s in before.said)
    if there and not rivals:
        return data
    return _rewrite(data, rivals, None if there else f"{kind}: {a} | {b}")


def forget(data: bytes, a: str, b: str) -> bytes:
    """dishes.txt without any `same` or `different` line about these two paths."""
    pair = tuple(sorted((_clean(a), _clean(b)), key=str.encode))
    gone = {s.line for s in read_sayings(data).said if s.kind != "name" and (s.a, s.b) == pair}
    return _rewrite(data, gone, None) if gone else data


def quarrels(sayings: Sayings) -> tuple[Quarrel, ...]:
    """What is said both ways: `same` and `different` for a pair, or two names for one dish."""
    same = sayings._pairs("same")
    both = sorted(same & sayings._pairs("different"))
    found = [
        Quarrel("pair", pair, (f"different: {pair[0]} | {pair[1]}", f"same: {pair[0]} | {pair[1]}")) for pair in both
    ]
    named: dict[str, dict[str, list[str]]] = {}
    joined = _joined(same - sayings._pairs("different"))
    for saying in sayings.said:
        if saying.kind == "name":
            names = named.setdefault(joined.get(saying.b, saying.b), {})
            names.setdefault(_folded(saying.a), []).append(f"name: {saying.a} | {saying.b}")
    for names in named.values():
        if len(names) > 1:
            lines = sorted(line for group in names.values() for line in group)
            paths = tuple(sorted({line.rpartition(" | ")[2] for line in lines}))
            found.append(Quarrel("name", paths, tuple(lines)))
    return tuple(sorted(found, key=lambda quarrel: (quarrel.kind, quarrel.paths)))


def follow(data: bytes, moved: dict[str, str]) -> bytes:
    """dishes.txt after cards moved: old paths are written as new ones, nothing else changes."""
    text = decode(data)
    lines = list(text.lines)
    for saying in read_sayings(data).said:
        a = saying.a if saying.kind == "name" else moved.get(saying.a, saying.a)
        b = moved.get(saying.b, saying.b)
        if (a, b) != (saying.a, saying.b):
            if saying.kind != "name":
                a, b = sorted((a, b), key=str.encode)
            lines[saying.line - 1] = Line(f"{saying.kind}: {a} | {b}", lines[saying.line - 1].end)
    return encode(Text(tuple(lines), text.encoding, text.mark, text.unsure))


def saying_key(words: str) -> str | None:
    """What a line of dishes.txt says, alike for every way of writing it; None for a line without words."""
    saying = _read_line(words, 0)
    if saying:
        return f"{saying.kind}: {saying.a} | {saying.b}"
    return _folded(words) or None


def _read_line(words: str, number: int) -> Saying | None:
    kind, colon, rest = words.strip().partition(":")
    kind = kind.strip().casefold()
    if not colon or kind not in _KINDS:
        return None
    first, bar, second = rest.partition("|") if kind != "name" else rest.rpartition("|")
    a, b = normalize("NFC", first.strip()), normalize("NFC", second.strip())
    if not bar or not a or not b or (kind != "name" and a == b):
        return None
    if kind != "name":
        a, b = sorted((a, b), key=str.encode)
    return Saying(kind, a, b, number)


def _rivals(wanted: Saying, said: Saying, before: Sayings) -> bool:
    if wanted.kind == "name":
        joined = _joined(before.same)
        one_dish = joined.get(said.b, said.b) == joined.get(wanted.b, wanted.b)
        return said.kind == "name" and one_dish and said.a != wanted.a
    return said.kind not in ("name", wanted.kind) and (said.a, said.b) == (wanted.a, wanted.b)


def _joined(same: Iterable[Pair]) -> dict[str, str]:
    """The smallest path of each set of paths that `same` lines hang together."""
    root: dict[str, str] = {}

    def top(path: str) -> str:
        while root.setdefault(path, path) != path:
            path = root[path]
        return path

    for a, b in sorted(same):
        low, high = sorted((top(a), top(b)))
        root[high] = low
    return {path: top(path) for path in list(root)}


def _rewrite(data: bytes, gone: set[int], *new: str | None) -> bytes:
    text = decode(data)
    lines = [line for number, line in enumerate(text.lines, start=1) if number not in gone]
    added = [Line(words, text.end) for words in new if words is not None]
    if added and not data:
        lines = [Line(HEADING, "\n")]
    if added and lines and not lines[-1].end:
        lines[-1] = Line(lines[-1].words, text.end)
    return encode(Text((*lines, *added), text.encoding, text.mark, text.unsure))


def _folded(words: str) -> str:
    return " ".join(normalize("NFC", words).split())


def _clean(words: str) -> str:
    words = normalize("NFC", words.strip())
    if not words or "|" in words or len(words.splitlines()) != 1:
        raise ValueError(f"{words!r} cannot stand in dishes.txt")
    return words
