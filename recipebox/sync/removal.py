"""The brake: whether a sync would take away so much that a person should look first."""

from collections.abc import Callable, Collection
from dataclasses import dataclass

from recipebox.cards.kinds import NotACardError, could_be_card

FEWEST = 10
SHARE = 5  # 1 in 5
IN, OUT = "in", "out"
_IN_FOLDER = "card in "


@dataclass(frozen=True, slots=True)
class Stopped:
    """What a sync would have taken away: in words, how many cards of how many, and which.

    `direction` is "in" for cards here that others took away, "out" for cards of the others that went here; `laptops`
    are those that took them away.
    """

    why: str
    cards: int
    of: int
    paths: tuple[str, ...]
    direction: str = IN
    laptops: tuple[str, ...] = ()


def big_removal(before: Collection[str], gone: Collection[str], read: Callable[[str], bytes]) -> Stopped | None:
    """Why it is too much: all cards, or at least 10 that are 1 in 5 of the box, of a folder or of a tag; else None.

    `before` and `gone` are paths; texts are read, for their tags, only where 10 cards or more would go.
    """
    cards = {path for path in before if could_be_card(path)}
    taken = {path for path in gone if path in cards}
    if not taken:
        return None
    count = f"{len(taken)} of {len(cards)} cards"
    paths = tuple(sorted(taken))
    if taken == cards:
        return Stopped(f"all {len(cards)} cards" if len(cards) > 1 else "the only card", len(taken), len(cards), paths)
    if len(taken) < FEWEST:
        return None
    groups = [*_folders(cards), *_tags(cards, read)]
    hit = [(name, members) for name, members in groups if _much(len(members & taken), len(members))]
    if hit or _much(len(taken), len(cards)):
        return Stopped(", ".join([count, *_said(groups, taken)[:4]]), len(taken), len(cards), paths)
    return None


def _much(gone: int, of: int) -> bool:
    return gone >= FEWEST and gone * SHARE >= of


def _said(groups: Collection[tuple[str, set[str]]], taken: set[str]) -> list[str]:
    """Folders and tags that go whole or for a great part, the largest first; not folders within one that goes whole."""
    said: list[str] = []
    whole: set[str] = set()
    for name, members in sorted(groups, key=lambda group: (-len(group[1] & taken), group[0])):
        gone = members & taken
        inner = name.startswith(_IN_FOLDER) and gone <= whole
        if members == gone and len(gone) > 1 and not inner:
            said.append(f"every {name}")
            whole |= gone if name.startswith(_IN_FOLDER) else set()
        elif members != gone and _much(len(gone), len(members)) and not inner:
            said.append(f"{len(gone)} of {len(members)} {name}")
    return said


def _folders(cards: Collection[str]) -> list[tuple[str, set[str]]]:
    folders: dict[str, set[str]] = {}
    for path in cards:
        names = path.split("/")[:-1]
        for depth in range(1, len(names) + 1):
            folders.setdefault("/".join(names[:depth]) + "/", set()).add(path)
    return sorted((_IN_FOLDER + name, members) for name, members in folders.items())


def _tags(cards: Collection[str], read: Callable[[str], bytes]) -> list[tuple[str, set[str]]]:
    from recipebox.cards.reader import read_cards

    tags: dict[str, set[str]] = {}
    for path in sorted(cards):
        try:
            for card in read_cards(read(path), path):
                for tag in card.tags:
                    tags.setdefault(tag.casefold(), set()).add(path)
        except NotACardError:
            continue
    return sorted(tags.items())
