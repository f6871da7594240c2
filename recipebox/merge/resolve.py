"""What becomes of one thing of a card that several sides changed: a line, no line, or a question."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import product

from recipebox.cards.model import Role
from recipebox.merge.algebra import LEAVE_OUT, Choice, merged_choice, merged_set, shortest, unseen
from recipebox.merge.entries import Standing, first, text_of
from recipebox.merge.wording import Spoken, composed

_CONTAINER = 1


@dataclass(frozen=True)
class Outcome:
    """What stands in the body (`text`, None for no line), and the entry to write, if any, with its wordings' words."""

    text: str | None
    choice: Choice | None
    texts: dict[Hashable, str]


def resolve(base: Standing | None, sides: Sequence[Standing | None], role: Role) -> Outcome:
    """Merge one thing. `base` is None where the base lacks it, a side None where it has neither line nor entry.

    Depends on the set of sides alone. The body's words are: base's where nobody changed them, else the shortest of
    those that mean what stands.
    """
    texts = _texts(base, sides)
    if base is not None and base.about is not None:
        result = merged_choice(base.choice, [_against_entry(base, side) for side in sides])
        return _outcome(result, texts)
    present = [side for side in sides if side is not None]
    if not present:
        return Outcome(None, None, texts)
    out = (base is not None and len(present) < len(sides)) or any(LEAVE_OUT in s.choice.wordings for s in present)
    bare = [Choice(s.choice.wordings - {LEAVE_OUT}, s.choice.chosen, s.choice.kept) for s in present]
    start = base.choice if base is not None else Choice(frozenset())
    joined = _by_facts(base, present, bare, texts) if base is not None and role is Role.INGREDIENT else None
    if joined is None:
        chosen = frozenset().union(*(side.chosen for side in bare)) | unseen(start, [side.choice for side in present])
        joined = Choice(merged_set(start.wordings, [side.wordings for side in bare]), chosen)
    questioned = any(side.about is not None for side in present)
    if out and joined.wordings == start.wordings and not questioned:
        return Outcome(None, None, texts)
    wordings = joined.wordings | ({LEAVE_OUT} if out else frozenset())
    chosen = joined.chosen
    if out and any(s.choice.chosen and LEAVE_OUT not in s.choice.wordings for s in present):
        chosen |= {LEAVE_OUT}
    kept = any(side.choice.kept for side in present)
    return _outcome(Choice(wordings, chosen & wordings, kept), texts)


def _outcome(choice: Choice, texts: dict[Hashable, str]) -> Outcome:
    settled = choice.settled
    body = settled if settled is not None else first(choice.wordings, texts)
    text = None if body == LEAVE_OUT else text_of(body, texts)
    plain = settled is not None and (len(choice.wordings) == 1 or not choice.kept)
    return Outcome(text, None if plain else choice, texts)


def _against_entry(base: Standing, side: Standing | None) -> Choice:
    """A side against a base that had the question: without an entry it has chosen what stands in its body."""
    if side is None:
        return Choice(base.choice.wordings | {LEAVE_OUT}, frozenset({LEAVE_OUT}))
    if side.about is None:
        return Choice(base.choice.wordings | side.choice.wordings, side.choice.wordings)
    return side.choice


def _texts(base: Standing | None, sides: Sequence[Standing | None]) -> dict[Hashable, str]:
    """The words of each wording: the base's where all left them, else the shortest that a side changed them to."""
    before = base.texts if base is not None else {}
    changed: dict[Hashable, set[str]] = {}
    for side in sides:
        for token, text in (side.texts if side is not None else {}).items():
            if before.get(token) != text:
                changed.setdefault(token, set()).add(text)
    return {**before, **{token: min(words, key=shortest) for token, words in changed.items()}}


def _by_facts(
    base: Standing, present: Sequence[Standing], bare: Sequence[Choice], texts: dict[Hashable, str]
) -> Choice | None:
    """The facts of an ingredient line merged each for itself; None where the whole lines must be asked about."""
    (before,) = base.choice.wordings
    every = {before}.union(*(side.wordings for side in bare))
    if before == LEAVE_OUT or any(not isinstance(t, tuple) or len(t) != len(_tuple(before)) for t in every):
        return None
    cut = _apart if len({_unit(token) for token in every}) == 1 else _together
    start = cut(before)
    columns = [[{cut(token)[fact] for token in side.wordings} for side in bare] for fact in range(len(start))]
    for at, side in enumerate(bare):
        size = 1
        for column in columns:
            size *= len(column[at])
        if size != len(side.wordings):
            return None
    values = [
        merged_set(frozenset({start[fact]}), [frozenset(side) for side in column])
        for fact, column in enumerate(columns)
    ]
    quarrelling = [fact for fact, merged in enumerate(values) if len(merged) > 1]
    if len(quarrelling) > 1:
        return None
    tokens = [_whole(parts, cut) for parts in product(*(sorted(merged, key=repr) for merged in values))]
    spoken = [
        Spoken(text, _tuple(token)) for side in present for token, text in side.texts.items() if token != LEAVE_OUT
    ]
    spoken.sort(key=lambda s: shortest(s.text))
    for token in tokens:
        if token in texts and (token != before or len(tokens) == 1):
            continue
        text = composed(_tuple(token), Spoken(base.texts[before], _tuple(before)), spoken)
        if text is None:
            return None
        texts[token] = text
    chosen: frozenset[Hashable] = frozenset()
    if quarrelling:
        fact = quarrelling[0]
        picked = {cut(token)[fact] for side in bare for token in side.chosen if token != LEAVE_OUT}
        seen = [frozenset(cut(token)[fact] for token in side.wordings) for side in bare]
        asked = [
            Choice(words, frozenset({1}) if side.chosen else frozenset())
            for words, side in zip(seen, bare, strict=True)
        ]
        picked |= unseen(Choice(frozenset({start[fact]})), asked)
        chosen = frozenset(token for token in tokens if cut(token)[fact] in picked)
    if any(LEAVE_OUT in side.chosen for side in bare):
        chosen |= {LEAVE_OUT}
    return Choice(frozenset(tokens), chosen)


def _tuple(token: Hashable) -> tuple[Hashable, ...]:
    return token if isinstance(token, tuple) else (token,)


def _unit(token: Hashable) -> Hashable:
    quantity = _tuple(token)[0]
    return quantity[1] if isinstance(quantity, tuple) and len(quantity) > 1 else None


def _apart(token: Hashable) -> tuple[Hashable, ...]:
    return _tuple(token)


def _together(token: Hashable) -> tuple[Hashable, ...]:
    """Quantity and container as one fact: a can's size means nothing beside another side's unit."""
    facts = _tuple(token)
    return ((facts[: _CONTAINER + 1]), *facts[_CONTAINER + 1 :]) if len(facts) > 1 else facts


def _whole(parts: tuple[Hashable, ...], cut: object) -> tuple[Hashable, ...]:
    if cut is _together and len(parts) > 1:
        return (*_tuple(parts[0]), *parts[1:])
    return parts
