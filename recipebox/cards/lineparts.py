"""The words behind the measure, cut into name, brackets, comma parts and alternatives."""

import re
from typing import NamedTuple

from recipebox.cards.amounts import read_amount

_CUT = re.compile(
    r"[()\[\]{}]|[,;](?!\d)|\s?[—–]\s?|\s-{1,2}\s|:(?=\s|$)|(?<![\w-])(?:and/or|or)(?![\w-])|(?<=[^\W\d])\s?/\s?(?=[^\W\d])"
    r"|\.{2,}|…|(?<=\w)\s+\+\s+",
    re.IGNORECASE,
)
# Most names hold none of these, and need no closer look.
_SIGN = re.compile(r"[()\[\]{},;:/+—–…]|\.\.|\s-")
_EDGES = " ,;.\t"
# Names and what commas part, then at most one aside in brackets.
_LISTED = re.compile(r"((?:[^()\[\]{};:/+—–….\s]|\.(?!\.)|\s(?!-))*)(?:\(([^()\[\]{}]*)\))?")
_COMMA = re.compile(r",(?!\d)")
_WORD_OR = re.compile(r"(?<![\w-])or(?![\w-])", re.IGNORECASE)
_OPEN = {"(": ")", "[": "]", "{": "}"}
_SHORT = re.compile(r"(?:w|c|s)\Z", re.IGNORECASE)  # "w/ skin" is no pair of alternatives


class Part(NamedTuple):
    """A piece of a line: `kind` is "name", "comma", "bracket" or "or"."""

    kind: str
    text: str


def cut_parts(rest: str) -> list[Part]:
    """The pieces in order, the name first (it may be empty). Words behind a bracket go on with what stood before it."""
    if not _SIGN.search(rest) and " or " not in f" {rest.lower()} ":
        return [Part("name", rest.strip(_EDGES))]
    if (listed := _LISTED.fullmatch(rest)) is not None and _WORD_OR.search(listed[1]) is None:
        name, *behind = [piece.strip(_EDGES) for piece in _COMMA.split(listed[1])]
        parts = [Part("name", name), *(Part("comma", piece) for piece in behind if piece)]
        aside = (listed[2] or "").strip(" ,;").strip(_EDGES)
        return [*parts, Part("bracket", aside)] if aside else parts
    kinds, texts = ["name"], [""]
    brackets: list[Part] = []
    depth, opened, at = 0, 0, 0
    for cut in _CUT.finditer(rest):
        sign = cut.group()
        if sign in _OPEN:
            if depth == 0:
                texts[-1] += rest[at : cut.start()] + " "
                opened = cut.end()
            depth += 1
        elif sign in ")]}":
            if depth == 1:
                brackets.append(Part("bracket", rest[opened : cut.start()].strip(" ,;")))
                kinds.append("bracket")
                texts.append(brackets[-1].text)
                _go_on(kinds, texts)
                at = cut.end()
            depth = max(0, depth - 1)
        elif depth == 0 and _cuts_here(rest, cut, kinds, texts, at):
            texts[-1] += rest[at : cut.start()]
            is_or = sign.strip().lower() in ("or", "and/or", "/")
            kinds.append("or" if is_or else "comma")
            texts.append("" if sign.strip() != "+" else "plus ")
            at = cut.end()
    if depth:
        texts[-1] += " "
        kinds.append("bracket")
        texts.append(rest[opened:])
    else:
        texts[-1] += rest[at:]
    return _joined(kinds, texts)


def _go_on(kinds: list[str], texts: list[str]) -> None:
    """Open the piece again that a bracket stood in, marked so that `_joined` puts the two together."""
    before = next(kind for kind in reversed(kinds[:-1]) if kind != "bracket")
    kinds.append("more " + before.removeprefix("more "))
    texts.append("")


def _joined(kinds: list[str], texts: list[str]) -> list[Part]:
    parts: list[list[str]] = []
    for kind, text in zip(kinds, texts, strict=True):
        if kind.startswith("more "):
            owner = next(part for part in reversed(parts) if part[0] != "bracket")
            owner[1] = f"{owner[1].strip()} {text.strip()}".strip()
        else:
            parts.append([kind, text])
    done = [Part(kind, text.strip(_EDGES)) for kind, text in parts]
    return [done[0], *(part for part in done[1:] if part.text)]


def _cuts_here(rest: str, cut: re.Match[str], kinds: list[str], texts: list[str], at: int) -> bool:
    sign = cut.group().strip().lower()
    current = kinds[-1].removeprefix("more ")
    so_far = (texts[-1] + rest[at : cut.start()]).strip()
    if sign == "/":
        return current in ("name", "or") and not _SHORT.search(so_far)
    if sign in ("or", "and/or"):
        behind = rest[cut.end() : cut.end() + 60].lstrip()
        return not so_far or current in ("name", "or") or read_amount(behind) is not None
    if sign == ":":
        return current == "name" and bool(so_far)
    return True
