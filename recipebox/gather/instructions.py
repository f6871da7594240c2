"""recipeInstructions, in each of the shapes that schema.org allows, to steps in groups."""

import re
from typing import Any

from recipebox.gather.composed import Group
from recipebox.gather.plainwords import Words

_NUMBER = re.compile(r"(?:step\s+)?\d{1,2}\s*[.):]\s+(?=\S)", re.IGNORECASE)
_LISTED = ("itemListElement", "steps", "step")


def read_instructions(words: Words, value: Any) -> list[Group]:
    """Steps in groups: a HowToSection is a group under its name, a HowToStep a step, a text's lines a step each."""
    groups: list[Group] = [(None, [])]
    waiting = [value]
    while waiting:
        one = waiting.pop()
        if isinstance(one, list):
            waiting += reversed(one)
        elif isinstance(one, dict) and _is_section(one):
            name = words.line(one.get("name")).rstrip(": ")
            groups.append((name or None, []))
            waiting += [_End(), *reversed(_as_list(_listed(one)))]
        elif isinstance(one, _End):
            groups.append((None, []))
        elif isinstance(one, dict):
            groups[-1][1].extend(_step(words, one))
        elif one is not None:
            groups[-1][1].extend(words.each(one))
    filled = [group for group in groups if group[1]]
    steps = [step for _, steps in filled for step in steps]
    if len(steps) > 1 and all(_NUMBER.match(step) for step in steps):
        filled = [(heading, [_NUMBER.sub("", step, count=1) for step in steps]) for heading, steps in filled]
    return filled


class _End:
    """Stands where a section's steps end."""


def _is_section(node: dict[str, Any]) -> bool:
    kinds = node.get("@type")
    kinds = kinds if isinstance(kinds, list) else [kinds]
    if any(isinstance(kind, str) and kind.endswith("HowToSection") for kind in kinds):
        return True
    return "ItemList" in kinds or (_listed(node) is not None and "text" not in node and "HowToStep" not in kinds)


def _listed(node: dict[str, Any]) -> Any:
    return next((node[key] for key in _LISTED if node.get(key)), None)


def _as_list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _step(words: Words, node: dict[str, Any]) -> list[str]:
    """A step's words: its text, its own directions and tips; its name before them where that says something new."""
    if isinstance(node.get("item"), dict):
        node = {**node, **node["item"]}
    told = [words.line(node.get("text"))]
    waiting = _as_list(_listed(node))[::-1]
    while waiting:
        inner = waiting.pop()
        if isinstance(inner, list):
            waiting += reversed(inner)
        elif isinstance(inner, dict):
            told.append(words.line(inner.get("text") or inner.get("name")))
            waiting += reversed(_as_list(_listed(inner)))
        else:
            told.append(words.line(inner))
    text = " ".join(part for part in told if part)
    if not text:
        text = words.line(node.get("description"))
    name = words.line(node.get("name"))
    if name and not text:
        text = name
    elif name and not _begins(text, name):
        text = f"{name.rstrip(':.')}: {text}"
    return [text] if text else []


def _begins(text: str, name: str) -> bool:
    """Whether a step's name is only its number or the beginning of its text."""
    plain = name.casefold().rstrip(".… :")
    return text.casefold().startswith(plain) or bool(re.fullmatch(r"(?:step\s*)?\d{0,3}", plain))
