"""Why two cards are taken for the same dish, in words a cook would use."""

from fractions import Fraction
from functools import lru_cache

from recipebox.compare.batch import YIELD, believed
from recipebox.dishes.features import Features
from recipebox.dishes.likeness import cosine, shared_sizes

_LITTLE = 100  # the telling of salt, pepper and water, whose amounts say little
_SEASONING = 0.3
_BATCHES = {
    Fraction(2): "a double batch",
    Fraction(3): "a triple batch",
    Fraction(1, 2): "half a batch",
    Fraction(1, 3): "a third of a batch",
    Fraction(3, 2): "a batch and a half",
}


def reason(a: Features, b: Features) -> str:
    """One line: ingredients shared, how both are cooked, whether the titles agree, and which is the larger batch.

    `a` is this one, `b` that one.
    """
    said = [*_foods(a, b), *_cooked(a, b), *_titles(a, b)]
    if not said:
        said = ["methods alike" if cosine(a.words, b.words) > 0 else "little in common"]
    batch = batch_of(a, b)
    times = batch if batch > 1 else 1 / batch
    aside = (
        f"; {'that' if batch > 1 else 'this'} one is {_BATCHES.get(times, f'{times} times the other')}"
        if times != 1
        else ""
    )
    return ", ".join(said) + aside


def batch_of(a: Features, b: Features) -> Fraction:
    """How many times `a` the card `b` is, from their features: as `compare.batch_factor`, without stand-ins."""
    said: dict[float, float] = {}
    for size, more, weight in shared_sizes(a, b):
        ratio = round(more / size, 3)
        said[ratio] = said.get(ratio, 0.0) + (1.0 if weight >= _LITTLE else _SEASONING)
    votes = [(_exact(ratio), weight) for ratio, weight in sorted(said.items())]
    yields = [(_exact(b.serves / a.serves), YIELD)] if a.serves and b.serves else []
    return believed(votes, yields)


def _foods(a: Features, b: Features) -> list[str]:
    if a.things and b.things:
        shared = len(a.things.keys() & b.things.keys())
        return [f"{shared} of {max(len(a.things), len(b.things))} ingredients"]
    words = sorted(a.words.keys() & b.words.keys(), key=lambda word: (-a.words[word] * b.words[word], word))
    return [f"methods speak alike of {', '.join(words[:3])}"] if words else []


def _cooked(a: Features, b: Features) -> list[str]:
    if a.pan and a.pan == b.pan:
        return [f"both {'baked' if a.oven and b.oven else 'made'} in a {a.pan}"]
    if a.oven and b.oven and abs(a.oven - b.oven) <= 10:
        return ["ovens alike"]
    return []


def _titles(a: Features, b: Features) -> list[str]:
    one, other = a.title_words, b.title_words
    both = sum(one[word] for word in one.keys() & other.keys())
    return ["titles alike"] if both and 4 * both >= sum(one.values()) + sum(other.values()) else []


@lru_cache(maxsize=65536)
def _exact(ratio: float) -> Fraction:
    return Fraction(ratio).limit_denominator(1000) or Fraction(1, 1000)
