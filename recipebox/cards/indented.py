"""Names and values set out by indents, lists and tables: the plain part of YAML and of TOML, with their places."""

import re
from collections.abc import Sequence

from recipebox.cards.flow import Block, Keyed, Listed, Node, Scalar, read_flow

_KEY = re.compile(r"(\"[^\"]{1,60}\"|'[^']{1,60}'|[^\s:#\-\[{\"'|>][^:]{0,60}?)\s*(?::(?=\s|$)|=(?=\s))\s*(.*)$")
_SETS = re.compile(r"([\w.\"' -]{1,60}?)\s*=\s*(.*)$")
_TABLE = re.compile(r"\[{1,2}\s*([^\[\]]{1,80}?)\s*\]{1,2}\s*(?:#.*)?$")
_BLOCK = re.compile(r"[|>][+-]?\d?[+-]?$")
_COMMENT = re.compile(r"\s#\s.*$")
_DEEPEST = 40


def read_indented(lines: Sequence[str], start: int, stop: int) -> tuple[Keyed, int]:
    """The names and values of these lines, read as YAML; and how many lines were neither."""
    reader = _Indented(lines, start, stop)
    found = Keyed()
    while reader.at < stop:
        node = reader.node(0, 0)
        if isinstance(node, Keyed):
            found.pairs += node.pairs
        elif reader.at < stop or node is not None:
            reader.odd += 1
    return found, reader.odd


def read_tables(lines: Sequence[str], start: int, stop: int) -> tuple[Keyed, int]:
    """The names and values of these lines, read as TOML; and how many lines were neither."""
    found = Keyed()
    here = found
    odd = 0
    at = start
    while at < stop:
        words = lines[at].strip()
        if not words or words.startswith("#"):
            at += 1
            continue
        if table := _TABLE.match(words):
            here = Keyed()
            _put(found, table[1].strip("\"' "), at + 1, here, several=words.startswith("[["))
            at += 1
            continue
        pair = _SETS.match(lines[at].lstrip())
        if pair is None:
            odd += 1
            at += 1
            continue
        column = len(lines[at]) - len(lines[at].lstrip()) + pair.start(2)
        node, behind = read_flow(lines, at, column, stop)
        here.pairs.append((pair[1].strip("\"' "), at + 1, node))
        at = max(behind, at + 1)
    return found, odd


def _put(found: Keyed, name: str, line: int, table: Keyed, several: bool) -> None:
    if several:
        for key, _, node in found.pairs:
            if key == name and isinstance(node, Listed):
                node.items.append(table)
                return
        found.pairs.append((name, line, Listed([table])))
    else:
        found.pairs.append((name, line, table))


class _Indented:
    def __init__(self, lines: Sequence[str], start: int, stop: int) -> None:
        self.lines = lines
        self.at = start
        self.stop = stop
        self.shift: int | None = None  # the column of what stands behind a dash on the line in hand
        self.odd = 0

    def node(self, indent: int, depth: int) -> Node | None:
        """The value whose lines stand at this indent or deeper."""
        if not self._seek() or self._indent() < indent or depth > _DEEPEST:
            if depth > _DEEPEST and self.at < self.stop:
                self._skip()
            return None
        words = self._words()
        if words == "-" or words.startswith("- "):
            return self._list(self._indent(), depth)
        if _KEY.match(words):
            return self._keyed(self._indent(), depth)
        return self._scalar(indent)

    def _list(self, indent: int, depth: int) -> Listed:
        found = Listed()
        while self._seek() and self._indent() == indent and (self._words() == "-" or self._words().startswith("- ")):
            words = self._words()
            rest = words[1:].lstrip()
            column = self._column() + len(words) - len(rest)
            if not rest or rest.startswith("#"):
                self._skip()
                node = self.node(indent + 1, depth + 1)
            elif _BLOCK.match(rest):
                node = self._block(indent, rest[0] == ">")
            elif rest[0] in "[{\"'" and not _KEY.match(rest) and self._flows(rest):
                node = self._flow(column)
            else:
                self.shift = column
                node = self.node(indent + 1, depth + 1)
            if node is not None:
                found.items.append(node)
        return found

    def _flows(self, rest: str) -> bool:
        return rest[0] in "\"'{" or "]" in rest or not rest.startswith("[")

    def _keyed(self, indent: int, depth: int) -> Keyed:
        found = Keyed()
        while self._seek() and self._indent() == indent and (pair := _KEY.match(self._words())):
            if self._words().startswith("- "):
                break
            line = self.at + 1
            key, value = pair[1].strip("\"' "), pair[2].strip()
            column = self._column() + pair.start(2)
            node: Node | None
            if not value or value.startswith("#"):
                self._skip()
                node = self._below(indent, depth)
            elif _BLOCK.match(_COMMENT.sub("", value)):
                node = self._block(indent, value[0] == ">")
            elif value[0] in "[{\"'" and (
                value[0] not in "\"'" or value.count(value[0]) != 1 or self._closes(value[0])
            ):
                node = self._flow(column)
            else:
                self.shift = column
                node = self._scalar(indent + 1)
            found.pairs.append((key, line, node))
        return found

    def _closes(self, mark: str) -> bool:
        return any(mark in line for line in self.lines[self.at + 1 : min(self.stop, self.at + 20)])

    def _below(self, indent: int, depth: int) -> Node | None:
        """What stands below a name: deeper, or a list at the same indent."""
        if not self._seek():
            return None
        words = self._words()
        if self._indent() == indent and (words == "-" or words.startswith("- ")):
            return self._list(indent, depth + 1)
        return self.node(indent + 1, depth + 1)

    def _block(self, indent: int, folded: bool) -> Block:
        self._skip()
        first = self.at
        while self.at < self.stop and (not self.lines[self.at].strip() or self._indent() > indent):
            self.at += 1
        return Block(first, self.at, folded)

    def _flow(self, column: int) -> Node:
        node, behind = read_flow(self.lines, self.at, column, self.stop)
        self.shift = None
        self.at = max(behind, self.at + 1)
        return node

    def _scalar(self, indent: int) -> Scalar:
        """Words that go on over deeper lines."""
        start = self._column()
        found = Scalar(_COMMENT.sub("", self._words()), self.at + 1, start)
        self._skip()
        more = []
        while self.at < self.stop and self.lines[self.at].strip() and self._indent() >= max(indent, 1):
            words = self._words()
            if words.startswith("- ") or _KEY.match(words):
                break
            more.append(_COMMENT.sub("", words))
            self._skip()
        found.text = " ".join([found.text, *more])
        return found

    def _seek(self) -> bool:
        """Goes to the next line that says something."""
        while self.shift is None and self.at < self.stop:
            words = self.lines[self.at].strip()
            if words and not words.startswith("#"):
                break
            self.at += 1
        return self.at < self.stop

    def _skip(self) -> None:
        self.shift = None
        self.at += 1

    def _column(self) -> int:
        line = self.lines[self.at]
        return self.shift if self.shift is not None else len(line) - len(line.lstrip())

    def _indent(self) -> int:
        return self._column()

    def _words(self) -> str:
        return self.lines[self.at][self._column() :].strip()
