"""Which files moved between two states of a box: by their bytes, else by likeness."""

from collections.abc import Callable, Mapping

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards

_MOST_PAIRS = 20_000
"""Pairs looked at by likeness; a box in which more is gone and new at once was not moved card by card."""
_SAME_CARD = 0.6
"""Share of lines two texts must have in common: common practice, no source; a rewritten card keeps its ingredients."""


def moves(
    before: Mapping[str, str],
    after: Mapping[str, str],
    read: Callable[[str], bytes],
) -> list[tuple[str, str]]:
    """Moves (old, new) from one state to another, one to one, in order of the old path.

    `before` and `after` map paths to content ids; `read(id)` gives the bytes. A path that is gone and a new one with
    the same bytes are a move; what is left is paired by likeness of cards, best pair first, ties by path. Of several
    new files with the same bytes the one with the same name counts, then the first by path. Never raises for odd data.
    """
    gone = sorted((path for path in before if path not in after), key=str.encode)
    new = sorted((path for path in after if path not in before), key=str.encode)
    found: list[tuple[str, str]] = []
    by_id: dict[str, list[str]] = {}
    for path in new:
        by_id.setdefault(after[path], []).append(path)
    for same_name in (True, False):
        for old in list(gone):
            candidates = [p for p in by_id.get(before[old], []) if not same_name or _name(p) == _name(old)]
            if candidates:
                by_id[before[old]].remove(candidates[0])
                gone.remove(old)
                new.remove(candidates[0])
                found.append((old, candidates[0]))
    return sorted(found + _by_likeness(gone, new, before, after, read), key=lambda move: move[0].encode())


def likeness(a: Card, b: Card) -> float:
    """How much two texts are one card rewritten, 0 to 1: shared ingredients and steps, a shared title counts as one."""
    first, second = _tokens(a), _tokens(b)
    both = sum(min(first[key], second[key]) for key in first.keys() & second.keys())
    every = max(sum(first.values()), sum(second.values()))
    return both / every if every else 0.0


def _by_likeness(
    gone: list[str], new: list[str], before: Mapping[str, str], after: Mapping[str, str], read: Callable[[str], bytes]
) -> list[tuple[str, str]]:
    old_cards = {path: card for path in gone if (card := _card(path, before[path], read))}
    new_cards = {path: card for path in new if (card := _card(path, after[path], read))}
    if len(old_cards) * len(new_cards) > _MOST_PAIRS:
        return []
    pairs = [
        (-score, old.encode(), path.encode(), old, path)
        for old, card in old_cards.items()
        for path, other in new_cards.items()
        if (score := likeness(card, other)) >= _SAME_CARD
    ]
    found: list[tuple[str, str]] = []
    for *_, old, path in sorted(pairs):
        if all(old != was and path != now for was, now in found):
            found.append((old, path))
    return found


def _card(path: str, identity: str, read: Callable[[str], bytes]) -> Card | None:
    if not could_be_card(path):
        return None
    try:
        return read_cards(read(identity), path)[0]
    except (NotACardError, IndexError):
        return None


def _tokens(card: Card) -> dict[tuple[str, str], float]:
    from recipebox.cards.things import thing

    tokens: dict[tuple[str, str], float] = {}
    for ingredient in card.ingredients:
        tokens["item", thing(ingredient.item)] = 2.0
    for step in card.steps:
        for word in step.text.casefold().split():
            tokens["word", word] = tokens.get(("word", word), 0.0) + 0.1
    tokens["title", card.title.casefold()] = 1.0
    return tokens


def _name(path: str) -> str:
    return path.rpartition("/")[2]
