"""Renewing a family recipe: what is new in its versions comes in, what the family wrote and chose stays.

Three-way: the proposal as it would have been when the recipe was last brought together, the proposal now, and the
family's card as it stands. A line the family changed by hand is the family's: a version's later change to it is
offered, never taken.
"""

import difflib
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from recipebox.cards.model import Card, Ingredient, Passage, Swap
from recipebox.cards.reader import read_cards
from recipebox.cards.shape import lay_out, swap_line, version_line
from recipebox.cards.things import thing
from recipebox.compare import align_steps
from recipebox.family.headers import headers_of, with_facts_of
from recipebox.family.model import FamilyError, FamilyLine, FoundSwap, NotTaken, Proposal
from recipebox.family.sentences import mentions, said
from recipebox.merge import UnmergeableError, merge_card

T = TypeVar("T")


def renew(before: Proposal, now: Proposal, current: bytes, path: str, chosen: Collection[str] = ()) -> Proposal:
    """The family's card with what is new between two proposals; its bytes as they are if nothing is.

    `chosen` are items (common names) a person decided just now: for them the new line goes over a hand edit. Raises
    FamilyError where the card cannot be put together with the proposal.
    """
    if before.text == now.text and not chosen:
        return _as_it_stands(now, current, path, current)
    card = _family_card(current, path)
    old, new, kept = _uncontested(before.card, now.card, card, frozenset(chosen))
    try:
        text = merge_card(lay_out(old), [current, lay_out(new)], path)
    except UnmergeableError as error:
        raise FamilyError(f"{path}: {error.why}; mend it by hand, or delete it and merge anew") from error
    return _as_it_stands(now, text, path, current, kept)


def _as_it_stands(
    now: Proposal, text: bytes, path: str, current: bytes, kept: Iterable[tuple[str, str]] = ()
) -> Proposal:
    """The proposal told of the card as it will stand: its lines, those the family wrote itself, what they displace."""
    card = _family_card(text, path)
    left = {
        part: [line for line in now.lines if line.part == part] for part in ("title", "header", "ingredient", "step")
    }
    lines: list[FamilyLine] = []
    for part, words in _lines_of(card):
        match = next((line for line in left[part] if said(line.text) == said(words)), None)
        if match is None:
            lines.append(FamilyLine(part, words, (), "the family's own, changed by hand"))
        else:
            left[part].remove(match)
            lines.append(replace(match, text=words))
    displaced = [
        NotTaken(source, "version", "the family has its own line in its place")
        for part in ("ingredient", "step")
        for line in left[part]
        for source in line.sources
    ]
    offers = [
        FoundSwap(Swap(about, instead, None, _names(now, instead) or None), tuple(_paths(now, instead)))
        for about, instead in kept
    ]
    return replace(
        now,
        card=card,
        text=text,
        lines=tuple(lines),
        offers=(*offers, *now.offers),
        not_taken=tuple(sorted((*now.not_taken, *displaced), key=lambda one: (one.source.path, one.source.line))),
        changed=text != current,
    )


def _lines_of(card: Card) -> list[tuple[str, str]]:
    found = [("title", card.title)]
    found += [("header", f"{header.name}: {header.value}") for header in headers_of(card)]
    found += [("ingredient", line.text) for line in card.ingredients]
    return found + [("step", step.text) for step in card.steps]


