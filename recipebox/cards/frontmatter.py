"""The block of `name: value` lines between two rules at the top of a Markdown file: a plain part of YAML."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from recipebox.cards.text import Line

_KEY = re.compile(r"(\s*)([\"']?[^\s:#\-\[{\"'][^:\"']{0,60}?[\"']?)\s*(?::(?=\s|$)|=)\s*(.*)$")
_ITEM = re.compile(r"(\s*)-(?:\s+(.*))?$")
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
    """A key with its values in order; `listed` when they were typed as a list."""

    key: str
    line: int
    values: list[Value] = field(default_factory=list)
    listed: bool = False


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
    if border not in ("---", "+++"):
        return None
    ends = (border, "...") if border == "---" else (border,)
    last = next(
        (at for at in range(first + 1, min(len(lines), first + _MOST)) if lines[at].words.rstrip() in ends), None
    )
    if last is None:
        return None
    entries, borders, odd = _entries(lines, first + 1, last)
    if not entries or odd > len(entries):
        return None
    return FrontMatter(entries, last + 1, [*range(1, first + 2), last + 1, *borders])


def _entries(lines: Sequence[Line], start: int, stop: int) -> tuple[list[Entry], list[int], int]:
    entries: list[Entry] = []
    borders: list[int] = []
    odd = 0
    block = ""  # a block scalar's sign
    fields: dict[str, str] = {}
    group: str | None = None
    for at in range(start, stop):
        raw = lines[at].words
        number = at + 1
        if not raw.strip() or raw.lstrip().startswith("#"):
            borders.append(number)
            continue
        indent = len(raw) - len(raw.lstrip())
        current = entries[-1] if entries else None
        if block and indent > 0 and current is not None:
            current.values.append(Value(number, _value(raw.strip()), indent))
            continue
        block = ""
        item = _ITEM.match(raw)
        if item is not None and current is not None and raw.strip() != "---":
            words = (item[2] or "").strip()
            start_at = raw.find(words, item.end(1) + 1) if words else len(raw)
            current.listed = True
            pair = _KEY.match(words) if not words.startswith(('"', "'")) else None
            if pair is not None and _is_field(pair[2]):
                fields = {pair[2].strip("\"' ").casefold(): _value(pair[3])}
                current.values.append(Value(number, _from_fields(fields), start_at, group))
                continue
            if pair is not None and not pair[3].strip():
                group = _value(pair[2])
                current.values.append(Value(number, "", start_at, group))
                continue
            fields = {}
            if words:
                current.values.append(Value(number, _value(words), start_at, group))
            continue
        pair = _KEY.match(raw)
        if pair is None:
            if current is not None and current.values and indent:
                current.values[-1].text += " " + raw.strip()
                borders.append(number)
            elif raw.strip() in ("]", "}", "],"):
                borders.append(number)
            elif current is not None and current.listed:
                current.values.append(Value(number, _value(raw.strip().rstrip(",")), indent))
            else:
                odd += 1
                if current is not None:
                    current.values.append(Value(number, raw.strip(), indent))
            continue
        key, value = pair[2].strip("\"' ").casefold(), pair[3].strip()
        if indent and current is not None:
            if fields and _is_field(key):
                fields[key] = _value(value)
                current.values[-1].text = _from_fields(fields)
                borders.append(number)
                continue
            if not value:
                group = _value(pair[2])
                current.values.append(Value(number, "", indent, group))
                continue
            current.values.append(Value(number, f"{pair[2]}: {_value(value)}", indent))
            continue
        group = None
        fields = {}
        entry = Entry(key, number)
        entries.append(entry)
        if value in ("|", ">", "|-", ">-", "|+", ">+"):
            block = value
            entry.listed = value[0] == "|"
        elif value.startswith("["):
            entry.listed = True
            entry.values = [
                Value(number, _value(part), pair.start(3)) for part in _flow(value) if part.strip(" ,[]\"'")
            ]
        elif value:
            entry.values = [Value(number, _value(value), pair.start(3))]
    return entries, borders, odd


_FIELDS = (
    "name",
    "item",
    "ingredient",
    "amount",
    "quantity",
    "qty",
    "unit",
    "units",
    "note",
    "notes",
    "text",
    "step",
    "title",
    "preparation",
    "optional",
    "food",
    "value",
    "description",
    "instruction",
)


def _is_field(key: str) -> bool:
    return key.strip("\"' ").casefold() in _FIELDS


def _from_fields(fields: dict[str, str]) -> str:
    """An ingredient typed as fields: amount, unit, name, then notes."""

    def first(*names: str) -> str:
        return next((fields[name] for name in names if fields.get(name)), "")

    lead = [
        first("amount", "quantity", "qty", "value"),
        first("unit", "units"),
        first("name", "item", "ingredient", "food", "text", "step", "description", "instruction", "title"),
    ]
    tail = [fields[name] for name in ("preparation", "note", "notes") if fields.get(name)]
    return ", ".join([" ".join(part for part in lead if part), *tail]).strip(", ")


def _value(words: str) -> str:
    words = words.strip()
    if len(words) > 1 and words[0] == words[-1] and words[0] in "\"'":
        inner = words[1:-1]
        return inner.replace('\\"', '"') if words[0] == '"' else inner.replace("''", "'")
    comment = re.search(r"\s#\s.*$", words)
    return words[: comment.start()].rstrip() if comment else words


def _flow(words: str) -> list[str]:
    inner = words.strip()[1:]
    inner = inner[:-1] if inner.endswith("]") else inner
    return [a or b or c for a, b, c in re.findall(r"\"([^\"]*)\"|'([^']*)'|([^,\"']+)", inner)]
