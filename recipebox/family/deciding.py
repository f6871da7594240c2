"""Line by line, what a renewal takes: three-way over what versions said, what they say, and what the family has."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from recipebox.cards.model import Card
from recipebox.family.sentences import said

T = TypeVar("T")


@dataclass(frozen=True)
class Decided(Generic[T]):
    """The family's lines as they are to stand; versions' changes that are only `offered`; keys `held` against a going.

    `offered` is (key, the version's new line).
    """

    lines: tuple[T, ...]
    offered: tuple[tuple[str, T], ...]
    held: frozenset[str]


def decide(
    cards: tuple[Card, Card, Card],
    lines_of: Callable[[Card], Sequence[T]],
    key: Callable[[T], str],
    words: Callable[[T], str],
    *,
    chosen: Collection[str] = (),
    needed: Callable[[T], bool] = lambda line: False,
    derived: bool = False,
) -> Decided[T]:
    """What the versions changed comes in, unless the family changed that line by hand: then it is offered.

    `cards`: as proposed before, as proposed now, as the family has it. Lines meet by `key`; `words` are what is
    compared, case and punctuation aside. `chosen`: keys a person decided just now, which go over a hand edit.
    `needed`: lines that do not go. `derived`: lines that come back when taken out.
    """
    old, new, now = (_keyed(lines_of(card), key) for card in cards)
    lines = list(lines_of(cards[2]))
    offered: list[tuple[str, T]] = []
    held: set[str] = set()
    for name in [*old, *(name for name in new if name not in old)]:
        was, to, here = old.get(name), new.get(name), now.get(name)
        if _same(to, here, words):
            continue
        if name not in chosen and not (derived and here is None):
            if to is None and here is not None and needed(here):
                held.add(name)
                continue
            if _same(was, to, words):
                continue
            if not _same(was, here, words):
                offered += [(name, to)] if to is not None else []
                continue
        _put(lines, here, to, new, now, name)
    return Decided(tuple(lines), tuple(offered), frozenset(held))


def _keyed(lines: Iterable[T], key: Callable[[T], str]) -> dict[str, T]:
    """Lines by what they are about; a second of one thing is told apart by its place."""
    found: dict[str, T] = {}
    for line in lines:
        name, number = key(line), 1
        while (name if number == 1 else f"{name} {number}") in found:
            number += 1
        found[name if number == 1 else f"{name} {number}"] = line
    return found


def _put(lines: list[T], here: T | None, to: T | None, new: Mapping[str, T], now: Mapping[str, T], name: str) -> None:
    """One line in the place of another, or one less, or one more after what stands before it in the proposal."""
    if here is not None:
        at = _place(lines, here)
        lines[at : at + 1] = [] if to is None else [to]
    elif to is not None:
        order = list(new)
        above = [one for other in reversed(order[: order.index(name)]) for one in (now.get(other), new[other])]
        at = next((_place(lines, one) + 1 for one in above if one is not None and _place(lines, one) >= 0), 0)
        lines.insert(at, to)


def _place(lines: Sequence[T], line: T) -> int:
    return next((at for at, one in enumerate(lines) if one is line), -1)


def _same(one: T | None, other: T | None, words: Callable[[T], str]) -> bool:
    if one is None or other is None:
        return one is other
    return said(words(one)) == said(words(other))
