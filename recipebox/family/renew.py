"""Renewing a family recipe: what is new in its versions comes in, what the family wrote and chose stays.

Three-way: the proposal as it would have been when the recipe was last brought together, the proposal now, and the
family's card as it stands. A line the family changed by hand is the family's: a version's later change to it is
offered, never taken.
"""

import difflib
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from recipebox.cards.model import Card, Ingredient, Passage, SomeAdd, Swap, Variation
from recipebox.cards.reader import read_cards
from recipebox.cards.shape import lay_out, swap_line, version_line
from recipebox.cards.things import thing
from recipebox.compare import align_steps
from recipebox.family.deciding import decide
from recipebox.family.headers import headers_of, with_facts_of
from recipebox.family.model import FamilyError, FamilyLine, FoundSwap, NotTaken, Proposal
from recipebox.family.sentences import mentions, said
from recipebox.merge import UnmergeableError, merge_card


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
    """The family's card as it is and as it is to be, both in the proposals' steps and notes; and what is only offered.

    The two differ in nothing that the family changed by hand, so that their merge with the card asks nothing.
    """
    before = {said(step.text) for step in old.steps}
    own_steps = [step.text for step in now.steps if said(step.text) not in before]

    def needed(line: Ingredient) -> bool:
        """A step that the family wrote by hand speaks of it."""
        return any(mentions(step, line) for step in own_steps)

    cards = (old, new, now)
    lines = decide(cards, lambda c: c.ingredients, _key, lambda i: i.text, chosen=chosen, needed=needed)
    new = replace(new, some_add=tuple(some for some in new.some_add if _key(some.ingredient) not in lines.held))
    cards = (old, new, now)
    add = decide(cards, lambda c: c.some_add, lambda s: _key(s.ingredient), _some_words, chosen=chosen)
    swaps = decide(cards, lambda c: c.swaps, lambda s: f"{thing(s.item)} {thing(s.instead)} {s.who}", swap_line)
    varied = decide(cards, lambda c: c.variations, lambda v: v.name, _variation_words)
    versions = decide(cards, lambda c: c.versions, lambda v: v.path, version_line, derived=True)
    heads = decide(cards, headers_of, lambda h: h.name, lambda h: h.value)
    kept = [(name, line.text) for name, line in lines.offered]
    kept += [(name, some.ingredient.text) for name, some in add.offered]
    kept += [(name, swap_line(swap)) for name, swap in swaps.offered]
    kept += [(name, header.value) for name, header in heads.offered]
    here = _bare_oven(now)
    names = {header.name for card in cards for header in headers_of(card)}
    values = {header.name: header.value for header in heads.lines}
    theirs = {header.name: header.value for header in headers_of(new)}
    own = {header.name: header.value for header in headers_of(now)}
    as_it_is = replace(
        with_facts_of(old, here, names),
        title=now.title,
        ingredients=now.ingredients,
        some_add=now.some_add,
        swaps=now.swaps,
        variations=now.variations,
        versions=now.versions,
    )
    to_be = replace(
        with_facts_of(new, here, [name for name in names if values.get(name) == own.get(name) != theirs.get(name)]),
        title=new.title if said(now.title) == said(old.title) else now.title,
        ingredients=lines.lines,
        some_add=add.lines,
        swaps=swaps.lines,
        variations=varied.lines,
        versions=versions.lines,
        steps=_steps(old, new, now, kept),
    )
    return as_it_is, to_be, kept


def _bare_oven(card: Card) -> Card:
    """A card as read, with only those bakes that no step says."""
    in_steps = {number for step in card.steps for number in range(step.line, max(step.last, step.line) + 1)}
    return replace(card, oven=tuple(replace(bake, line=0) for bake in card.oven if bake.line not in in_steps))


def _some_words(some: SomeAdd) -> str:
    return f"{some.ingredient.text} {some.who}"


def _variation_words(variation: Variation) -> str:
    return " ".join(line.text for line in variation.ingredients)


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


def _key(line: Ingredient) -> str:
    return thing(line.item) or line.text.casefold()


def _family_card(text: bytes, path: str) -> Card:
    return read_cards(text, path)[0]


def _paths(now: Proposal, words: str) -> list[str]:
    return next((line.paths for line in now.lines if line.text == words), [])


def _names(now: Proposal, words: str) -> str:
    names: Mapping[str, str] = {version.path: version.name for version in now.card.versions}
    return ", ".join(names[path] for path in _paths(now, words) if path in names)
