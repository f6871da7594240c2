"""How alike two cards are: from the features of the two alone."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt

from recipebox.cards.model import Card
from recipebox.compare.words import content_words, head_word
from recipebox.dishes.features import Features, features

# With ingredients on both sides: a logistic regression of made-up versions of real lists, by tests/bench/tune.py. The
# first four together make up 1.
CUT = 0.45
WEIGHTS = {
    "foods": 0.53,
    "title": 0.16,
    "method": 0.10,
    "in proportion": 0.21,  # where six things and more have amounts in one proportion
    "out of proportion": -0.045,  # for each thing that has not, up to three: another cook's hand shows no further
    "not baked": -0.13,  # where only one of the two goes into the oven
    "another form": -0.09,  # where the titles name forms that nobody confuses: a soup, a pie
    "main lacking": -0.012,  # for each of the two whose main thing has no counterpart
}
_UNTITLED = 0.28  # how alike titles count where one is missing, so that silence is no agreement
_NO_METHOD = 0.3  # the same for methods

CUT_METHOD = 0.145  # with steps alone on both sides: by tests/bench/unseen_dish.py
CUT_MIXED = 0.56  # with steps alone on one side

# How far below its cut the average of a dish's pairs may lie: a dish is made differently in every kitchen.
_GIVE = 0.2 * CUT
_GIVE_METHOD = 0.15 * CUT_METHOD
_GIVE_MIXED = 0.1 * CUT_MIXED

_TITLE_BESIDE_METHOD = 0.25

_ONE_KIND = 0.7  # what two kinds of one thing are worth: "mature cheddar" and "cheddar"
_STANDS_IN = 0.25  # what two things that play the same part are worth
_PROPORTION = 1.06  # times more or less, once on one batch
_MOST_IN_PROPORTION = 6
_MOST_OUT = 3


@dataclass(frozen=True, slots=True)
class Likeness:
    """`score` from 0 to 1 and `cut`, which it reaches if the two are the same dish; `give`: how far cards of one dish
    may lie below the cut on the average."""

    score: float
    cut: float
    give: float
    a: Features
    b: Features

    @property
    def same(self) -> bool:
        """Whether the two are judged to be the same dish."""
        return self.score >= self.cut

    @property
    def margin(self) -> float:
        """How far the score lies above its cut, in gives; negative below."""
        return (self.score - self.cut) / self.give

    @property
    def why(self) -> str:
        """The reason in words: "9 of 11 ingredients, both baked in a 9 x 13, titles alike; one is a double batch"."""
        from recipebox.dishes.reasons import reason

        return reason(self.a, self.b)


def same_dish(a: Card, b: Card) -> Likeness:
    """How alike two cards are."""
    return likeness(features(a), features(b))


def likeness(a: Features, b: Features) -> Likeness:
    """How alike two cards are. Symmetric; depends on nothing but the two.

    With ingredients on both sides: twice what they share over what they have, each thing counted by how telling it
    is, things that play the same part for less; more for titles and methods alike and for each thing that both have in
    one proportion; less where one is baked and the other not or the titles name two forms of dish.
    With steps alone: how far their telling words overlap. With steps alone on one side: how alike the methods are, and
    how much of the other's ingredients the steps speak of.
    """
    if a.things and b.things:
        return Likeness(_with_foods(a, b), CUT, _GIVE, a, b)
    alone = not (a.things or b.things)
    if alone:
        score = _overlap(a.words, b.words)
    else:
        spoken = _spoken_of(a.things, b.words) if a.things else _spoken_of(b.things, a.words)
        score = (spoken + cosine(a.words, b.words)) / 2
    if a.title_words and b.title_words:
        score += _TITLE_BESIDE_METHOD * (_titles(a, b) - score)
    cut, give = (CUT_METHOD, _GIVE_METHOD) if alone else (CUT_MIXED, _GIVE_MIXED)
    return Likeness(score, cut, give, a, b)


def signs(a: Features, b: Features) -> dict[str, float]:
    """The signs that two cards with ingredients are, or are not, the same dish: what `likeness` weighs."""
    sizes = shared_sizes(a, b)
    kept = _in_proportion(sizes)
    return {
        "foods": _foods(a, b),
        "title": _titles(a, b) if a.title_words and b.title_words else _UNTITLED,
        "method": cosine(a.words, b.words) if a.words and b.words else _NO_METHOD,
        "in proportion": min(kept / _MOST_IN_PROPORTION, 1.0) if kept > 1 else 0.0,
        "out of proportion": float(min(len(sizes) - kept, _MOST_OUT)),
        "not baked": float(a.baked is not None and b.baked is not None and a.baked != b.baked),
        "another form": float(bool(a.forms and b.forms and not set(a.forms).intersection(b.forms))),
        "main lacking": float(_lacks_a_main(a, b) + _lacks_a_main(b, a)),
    }


def _with_foods(a: Features, b: Features) -> float:
    told = signs(a, b)
    return max(sum(weight * told[sign] for sign, weight in WEIGHTS.items()), 0.0)


def _lacks_a_main(one: Features, other: Features) -> bool:
    return any(_lacking(name, one, other) for name in one.mains)


def cosine(a: Mapping[str, int], b: Mapping[str, int]) -> float:
    """The cosine of two weightings, 0 where one is empty."""
    dot = sum(a[word] * b[word] for word in a.keys() & b.keys())
    if not dot:
        return 0.0
    return dot / sqrt(sum(w * w for w in a.values()) * sum(w * w for w in b.values()))


def _overlap(a: Mapping[str, int], b: Mapping[str, int]) -> float:
    """How far two weightings overlap, from 0 to 1: many words shared say more than one that both repeat.

    The Bhattacharyya coefficient: A. Bhattacharyya, "On a measure of divergence between two statistical populations
    defined by their probability distributions", Bulletin of the Calcutta Mathematical Society 35, 1943.
    """
    shared = sorted(a[word] * b[word] for word in a.keys() & b.keys())
    return sum(map(sqrt, shared)) / sqrt(sum(a.values()) * sum(b.values())) if shared else 0.0


def _foods(a: Features, b: Features) -> float:
    things, others = a.things, b.things
    shared = things.keys() & others.keys()
    both = sum(things[name] for name in shared)
    left_a = {name: weight for name, weight in things.items() if name not in shared}
    left_b = {name: weight for name, weight in others.items() if name not in shared}
    worth = both + _ONE_KIND * _matched(left_a, left_b, head_word) if left_a and left_b else both
    if left_a and left_b:
        worth += _STANDS_IN * _matched(left_a, left_b, {**a.parts, **b.parts}.get)
    weight = sum(things.values()) + sum(others.values())
    return min(2 * worth / weight, 1.0) if weight else 0.0


def shared_sizes(a: Features, b: Features) -> list[tuple[float, float, int]]:
    """How much of each shared thing `a` and `b` have, on one footing, and the thing's weight; where both say."""
    found = []
    things = a.things
    for name, sizes in a.sizes.items():
        others = b.sizes.get(name)
        if others is not None:
            both = [(size, more) for unit, size in sizes for also, more in others if unit == also]
            if both:
                found.append((*both[0], things[name]))
    return found


