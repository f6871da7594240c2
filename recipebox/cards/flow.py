"""Values written in brackets and quotes, as JSON, TOML arrays and YAML's flow style have them, with their places."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field

_DEEPEST = 40  # a value nested deeper is taken as the words it is written in
_ESCAPES = {"n": "\n", "t": " ", "r": "", "/": "/", '"': '"', "\\": "\\", "b": "", "f": ""}


@dataclass(slots=True)
class Scalar:
    """Words, the line they begin on (from 1) and their column."""

    text: str
    line: int
    start: int = 0


@dataclass(slots=True)
class Block:
    """Lines `first` up to but not including `stop` (places in the lines given), taken as they are typed; `folded`
    where line ends mean nothing."""

    first: int
    stop: int
    folded: bool = False


@dataclass(slots=True)
class Listed:
    """Values in order."""

    items: list["Node"] = field(default_factory=list)


@dataclass(slots=True)
class Keyed:
    """Values under names: name, line and value (None where nothing is said)."""

    pairs: list[tuple[str, int, "Node | None"]] = field(default_factory=list)


Node = Scalar | Block | Listed | Keyed


def read_flow(lines: Sequence[str], at: int, column: int, stop: int) -> tuple[Node, int]:
    """The value that begins in line `at` at `column`, and the place of the line behind it. Lines from `stop` on are
    not looked at. Never raises; what is not closed ends where the lines do."""
    reader = _Flow(lines, at, column, stop)
    node = reader.value(0)
    return node, reader.line()


class _Flow:
    def __init__(self, lines: Sequence[str], at: int, column: int, stop: int) -> None:
        self.text = "\n".join([lines[at][column:], *lines[at + 1 : stop]])
        self.first = at
        self.column = column
        self.starts = [0]
        for line in [lines[at][column:], *lines[at + 1 : stop - 1]]:
            self.starts.append(self.starts[-1] + len(line) + 1)
        self.at = 0

    def line(self) -> int:
        """The place of the first line that is not touched."""
        return self._place(max(self.at - 1, 0))[0] + 1

    def value(self, depth: int) -> Node:
        self._blank()
        sign = self.text[self.at : self.at + 1]
        if depth < _DEEPEST and sign == "{":
            return self._keyed(depth)
        if depth < _DEEPEST and sign == "[":
            return self._list(depth)
        if sign in ('"', "'") and sign:
            return self._quoted()
        return self._bare()

    def _keyed(self, depth: int) -> Keyed:
        found = Keyed()
        self.at += 1
        while self._more("}"):
            line = self._place(self.at)[0] + 1
            before = self.at
            key = self._quoted() if self.text[self.at] in "\"'" else self._bare(":=")
            words = key.text if isinstance(key, Scalar) else ""
            self._blank()
            node: Node | None = None
            if self.text[self.at : self.at + 1] in (":", "="):
                self.at += 1
                node = self.value(depth + 1)
            if words:
                found.pairs.append((words, line, node))
            if self.at == before:
                self.at += 1
        return found

    def _list(self, depth: int) -> Listed:
        found = Listed()
        self.at += 1
        while self._more("]"):
            before = self.at
            node = self.value(depth + 1)
            if not (isinstance(node, Scalar) and not node.text):
                found.items.append(node)
            if self.at == before:
                self.at += 1
        return found

    def _more(self, end: str) -> bool:
        """Goes to the next member; False behind the closing bracket or at the end."""
        self._blank(",")
        if self.at >= len(self.text):
            return False
        if self.text[self.at] == end:
            self.at += 1
            return False
        return True

    def _blank(self, also: str = "") -> None:
        text = self.text
        while self.at < len(text) and (text[self.at].isspace() or text[self.at] in also or text[self.at] == "#"):
            if text[self.at] == "#":
                end = text.find("\n", self.at)
                self.at = end if end >= 0 else len(text)
            else:
                self.at += 1

    def _quoted(self) -> Node:
        text, mark = self.text, self.text[self.at]
        line, column = self._place(self.at)
        if text.startswith(mark * 3, self.at):
            end = text.find(mark * 3, self.at + 3)
            end = len(text) if end < 0 else end
            words = text[self.at + 3 : end]
            last = self._place(end)[0]
            self.at = min(end + 3, len(text))
            if "\n" in words.strip():
                return Block(
                    line + (words[:1] == "\n"), last + bool(text[self.starts[last - self.first] : end].strip())
                )
            return Scalar(" ".join(words.split()), line + 1, column + 3)
        at = self.at + 1
        kept: list[str] = []
        while at < len(text) and text[at] != mark:
            if text[at] == "\\" and mark == '"' and at + 1 < len(text):
                sign = text[at + 1]
                if sign == "u" and _is_hex(text[at + 2 : at + 6]):
                    kept.append(chr(int(text[at + 2 : at + 6], 16)))
                    at += 6
                    continue
                kept.append(_ESCAPES.get(sign, sign))
                at += 2
                continue
            kept.append(text[at])
            at += 1
            if mark == "'" and text.startswith("''", at):
                kept.append("'")
                at += 2
        self.at = min(at + 1, len(text))
        return Scalar(" ".join("".join(kept).split()), line + 1, column + 1)

    def _bare(self, ends: str = "") -> Scalar:
        line, column = self._place(self.at)
        start = at = self.at
        text = self.text
        while at < len(text) and text[at] not in ",]}\n" and text[at] not in ends:
            at += 1
        self.at = at
        return Scalar(text[start:at].strip(), line + 1, column)

    def _place(self, at: int) -> tuple[int, int]:
        """Line (from 0) and column of a place in the text."""
        number = bisect_right(self.starts, at) - 1
        column = at - self.starts[number]
        return self.first + number, column + (self.column if number == 0 else 0)


def _is_hex(words: str) -> bool:
    return len(words) == 4 and all(letter in "0123456789abcdefABCDEF" for letter in words) and words[0] not in "dD"
