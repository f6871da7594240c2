"""The words in JSON-LD values, whichever of the many allowed shapes a value has."""

from collections.abc import Callable, Iterable, Iterator
from typing import Any

_NAMES = ("name", "text", "headline", "@value", "value", "description")
_QUIET = frozenset(("width", "height", "caption", "encodingFormat", "contentUrl", "potentialAction", "position"))
_DEEPEST = 50


class Words:
    """Reads values as lines; `plain` takes marks of HTML out of a string."""

    def __init__(self, plain: Callable[[str], str]) -> None:
        self.plain = plain

    def line(self, value: Any) -> str:
        """The value on one line, "" for nothing."""
        return " ".join(self.each(value))

    def each(self, value: Any) -> list[str]:
        """The value's lines: a list's entries one by one, a string's lines, an object's name or amount."""
        return [line for one in _flat(value) for line in self._lines(one)]

    def paragraphs(self, value: Any) -> list[str]:
        """The value's paragraphs, each on one line."""
        found = []
        for one in _flat(value):
            text = self.plain(one).replace("\r\n", "\n").replace("\r", "\n") if isinstance(one, str) else ""
            found += [" ".join(paragraph.split()) for paragraph in text.split("\n\n")]
            if not isinstance(one, str):
                found += self._lines(one)
        return [paragraph for paragraph in found if paragraph]

    def names(self, value: Any) -> list[str]:
        """Names of people: of a string, a Person, an Organization, or several."""
        found = [self.line(one.get("name", one.get("@id")) if isinstance(one, dict) else one) for one in _flat(value)]
        return list(dict.fromkeys(name for name in found if name and not name.startswith("http")))

    def tags(self, values: Iterable[Any]) -> list[str]:
        """Keywords: comma-separated strings, lists, or terms with a name; each once, without case."""
        found: dict[str, str] = {}
        for value in values:
            for line in self.each(value):
                for tag in line.split(","):
                    if tag.strip():
                        found.setdefault(tag.strip().casefold(), tag.strip())
        return list(found.values())

    def notes(self, key: str, value: Any) -> list[str]:
        """Everything a property says, a line each: "nutrition, calories: 240"."""
        return [f"{path}: {line}" for path, line in self._leaves(key, value, 0)]

    def _leaves(self, path: str, value: Any, depth: int) -> Iterator[tuple[str, str]]:
        if depth > _DEEPEST:
            return
        if isinstance(value, list):
            for one in value:
                yield from self._leaves(path, one, depth + 1)
        elif isinstance(value, dict):
            address = value.get("url") or value.get("contentUrl") or value.get("@id")
            kept = {k: v for k, v in value.items() if k[:1] != "@" and k not in _QUIET}
            if "@value" in value:
                kept["@value"] = value["@value"]
            if not kept and isinstance(address, str):
                yield path, address
            for key, inner in kept.items():
                named = path if key in ("name", "text", "url", "@value") else f"{path}, {key}"
                yield from self._leaves(named, inner, depth + 1)
        else:
            for line in self._lines(value):
                yield path, line

    def _lines(self, value: Any) -> list[str]:
        if isinstance(value, bool):
            return ["yes" if value else "no"]
        if isinstance(value, int | float):
            return [f"{value:g}" if abs(value) < 1e6 else str(value)]
        if isinstance(value, str):
            return [line for raw in self.plain(value).splitlines() if (line := " ".join(raw.split()))]
        if isinstance(value, dict):
            return self._object(value)
        return []

    def _object(self, value: dict[str, Any]) -> list[str]:
        """A quantity, an ingredient in fields, a term or a thing: amount, unit and name on one line."""
        amount = value.get("amount", value.get("requiredQuantity", value.get("value", value.get("@value"))))
        if isinstance(amount, dict):
            amount = " ".join(self._object(amount))
        if amount is None and ("minValue" in value or "maxValue" in value):
            ends = [self._scalar(value.get(key)) for key in ("minValue", "maxValue")]
            amount = " to ".join(end for end in ends if end)
        unit = self._scalar(value.get("unitText", value.get("unitCode")))
        name = next((word for key in _NAMES if key != "value" and (word := self._scalar(value.get(key)))), "")
        line = " ".join(part for part in (self._scalar(amount), unit, name) if part)
        return [line] if line else []

    def _scalar(self, value: Any) -> str:
        return " ".join(self._lines(value)) if isinstance(value, str | int | float) else ""


def _flat(value: Any) -> list[Any]:
    """A value's entries, lists within lists opened."""
    found = []
    waiting = [value]
    while waiting:
        one = waiting.pop()
        if isinstance(one, list):
            waiting += reversed(one)
        elif one is not None:
            found.append(one)
    return found
