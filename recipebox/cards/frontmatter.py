"""The block of names and values at the top of a Markdown file: YAML, TOML or JSON, read as far as cards need it."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from recipebox.cards.flow import Block, Keyed, Listed, Node, Scalar, read_flow
from recipebox.cards.indented import read_indented, read_tables
from recipebox.cards.text import Line

_MOST = 400  # lines that a front matter may have


@dataclass(slots=True)
class Value:
    """One line's value under a key: where it stands, its words, the group it is listed under."""

    line: int
    text: str
    start: int = 0
    group: str | None = None


@dataclass(slots=True)
class Entry:
    """A key with its values in order; `listed` when they were typed as a list. `block` has the places of lines that
    were typed as running text below the key."""

    key: str
    line: int
    values: list[Value] = field(default_factory=list)
    listed: bool = False
    block: tuple[int, int] | None = None


@dataclass(slots=True)
class FrontMatter:
    """The entries, the number of lines it takes, and the lines that are only borders or comments."""

    entries: list[Entry]
    size: int
    borders: list[int]


def read_front_matter(lines: Sequence[Line]) -> FrontMatter | None:
    """The front matter at the top of these lines, or None where there is none that reads as such."""
    first = next((at for at, line in enumerate(lines[:5]) if line.words.strip("\ufeff \t")), None)
    if first is None:
        return None
    border = lines[first].words.strip("\ufeff \t")
    words = [line.words for line in lines[: first + _MOST]]
    if border == "{":
        return _bare_json(words, first)
    if border not in ("---", "+++", ";;;", "---yaml", "---json", "---toml"):
        return None
    ends = (border[:3], "...") if border[0] == "-" else (border,)
    last = next((at for at in range(first + 1, len(words)) if words[at].rstrip() in ends), None)
    if last is None:
        return None
    found, odd = _read(words, first + 1, last, border)
    return _front(found, odd, first, last)


def _read(words: Sequence[str], start: int, stop: int, border: str) -> tuple[Keyed, int]:
    opening = next((at for at in range(start, stop) if words[at].strip()), stop)
    if opening < stop and words[opening].lstrip().startswith("{"):
        column = len(words[opening]) - len(words[opening].lstrip())
        node, _ = read_flow(words, opening, column, stop)
        return (node, 0) if isinstance(node, Keyed) else (Keyed(), 1)
    if border == "+++" or border.endswith("toml"):
        return read_tables(words, start, stop)
    return read_indented(words, start, stop)


def _bare_json(words: Sequence[str], first: int) -> FrontMatter | None:
    """A block in braces of its own, without borders."""
    last = next((at for at in range(first + 1, len(words)) if words[at].rstrip() in ("}", "};")), None)
    if last is None:
        return None
    node, _ = read_flow(words, first, words[first].index("{"), last + 1)
    return _front(node, 0, first, last) if isinstance(node, Keyed) else None


def _front(found: Keyed, odd: int, first: int, last: int) -> FrontMatter | None:
    entries = _entries(found, "")
    if not entries or odd > len(entries):
        return None
    claimed = {entry.line for entry in entries} | {value.line for entry in entries for value in entry.values}
    for entry in entries:
        if entry.block is not None:
            claimed |= set(range(entry.block[0] + 1, entry.block[1] + 1))
    borders = [number for number in range(1, last + 2) if number not in claimed]
    return FrontMatter(entries, last + 1, borders)


def _entries(found: Keyed, parent: str) -> list[Entry]:
    entries: list[Entry] = []
    for name, line, node in found.pairs:
        key = name.casefold()
        if isinstance(node, Keyed) and not is_listing(key):
            inner = "" if key.startswith("recipe") or any(is_listing(pair[0]) for pair in node.pairs) else key
            below = _entries(node, inner)
            if not any(entry.line == line for entry in below):
                entries.append(Entry(key, line))
            entries += below
            continue
        entry = Entry(_joined_key(parent, key), line)
        if isinstance(node, Block):
            entry.block = (node.first, node.stop)
            entry.listed = not node.folded
        elif node is not None:
            entry.values = _values(node, None, line)
            entry.listed = not isinstance(node, Scalar)
        entries.append(entry)
    return entries


