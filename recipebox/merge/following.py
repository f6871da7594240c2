"""Texts that name cards by path follow when cards move or go: dishes.txt and the Versions of family recipes."""

from collections.abc import Collection, Mapping

from recipebox.cards.kinds import NotACardError, lies_in_family
from recipebox.cards.model import Role
from recipebox.cards.reader import read_cards
from recipebox.cards.sayings import follow
from recipebox.cards.sections import read_version
from recipebox.cards.text import NotTextError, decode, encode
from recipebox.cards.writer import Change, Replace, apply_changes

DISHES = "dishes.txt"


def names_cards(path: str) -> bool:
    """Whether a file at this path may name cards by their paths."""
    return path == DISHES or lies_in_family(path)


def followed(data: bytes, path: str, moves: Mapping[str, str]) -> bytes:
    """The text with the old paths of moved cards written as the new ones, nothing else changed."""
    if not moves or not names_cards(path):
        return data
    try:
        if path == DISHES:
            return follow(data, dict(moves))
        text = decode(data)
        cards = read_cards(data, path)
    except (NotTextError, NotACardError):
        return data
    changes: list[Change] = []
    for card in cards:
        for line in card.lines if card.kind == "family" else ():
            if line.role is Role.VERSION:
                words = text.lines[line.number - 1].words
                new = _moved(words, moves)
                if new != words:
                    changes.append(Replace(line.number, line.number, (new,)))
    return encode(apply_changes(text, changes)) if changes else data


def marked_gone(data: bytes, path: str, gone: Collection[str], there: Collection[str] = ()) -> bytes:
    """A family recipe with the cards in `gone` marked so in its Versions, and those `there` again no longer.

    A card that is named but gone keeps its line: history has its text. Any other text stays as it is.
    """
    named = any(name.encode() in data for name in gone) or (there and b"gone" in data)
    if path == DISHES or not names_cards(path) or not named:
        return data
    try:
        text, cards = decode(data), read_cards(data, path)
    except (NotTextError, NotACardError):
        return data
    changes: list[Change] = []
    for line in (line for card in cards if card.kind == "family" for line in card.lines if line.role is Role.VERSION):
        words = text.lines[line.number - 1].words
        version = read_version(words.strip())
        called = version.path.partition("#")[0] if version else ""
        if version is not None and called in gone and not version.gone:
            changes.append(Replace(line.number, line.number, (f"{words.rstrip()} | gone",)))
        elif version is not None and called in there and version.gone:
            fields = [field for field in words.split("|") if field.strip().casefold() != "gone"]
            changes.append(Replace(line.number, line.number, ("|".join(fields).rstrip(),)))
    return encode(apply_changes(text, changes)) if changes else data


def _moved(words: str, moves: Mapping[str, str]) -> str:
    before, bar, behind = words.partition("|")
    name, colon, called = before.partition(": ")
    old = called.strip()
    path, hash_, part = old.partition("#")
    if not colon or path not in moves:
        return words
    return name + colon + called.replace(old, moves[path] + hash_ + part) + bar + behind