def _uncontested(old: Card, new: Card, now: Card, chosen: frozenset[str]) -> tuple[Card, Card, list[tuple[str, str]]]:
    """The two proposals, alike in what the family changed by hand; and what is therefore only offered."""
    kept: list[tuple[str, str]] = []
    before = {said(step.text) for step in old.steps}
    own_steps = [step.text for step in now.steps if said(step.text) not in before]
    held: set[str] = set()

    def needed(line: Ingredient) -> bool:
        return any(mentions(step, line) for step in own_steps)

    def agreed(
        pick: Callable[[Card], Sequence[T]],
        key: Callable[[T], str],
        words: Callable[[T], str],
        needed: Callable[[T], bool] = lambda line: False,
    ) -> tuple[tuple[T, ...], tuple[T, ...]]:
        base, side = list(pick(old)), list(pick(new))
        olds, news, nows = (_keyed(lines, key) for lines in (base, side, pick(now)))
        for name in [*olds, *(name for name in news if name not in olds)]:
            was, to, here = olds.get(name), news.get(name), nows.get(name)
            if _same(to, here, words):
                continue
            if name in chosen:
                base = _put(base, was, here)
                continue
            if to is None and was is not None and here is not None and needed(was):
                side = _put(side, None, was)  # a step that the family wrote by hand speaks of it
                held.add(name)
                continue
            if _same(was, to, words) or _same(was, here, words):
                continue
            if to is not None:
                kept.append((name, words(to)))
            side = _put(side, to, was)
        return tuple(base), tuple(side)

    old_lines, new_lines = agreed(lambda c: c.ingredients, _key, lambda i: i.text, needed)
    new = replace(new, some_add=tuple(some for some in new.some_add if _key(some.ingredient) not in held))
    old_add, new_add = agreed(
        lambda c: c.some_add, lambda s: _key(s.ingredient), lambda s: f"{s.ingredient.text} {s.who}"
    )
    old_swaps, new_swaps = agreed(lambda c: c.swaps, lambda s: f"{thing(s.item)} {thing(s.instead)} {s.who}", swap_line)
    old_vars, new_vars = agreed(
        lambda c: c.variations, lambda v: v.name, lambda v: " ".join(i.text for i in v.ingredients)
    )
    old_versions, new_versions = agreed(lambda c: c.versions, lambda v: v.path, version_line)
    _, new_heads = agreed(headers_of, lambda h: h.name, lambda h: h.value)
    title = new.title if said(now.title) == said(old.title) else old.title
    old_card = replace(old, ingredients=old_lines, some_add=old_add, swaps=old_swaps, variations=old_vars)
    new_card = replace(new, ingredients=new_lines, some_add=new_add, swaps=new_swaps, variations=new_vars, title=title)
    new_card = replace(new_card, steps=_steps(old, new, now, kept), versions=new_versions)
    old_card = replace(old_card, versions=old_versions)
    values = {header.name: header.value for header in headers_of(new)}
    names = {*values, *(h.name for h in new_heads)}
    kept_names = [
        name for name in names if values.get(name) != next((h.value for h in new_heads if h.name == name), None)
    ]
    return old_card, with_facts_of(new_card, old, kept_names), kept


def _steps(old: Card, new: Card, now: Card, kept: list[tuple[str, str]]) -> tuple[Passage, ...]:
    """The new steps, but for those whose old words the family has changed."""
    here = {said(step.text) for step in now.steps}
    olds, news = [said(step.text) for step in old.steps], [said(step.text) for step in new.steps]
    steps: list[Passage] = []
    for what, a, b, c, d in difflib.SequenceMatcher(None, olds, news, autojunk=False).get_opcodes():
        if what == "equal" or all(words in here for words in olds[a:b]):
            steps += new.steps[c:d]
            continue
        for was, to in _met(old.steps[a:b], new.steps[c:d]):
            if was is None or said(was.text) in here:
                steps += [to] if to is not None else []
                continue
            steps.append(was)
            if to is not None:
                kept.append((f"step {new.steps.index(to) + 1}", to.text))
    return tuple(steps)


def _met(olds: Sequence[Passage], news: Sequence[Passage]) -> list[tuple[Passage | None, Passage | None]]:
    """Changed steps with what became of them: one for one if they are as many, else as `compare` aligns them."""
    if len(olds) == len(news):
        return list(zip(olds, news, strict=True))
    pairs = align_steps([step.text for step in olds], [step.text for step in news])
    return [
        (None if i is None else olds[i], None if j is None else news[j])
        for i, j in sorted(pairs, key=lambda pair: (len(news) if pair[1] is None else pair[1], pair[0] or 0))
    ]


def _keyed(lines: Iterable[T], key: Callable[[T], str]) -> dict[str, T]:
    """Lines by what they are about; a second of one thing is told apart by its place."""
    found: dict[str, T] = {}
    for line in lines:
        name, number = key(line), 1
        while (name if number == 1 else f"{name} {number}") in found:
            number += 1
        found[name if number == 1 else f"{name} {number}"] = line
    return found


def _put(lines: list[T], old: T | None, new: T | None) -> list[T]:
    """The lines with one in the place of another, or one more, or one less."""
    if old is None:
        return lines if new is None else [*lines, new]
    at = next(number for number, one in enumerate(lines) if one is old)
    return [*lines[:at], *([] if new is None else [new]), *lines[at + 1 :]]


def _same(one: T | None, other: T | None, words: Callable[[T], str]) -> bool:
    if one is None or other is None:
        return one is other
    return said(words(one)) == said(words(other))


def _key(line: Ingredient) -> str:
    return thing(line.item) or line.text.casefold()


def _family_card(text: bytes, path: str) -> Card:
    return read_cards(text, path)[0]


def _paths(now: Proposal, words: str) -> list[str]:
    return next((line.paths for line in now.lines if line.text == words), [])


def _names(now: Proposal, words: str) -> str:
    names: Mapping[str, str] = {version.path: version.name for version in now.card.versions}
    return ", ".join(names[path] for path in _paths(now, words) if path in names)
