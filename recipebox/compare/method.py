"""The methods of several cards, a row for each thing that is done."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import thing
from recipebox.compare.facts import Facts, oven_facts, step_facts
from recipebox.compare.groups import Group, joined, step_groups
from recipebox.compare.model import Kind, Row, StepRow
from recipebox.compare.unlisted import unlisted
from recipebox.compare.words import content_words, stem

_PARTING = frozenset(map(stem, ("serve", "taste", "hot", "warm", "cold")))  # as content_words gives "enjoy", "eat"


def compare_methods(cards: Sequence[Card], ingredients: Sequence[Row]) -> list[StepRow]:
    """Rows of steps that do the same, in the first card's order, then what only later cards do.

    Steps are the same when they say the same facts: heat, times, what goes in and what is done; wording, length and
    where one step ends are nothing, nor is a fact that one card leaves unsaid of what is done, or says in another step
    or at its top: a heat is told once. A thing counts where another card puts it into another step. Things that share
    a row of `ingredients` are one, and what not all cards have is told there and not here. `added` and `removed` are
    facts of later cards against the first in the row. A row is MOVED when its facts agree but it stands before a step
    that the first card has after it.
    """
    facts = [
        [step_facts(step.text, called) for step in card.steps]
        for card, called in zip(cards, _named(cards, ingredients), strict=True)
    ]
    facts = _with_unlisted(cards, facts)
    lights = [
        [_lights(step.text, known) for step, known in zip(card.steps, said, strict=True)]
        for card, said in zip(cards, facts, strict=True)
    ]
    groups = step_groups([[step.text for step in card.steps] for card in cards], lights)
    if len(cards) == 2:
        groups = joined(groups, lambda group: _cost(group, facts), lambda one, other: _shifted(one, other, facts))
    settled = _settled(groups, cards, facts, {row.item for row in ingredients if len(row.cells) == len(cards)})
    rows = []
    for group in groups:
        said, plain = (_said(group, groups, known) for known in (settled, facts))
        rows.append(_row(group, cards, said, plain, facts))
    return [_with_texts(row, cards) for row in _mark_moved(rows, groups, cards)]


def _with_texts(row: StepRow, cards: Sequence[Card]) -> StepRow:
    texts = {
        card.called: " ".join(card.steps[place - 1].text for place in row.cells[card.called])
        for card in cards
        if card.called in row.cells
    }
    return replace(row, texts=texts)


def _with_unlisted(cards: Sequence[Card], facts: Sequence[Sequence[Facts]]) -> list[list[Facts]]:
    """The facts with the foods that a step puts in beside the list and that some other card has nowhere."""
    besides = [unlisted(card) for card in cards]
    has = [
        {thing(item) for line in card.ingredients for item in line.items or (line.item,)}.union(*foods)
        for card, foods in zip(cards, besides, strict=True)
    ]
    return [
        [
            replace(known, unlisted=frozenset(food for food in foods if any(food not in other for other in has)))
            for known, foods in zip(said, besides[place], strict=True)
        ]
        for place, said in enumerate(facts)
    ]


def _named(cards: Sequence[Card], ingredients: Sequence[Row]) -> list[dict[Ingredient, str]]:
    """What each card's lines are called beside the others'."""
    return [
        {line: row.item for row in ingredients if card.called in row.cells for line in row.cells[card.called].lines}
        for card in cards
    ]


def _settled(
    groups: Sequence[Group], cards: Sequence[Card], facts: Sequence[Sequence[Facts]], common: Collection[str]
) -> list[list[Facts]]:
    """The facts of each step without those that are no difference between any two cards wherever they stand."""
    elsewhere = [Facts.of_all([*said, oven_facts(card)]) for card, said in zip(cards, facts, strict=True)]
    placed = _placed(groups, facts)
    settled = []
    for place, said in enumerate(facts):
        others = [known for at, known in enumerate(elsewhere) if at != place]
        moved = {name for name in elsewhere[place].things if name in common and _elsewhere(name, place, placed)}
        settled.append([step.without(others, moved) for step in said])
    return settled


def _placed(groups: Sequence[Group], facts: Sequence[Sequence[Facts]]) -> list[dict[str, set[int]]]:
    """For each card, the rows in which it speaks of each thing."""
    placed: list[dict[str, set[int]]] = [{} for _ in facts]
    for at, group in enumerate(groups):
        for place, steps in group.items():
            for name in Facts.of_all(facts[place][step] for step in steps).things:
                placed[place].setdefault(name, set()).add(at)
    return placed


def _elsewhere(name: str, place: int, placed: Sequence[Mapping[str, set[int]]]) -> bool:
    """Whether some other card puts a thing in, and only where this one does not."""
    mine = placed[place][name]
    return any(not mine & other[name] for at, other in enumerate(placed) if at != place and name in other)


def _cost(group: Group, facts: Sequence[Sequence[Facts]]) -> int:
    """How many facts are not said by all in a row."""
    said = _said(group, [], facts)
    if len(group) < len(facts):
        return max(len(one.words()) for one in said)
    return sum(len(said[0].more_in(other).words()) + len(other.more_in(said[0]).words()) for other in said[1:])


def _shifted(one: Group, other: Group, facts: Sequence[Sequence[Facts]]) -> bool:
    """Whether one card says in the one row what the other says in the other row."""
    (a, b), (c, d) = (_said(group, [], facts) for group in (one, other))
    ways = ((a.more_in(b), d.more_in(c)), (b.more_in(a), c.more_in(d)))
    return any(not set(more.words()).isdisjoint(less.words()) for more, less in ways)


def _row(
    group: Group, cards: Sequence[Card], said: Sequence[Facts], plain: Sequence[Facts], facts: Sequence[Sequence[Facts]]
) -> StepRow:
    cells = {cards[place].called: tuple(step + 1 for step in steps) for place, steps in sorted(group.items())}
    added: list[str] = []
    removed: list[str] = []
    for other in said[1:]:
        more, less = said[0].against(other)
        added += [word for word in more if word not in added]
        removed += [word for word in less if word not in removed]
    if len(group) == len(cards):
        return StepRow(Kind.CHANGED if added or removed else Kind.SAME, cells, tuple(added), tuple(removed))
    steps = [(cards[place].steps[step].text, facts[place][step]) for place in group for step in group[place]]
    if not any(one.words() for one in said) and all(_says_nothing(*step) for step in steps):
        return StepRow(Kind.SAME, cells)
    if len(group) > 1:
        return StepRow(Kind.ONLY, cells, tuple(added), tuple(removed))
    words = plain[0].words()
    return StepRow(Kind.ONLY, cells, added=words if 0 not in group else (), removed=words if 0 in group else ())


def _said(group: Group, groups: Sequence[Group], facts: Sequence[Sequence[Facts]]) -> list[Facts]:
    """What each card of a row says in it; of a step that stands in several rows, what is about this one."""
    hub = min(group)
    mine = _all_of(group, hub, facts)
    found = [mine]
    for place in sorted(group.keys() - {hub}):
        beside = [
            other
            for other in groups
            if other is not group and not set(group[place]).isdisjoint(other.get(place, ())) and min(other) == hub
        ]
        others = Facts.of_all(_all_of(other, hub, facts) for other in beside)
        said = _all_of(group, place, facts)
        found.append(said.share(mine, others) if beside else said)
    return found


def _all_of(group: Group, place: int, facts: Sequence[Sequence[Facts]]) -> Facts:
    return Facts.of_all(facts[place][step] for step in group[place])


def _says_nothing(step: str, facts: Facts) -> bool:
    """Whether a step but lights the oven, to a heat the other cards say too, or bids to eat."""
    return _lights(step, facts) or set(content_words(step)) <= _PARTING


def _lights(step: str, facts: Facts) -> bool:
    """Whether a step does nothing but light the oven."""
    return bool(facts.heats) and not (facts.times or facts.things or facts.done) and "oven" in content_words(step)


def _mark_moved(rows: list[StepRow], groups: Sequence[Group], cards: Sequence[Card]) -> list[StepRow]:
    moved = set()
    for place in range(1, len(cards)):
        shared = [
            at
            for at, group in enumerate(groups)
            if 0 in group and place in group and _in_one_go(group[0]) and _in_one_go(group[place])
        ]
        kept = _longest_rising([min(groups[at][place]) for at in shared])
        moved |= {at for order, at in enumerate(shared) if order not in kept}
    return [
        StepRow(Kind.MOVED, row.cells) if at in moved and row.kind is Kind.SAME else row for at, row in enumerate(rows)
    ]


def _in_one_go(steps: Sequence[int]) -> bool:
    """Whether no other step stands between these, so that they have one place in the order."""
    return max(steps) - min(steps) < len(steps)


def _longest_rising(values: Iterable[int]) -> set[int]:
    """Places of a longest rising run among the values: what stayed in order."""
    known = list(values)
    best: list[list[int]] = []
    for at, value in enumerate(known):
        before: list[int] = max((run for run in best if known[run[-1]] <= value), key=len, default=[])
        best.append([*before, at])
    longest: list[int] = max(best, key=len, default=[])
    return set(longest)
