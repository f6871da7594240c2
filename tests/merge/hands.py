"""Cards as many hands type them, and what several people do to their lines in an editor."""

import re
from collections.abc import Callable
from functools import lru_cache
from random import Random

from recipebox.cards.model import Role, SourceLine
from recipebox.cards.reader import read_cards
from recipebox.cards.text import decode
from tests.merge.typed import BARE, BOLD, FAMILY, LETTER, MARKDOWN, NUMBERED, TABLE, TIDY, TWO

BASES = (TIDY, MARKDOWN, TABLE, LETTER, NUMBERED, FAMILY, BARE, BOLD, TWO)
_MOVABLE = (Role.INGREDIENT, Role.STEP, Role.NOTE, Role.SOME_ADD, Role.SWAP, Role.VERSION, Role.VARIATION)
_THINGS = ("thyme", "paprika", "walnuts", "lemon zest", "honey", "celery", "raisins", "capers", "mint", "chives")
_NUMBER = re.compile(r"\d+(?: \d/\d|/\d)?")
Lines = list[str]


def base_of(chance: Random) -> bytes:
    """One hand's card, with line ends of one system or another."""
    text = chance.choice(BASES)
    return text.replace("\n", chance.choice(["\n", "\n", "\n", "\r\n"])).encode()


def edited(chance: Random, data: bytes, mark: str, path: str = "a.txt", most: int = 3) -> bytes:
    """The text after one person's one to `most` changes; new words carry the person's `mark` and a number."""
    for number in range(chance.randint(1, most)):
        data = _edit(chance, data, f"{mark}{number}q", path)
    return data


def _edit(chance: Random, data: bytes, word: str, path: str) -> bytes:
    text = decode(data).lines
    lines = [line.words for line in text]
    end = "\r\n" if b"\r\n" in data else "\n"
    told = _lines_of(data, path)
    kinds = _KINDS if chance.random() < 0.9 else (_loose,)
    for _ in range(8):
        done = chance.choice(kinds)(chance, list(lines), told, word)
        if done is not None:
            return (end.join(done) + end).encode()
    return data


@lru_cache(maxsize=256)
def _lines_of(data: bytes, path: str) -> dict[int, SourceLine]:
    return {line.number - 1: line for card in read_cards(data, path) for line in card.lines}


def _at(told: dict[int, SourceLine], *roles: Role) -> list[int]:
    return [at for at, line in told.items() if line.role in roles]


def _amount(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = [at for at in _at(told, Role.INGREDIENT, Role.SOME_ADD) if _NUMBER.search(lines[at])]
    if not places:
        return None
    at = chance.choice(places)
    start = told[at].start
    lines[at] = lines[at][:start] + _NUMBER.sub(str(chance.randint(2, 9)), lines[at][start:], count=1)
    return lines


def _preparation(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = [at for at in _at(told, Role.INGREDIENT) if "|" not in lines[at]]
    if not places:
        return None
    at = chance.choice(places)
    lines[at] = f"{lines[at]}, {word}"
    return lines


def _ingredient(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = _at(told, Role.INGREDIENT, Role.SOME_ADD)
    if not places:
        return None
    at = chance.choice(places)
    thing = f"{chance.randint(1, 9)} tsp {chance.choice(_THINGS)}, {word}"
    new = f"| {chance.choice(_THINGS)} {word} | {chance.randint(1, 9)} g |"
    if told[at].role is Role.SOME_ADD:
        thing += " | Rui"
    elif "|" in lines[at]:
        thing = new
    prefix = "" if "|" in thing and thing.startswith("|") else lines[at][: told[at].start].replace("**", "")
    lines.insert(at + 1, prefix + thing)
    return lines


def _reword(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = _at(told, Role.STEP)
    if not places:
        return None
    at = chance.choice(places)
    lines[at] = f"{lines[at].rstrip('.')}, {chance.choice(['gently', 'slowly', 'with care'])} {word}."
    return lines


def _step(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = _at(told, Role.STEP)
    if not places:
        return None
    at = chance.choice(places)
    if chance.random() < 0.3:  # nearly the step that stands there
        lines.insert(at + 1, f"{lines[at].rstrip('.')} once more {word}.")
    else:
        lines.insert(at + 1, f"{lines[at][: told[at].start]}Stir in the {chance.choice(_THINGS)} and wait {word}.")
    return lines


def _note(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = _at(told, Role.NOTE)
    if not places:
        return None
    at = chance.choice(places)
    lines.insert(at + chance.randint(0, 1), f"{lines[at][: told[at].start]}Somebody liked it {word}.")
    return lines


def _new_section(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    name, line = chance.choice(
        [
            ("Notes", f"Somebody liked it {word}."),
            ("Some add", f"1 tsp mace {word} | Rui"),
            ("Swaps", f"milk -> cream {word} | Rui"),
        ]
    )
    at = chance.choice([len(lines), *(n for n in _at(told, Role.SECTION) if told[n].key in ("notes", "versions"))])
    if any(told[n].key == name.casefold() for n in _at(told, Role.SECTION)):
        return None
    lines[at:at] = [name, f"  {line}", ""] if at < len(lines) else ["", name, f"  {line}"]
    return lines


def _group(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = _at(told, Role.INGREDIENT)
    if not places or "|" in lines[places[-1]]:
        return None
    prefix = lines[places[-1]][: told[places[-1]].start].replace("**", "")
    head = "### For the glaze" if any(line.startswith("#") for line in lines) else "For the glaze:"
    lines[places[-1] + 1 : places[-1] + 1] = ["", head, f"{prefix}2 tbsp marmalade, {word}"]
    return lines


def _remove(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = _at(told, *_MOVABLE, Role.HEADER)
    if len(places) < 5:
        return None
    del lines[chance.choice(places)]
    return lines


def _move(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = [n for n in _at(told, *_MOVABLE) if n + 1 in told and told[n + 1].role is told[n].role]
    if not places:
        return None
    at = chance.choice(places)
    lines[at], lines[at + 1] = lines[at + 1], lines[at]
    return lines


def _header(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = [at for at in _at(told, Role.HEADER) if ":" in lines[at] and told[at].key != "tags"]
    if not places:
        return None
    at = chance.choice(places)
    name, _, value = lines[at].partition(":")
    lines[at] = f"{name}: {_NUMBER.sub(str(chance.randint(2, 9)), value.strip(), count=1)}"
    return lines


def _title(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    places = _at(told, Role.TITLE)
    if not places or "**" in lines[places[0]]:
        return None
    lines[places[0]] = f"{lines[places[0]]} {word}"
    return lines


def _loose(chance: Random, lines: Lines, told: dict[int, SourceLine], word: str) -> Lines | None:
    """A line of no known kind, anywhere between two paragraphs or at the end."""
    places = [at for at, line in enumerate(lines) if not line.strip() and at > 1] + [len(lines)]
    at = chance.choice(places)
    lines[at:at] = ["", f"And {word} came by with the news.", ""] if at < len(lines) else ["", f"And {word} came by."]
    return lines


_KINDS: tuple[Callable[[Random, Lines, dict[int, SourceLine], str], Lines | None], ...] = (
    _amount, _preparation, _ingredient, _reword, _step, _note, _new_section, _group, _remove, _move, _header, _title,
)  # fmt: skip
