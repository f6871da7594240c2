"""Real changes to a made-up recipe, planted so that what a comparison reports can be counted against them.

What cooks do to a card: common practice, no source.
"""

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from writing import Recipe, Step, lists, times

from recipebox.cards.model import Ingredient
from recipebox.cards.things import thing

# What is put in place of what: common practice, no source.
SWAPS = (
    ("butter", "margarine"), ("milk", "buttermilk"), ("cheddar cheese", "Swiss cheese"), ("parsley", "basil"),
    ("ground beef", "ground turkey"), ("walnut", "pecans"), ("vegetable oil", "olive oil"), ("basil", "parsley"),
    ("sugar", "brown sugar"), ("brown sugar", "honey"), ("olive oil", "vegetable oil"), ("sour cream", "yogurt"),
    ("heavy cream", "milk"), ("cream cheese", "mascarpone"), ("lemon juice", "lime juice"), ("garlic", "shallots"),
    ("chicken stock", "vegetable stock"), ("raisin", "dried cranberries"), ("thyme", "rosemary"), ("pecan", "walnuts"),
    ("onion", "leeks"), ("bacon", "ham"), ("mozzarella cheese", "Gruyere cheese"), ("rice", "barley"),
    ("flour", "whole wheat flour"), ("potato", "sweet potatoes"), ("cilantro", "mint"), ("vinegar", "lemon juice"),
)  # fmt: skip
_TIMES = (Fraction(1, 2), Fraction(3, 2), Fraction(2), Fraction(3))


@dataclass(frozen=True, slots=True)
class Planted:
    """One change: `kind` as a comparison would report it, and the common names, heats or times it is about."""

    kind: str  # "only", "amount", "stands-in", "oven", "time", "step"
    about: frozenset[str]


def changed(what: Recipe, changes: int, chance: random.Random, ways: Sequence[str]) -> tuple[Recipe, list[Planted]]:
    """The recipe with so many changes in so many different ways and places, and what they are."""
    planted: list[Planted] = []
    touched: set[str] = set()
    for _ in range(changes):
        for way in chance.sample(list(ways), len(ways)):
            made = _WAYS[way](what, touched, chance)
            if made is not None:
                what, told = made
                touched |= told.about
                planted.append(told)
                break
    return what, planted


def _free(what: Recipe, touched: set[str]) -> list[Ingredient]:
    return [line for line in what.lines if thing(line.item) not in touched]


def _leave_out(what: Recipe, touched: set[str], chance: random.Random) -> tuple[Recipe, Planted] | None:
    free = _free(what, touched)
    if len(what.lines) < 5 or not free:
        return None
    gone = chance.choice(free)
    steps = tuple(step for step in (_without(step, gone.item) for step in what.steps) if step is not None)
    lines = tuple(line for line in what.lines if line is not gone)
    lost = {f"step {step.minutes}" for step in what.steps if step.things == (gone.item,)}
    return replace(what, lines=lines, steps=steps), Planted("only", frozenset([thing(gone.item), *lost]))


def _put_in(what: Recipe, touched: set[str], chance: random.Random) -> tuple[Recipe, Planted] | None:
    there = {thing(line.item) for line in what.lines} | touched
    for _ in range(20):
        new = chance.choice(chance.choice(lists()))
        if thing(new.item) not in there:
            mixing = [at for at, step in enumerate(what.steps) if step.things]
            steps = list(what.steps)
            if mixing:
                at = chance.choice(mixing)
                steps[at] = replace(steps[at], things=(*steps[at].things, new.item))
            lines = (*what.lines, new)
            return replace(what, lines=lines, steps=tuple(steps)), Planted("only", frozenset([thing(new.item)]))
    return None


def _amount(what: Recipe, touched: set[str], chance: random.Random) -> tuple[Recipe, Planted] | None:
    free = [line for line in _free(what, touched) if line.amount is not None and line.amount.low > 0]
    if not free:
        return None
    line = chance.choice(free)
    other = times(line, chance.choice(_TIMES))
    lines = tuple(other if one is line else one for one in what.lines)
    return replace(what, lines=lines), Planted("amount", frozenset([thing(line.item)]))


def _swap(what: Recipe, touched: set[str], chance: random.Random) -> tuple[Recipe, Planted] | None:
    there = {thing(line.item) for line in what.lines} | touched
    free = {thing(line.item): line for line in _free(what, touched)}
    usable = [(old, new) for old, new in SWAPS if old in free and thing(new) not in there]
    if not usable:
        return None
    old, new = chance.choice(usable)
    line = free[old]
    other = replace(line, item=new, items=(), preparation=None)
    lines = tuple(other if one is line else one for one in what.lines)
    steps = tuple(
        replace(step, things=tuple(new if name == line.item else name for name in step.things)) for step in what.steps
    )
    return replace(what, lines=lines, steps=steps), Planted("stands-in", frozenset([old, thing(new)]))


def _another(what: Recipe, touched: set[str], chance: random.Random) -> tuple[Recipe, Planted] | None:
    """A line gives way to one that has nothing to do with it."""
    without = _leave_out(what, touched, chance)
    put = without and _put_in(without[0], touched | without[1].about, chance)
    return put and without and (put[0], Planted("stands-in", put[1].about | without[1].about))


def _oven(what: Recipe, touched: set[str], chance: random.Random) -> tuple[Recipe, Planted] | None:
    if what.heat is None or "oven" in touched:
        return None
    heat = what.heat + chance.choice((-50, 50))
    steps = tuple(replace(step, heat=heat) if step.what == "oven" else step for step in what.steps)
    return replace(what, heat=heat, steps=steps), Planted("oven", frozenset(["oven"]))


def _time(what: Recipe, touched: set[str], chance: random.Random) -> tuple[Recipe, Planted] | None:
    usable = [at for at, step in enumerate(what.steps) if step.minutes and f"step {step.minutes}" not in touched]
    if not usable:
        return None
    at = chance.choice(usable)
    old = what.steps[at].minutes or 1
    new = old * chance.choice((2, 3))
    steps = list(what.steps)
    steps[at] = replace(steps[at], minutes=new)
    minutes = new if steps[at].what == "bake" else what.minutes
    planted = Planted("time", frozenset([f"step {old}", f"step {new}"]))
    return replace(what, steps=tuple(steps), minutes=minutes), planted


def _step(what: Recipe, touched: set[str], chance: random.Random) -> tuple[Recipe, Planted] | None:
    """A step more, somewhere before the end."""
    if "step" in touched:
        return None
    new = Step(chance.choice(("rest", "freeze", "boil")), (), chance.choice((7, 12, 35, 50)))
    at = chance.randrange(1, len(what.steps))
    steps = (*what.steps[:at], new, *what.steps[at:])
    return replace(what, steps=steps), Planted("step", frozenset(["step", f"step {new.minutes}"]))


def _without(step: Step, item: str) -> Step | None:
    if item not in step.things:
        return step
    left = tuple(name for name in step.things if name != item)
    return replace(step, things=left) if left else None


_WAYS = {
    "leave out": _leave_out,
    "put in": _put_in,
    "amount": _amount,
    "swap": _swap,
    "another": _another,
    "oven": _oven,
    "time": _time,
    "step": _step,
}
OF_A_DISH = ("leave out", "put in", "amount", "swap", "another")
OF_A_COMPARISON = ("leave out", "put in", "amount", "swap", "oven", "time", "step")
