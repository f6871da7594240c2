"""Texts that name cards follow when a card moves: dishes.txt and the Versions of family recipes."""

from collections.abc import Callable, Mapping

from recipebox.cards.kinds import NotACardError, lies_in_family
from recipebox.cards.model import Role
from recipebox.cards.reader import read_cards
from recipebox.cards.sayings import follow
from recipebox.cards.text import NotTextError, decode, encode
from recipebox.cards.writer import Replace, apply_changes

_SAYINGS = "dishes.txt"


def follow_moves(
    files: Mapping[str, str], moves: Mapping[str, str], read: Callable[[str], bytes]
) -> dict[str, bytes]:
    """New bytes of the files that name a moved card. `files` are after the moves; `moves` lead from old path to new."""
    if not moves:
        return {}
    followed = {}
    for path in sorted(files):
        if path == _SAYINGS or lies_in_family(path):
            before = read(files[path])
            after = _sayings(before, moves) if path == _SAYINGS else _versions(before, path, moves)
            if after != before:
                followed[path] = after
    return followed


def _sayings(data: bytes, moves: Mapping[str, str]) -> bytes:
    try:
        return follow(data, dict(moves))
    except NotTextError:
        return data


def _versions(data: bytes, path: str, moves: Mapping[str, str]) -> bytes:
    try:
        text = decode(data)
        cards = read_cards(data, path)
    except (NotTextError, NotACardError):
        return data
    changes = []
    for card in cards:
        for line in card.lines if card.kind == "family" else ():
            if line.role is Role.VERSION:
                words = text.lines[line.number - 1].words
                moved = _moved(words, moves)
                if moved != words:
                    changes.append(Replace(line.number, line.number, (moved,)))
    return encode(apply_changes(text, changes)) if changes else data


def _moved(words: str, moves: Mapping[str, str]) -> str:
    name, colon, rest = words.partition(": ")
    named, bar, more = rest.partition("|")
    old = named.strip()
    called, hash_, part = old.partition("#")
    new = moves.get(old) or (moves[called] + hash_ + part if called in moves else old)
    return words if new == old else f"{name}{colon}{named.replace(old, new, 1)}{bar}{more}"