def _in_proportion(sizes: list[tuple[float, float, int]]) -> int:
    """The largest number of things whose amounts are all in one proportion.

    Compared crosswise, so that it is the same to the last bit whichever card is first.
    """
    most = 0
    for one, other, _ in sizes:
        kept = 0
        for x, y, _ in sizes:
            if y * one <= _PROPORTION * (other * x) and other * x <= _PROPORTION * (y * one):
                kept += 1
        most = max(most, kept)
        if most == len(sizes):
            break
    return most


def _matched(left_a: dict[str, int], left_b: dict[str, int], what: Callable[[str], str | None]) -> int:
    """The weight of things that are matched by `what` they are, one to one; they are taken out of what is left."""
    by_what: dict[str, list[str]] = {}
    for name in sorted(left_b):
        kind = what(name)
        if kind is not None:
            by_what.setdefault(kind, []).append(name)
    worth = 0
    for name in sorted(left_a):
        partners = by_what.get(what(name) or "")
        if partners:
            worth += min(left_a.pop(name), left_b.pop(partners.pop(0)))
    return worth


def _lacking(name: str, one: Features, other: Features) -> bool:
    """Whether the other card has nothing of the kind or part of a thing."""
    if name in other.things or one.parts.get(name) in other.parts.values():
        return False
    return head_word(name) not in map(head_word, other.things)


def _titles(a: Features, b: Features) -> float:
    """Half what the titles share of both, half of the shorter: one cook writes more in a title than another."""
    one, other = a.title_words, b.title_words
    both = sum(one[word] for word in one.keys() & other.keys())
    size_a, size_b = sum(one.values()), sum(other.values())
    return both / (size_a + size_b) + both / (2 * min(size_a, size_b)) if both else 0.0


def _spoken_of(things: Mapping[str, int], words: Mapping[str, int]) -> float:
    """The share of a card's ingredients, by how telling they are, that a method speaks of."""
    spoken = sum(weight for name, weight in things.items() if any(word in words for word in content_words(name)))
    return spoken / (sum(things.values()) or 1)