def _joined_key(parent: str, key: str) -> str:
    if not parent:
        return key
    return parent if key in ("name", "title", "text", "value") else key if parent in _OUTER else f"{parent} {key}"


_OUTER = ("extra", "params", "taxonomies", "times", "time", "meta", "metadata", "info", "details")
_LISTING = re.compile(
    r"ingredient|zutat|direction|instruction|^steps?\b|\bsteps?$|method|procedure|zubereitung|preparation$",
    re.IGNORECASE,
)


def is_listing(key: str) -> bool:
    """Whether a key's words name ingredients or a method."""
    return _LISTING.search(key.replace("_", " ")) is not None


def _values(node: Node, group: str | None, line: int) -> list[Value]:
    """A value for each line listed, and one without text for each line that names a group."""
    if isinstance(node, Scalar):
        return [Value(node.line, node.text, node.start, group)] if node.text else []
    if isinstance(node, Block):
        return []
    if isinstance(node, Listed):
        return [value for item in node.items for value in _item(item, group, line)]
    found: list[Value] = []
    for name, at, inner in node.pairs:
        if isinstance(inner, Scalar):
            found.append(Value(at, f"{name}: {inner.text}", 0, group))
        elif inner is None:
            found.append(Value(at, name, 0, group))
        else:
            found += [Value(at, "", 0, name), *_values(inner, name, at)]
    return found


def _item(node: Node, group: str | None, line: int) -> list[Value]:
    """One member of a list: words, a thing typed as fields, or a group with things of its own."""
    if not isinstance(node, Keyed) or not node.pairs:
        return _values(node, group, line)
    inner = [(name, at, value) for name, at, value in node.pairs if isinstance(value, (Listed, Keyed))]
    words = {name.casefold(): value.text for name, _, value in node.pairs if isinstance(value, Scalar)}
    at = node.pairs[0][1]
    if inner:
        named = next((words[name] for name in _GROUP_NAMES if words.get(name)), None)
        found = []
        for name, below, value in inner:
            own = named or (None if name.casefold() in _GROUP_ITEMS else name)
            found += [Value(at if named else below, "", 0, own or group), *_values(value, own or group, below)]
        return found
    if any(name in _FIELDS and name not in _TAILS for name in words):
        return [Value(at, _from_fields(words), 0, group)]
    return [
        Value(
            at,
            ", ".join(
                f"{name}: {words[name.casefold()]}" if name.casefold() in words else name for name, _, _ in node.pairs
            ),
            0,
            group,
        )
    ]


_GROUP_NAMES = ("group", "name", "title", "section", "heading", "header", "for", "part", "component", "label")
_GROUP_ITEMS = ("items", "list", "ingredients", "steps", "instructions", "directions", "values", "method", "entries")
_AMOUNTS = ("amount", "quantity", "qty", "value", "menge", "count", "number")
_UNITS = ("unit", "units", "einheit", "measure")
_NAMES = ("name", "item", "ingredient", "food", "text", "step", "description", "instruction", "title", "direction")
_TAILS = ("preparation", "prep", "note", "notes", "comment", "details")
_FIELDS = (*_AMOUNTS, *_UNITS, *_NAMES, *_TAILS, "optional")


def _from_fields(fields: dict[str, str]) -> str:
    """An ingredient typed as fields: amount, unit, name, then notes."""
    lead = [next((fields[name] for name in names if fields.get(name)), "") for names in (_AMOUNTS, _UNITS, _NAMES)]
    tail = [fields[name] for name in _TAILS if fields.get(name)]
    if fields.get("optional", "").casefold() in ("true", "yes"):
        tail.append("optional")
    return ", ".join([" ".join(part for part in lead if part), *tail]).strip(", ")
