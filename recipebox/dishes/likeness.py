"""How alike two cards are: from the features of the two alone."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt

from recipebox.cards.model import Card
from recipebox.compare.words import content_words, head_word
from recipebox.dishes.features import Features, features

CUT = 0.48  # with ingredients on both sides
CUT_METHOD = 0.11  # with steps alone on both sides
CUT_MIXED = 0.42  # with steps alone on one side
_TITLE = 0.25  # share of the title beside the ingredients
_METHOD = 0.15  # share of the method beside both
_ONE_KIND = 0.7  # what two kinds of one thing are worth: "mature cheddar" and "cheddar"
_STANDS_IN = 0.25  # what two things that play the same part are worth
_NOT_BAKED = 0.85  # what is left where only one of the two goes into the oven
_ANOTHER_FORM = 0.85  # what is left where the titles name forms that nobody confuses: a soup, a pie
_MAIN_LACKING = 0.95  # what is left, for each of the two whose main thing has no counterpart
_UNTITLED = 0.25  # how alike titles count where one is missing, so that silence is no agreement
_NO_METHOD = 0.2  # the same for methods
_PROPORTION = 0.15  # what is lost where no amount keeps its proportion
_IN_PROPORTION = 1.6  # times more or less, once on one batch


@dataclass(frozen=True, slots=True)
class Likeness:
    """`score` from 0 to 1; `same` whether it reaches its cut; `margin` is how far above or below, in cuts."""

    score: float
    cut: float
    a: Features
    b: Features

    @property
    def same(self) -> bool:
        """Whether the two are judged to be the same dish."""
        return self.score >= self.cut

    @property
    def margin(self) -> float:
        """How far the score lies above its cut, as a share of the cut; negative below."""
        return self.score / self.cut - 1

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
    is, things that play the same part for half, less where amounts are out of proportion; titles and methods beside.
    With steps alone: the cosine of their telling words. With steps alone on one side: that, and how much of the
    other's ingredients the steps speak of.
    """
    if a.things and b.things:
        score = _foods(a, b)
        method = cosine(a.words, b.words) if a.words and b.words else _NO_METHOD
        score += _METHOD * (method - score)
        score = _with_titles(score, a, b)
        for one, other in ((a, b), (b, a)):
            if any(_lacking(name, one, other) for name in one.mains):
                score *= _MAIN_LACKING
        if a.baked is not None and b.baked is not None and a.baked != b.baked:
            score *= _NOT_BAKED
        if a.forms and b.forms and not set(a.forms).intersection(b.forms):
            score *= _ANOTHER_FORM
        return Likeness(score, CUT, a, b)
    if a.things or b.things:
        spoken = _spoken_of(a.things, b.words) if a.things else _spoken_of(b.things, a.words)
        score = (spoken + cosine(a.words, b.words)) / 2
        return Likeness(_with_titles(score, a, b) if a.title_words and b.title_words else score, CUT_MIXED, a, b)
    score = cosine(a.words, b.words)
    return Likeness(_with_titles(score, a, b) if a.title_words and b.title_words else score, CUT_METHOD, a, b)


def cosine(a: Mapping[str, int], b: Mapping[str, int]) -> float:
    """The cosine of two weightings, 0 where one is empty."""
    dot = sum(a[word] * b[word] for word in a.keys() & b.keys())
    if not dot:
        return 0.0
    return dot / sqrt(sum(w * w for w in a.values()) * sum(w * w for w in b.values()))


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
    share = 2 * worth / weight if weight else 0.0
    sizes = shared_sizes(a, b)
    if len(sizes) > 2:
        share *= 1 - _PROPORTION * (1 - _in_proportion(sizes))
    return min(share, 1.0)


def shared_sizes(a: Features, b: Features) -> list[tuple[float, float, int]]:
    """How much of each shared thing `a` and `b` have, on one footing, and the thing's weight; where both say."""
    found = []
    for name in a.sizes.keys() & b.sizes.keys():
        for unit, size in a.sizes[name]:
            other = next((more for also, more in b.sizes[name] if also == unit), None)
            if other is not None:
                found.append((size, other, a.things[name]))
                break
    return found


def _in_proportion(sizes: list[tuple[float, float, int]]) -> float:
    """The largest share, by weight, of things whose amounts are all in about one proportion.

    Compared crosswise, so that it is the same to the last bit whichever card is first.
    """
    most = max(
        sum(
            w
            for x, y, w in sizes
            if y * one <= _IN_PROPORTION * (other * x) and other * x <= _IN_PROPORTION * (y * one)
        )
        for one, other, _ in sizes
    )
    return most / (sum(w for _, _, w in sizes) or 1)


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


def _with_titles(score: float, a: Features, b: Features) -> float:
    titles = _titles(a, b) if a.title_words and b.title_words else _UNTITLED
    return score + _TITLE * (titles - score)


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
