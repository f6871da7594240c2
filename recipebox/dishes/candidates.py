"""Which pairs of cards are worth a look."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from recipebox.compare.words import stems
from recipebox.dishes.features import Features
from recipebox.dishes.telling import telling_stem

KEYS = 8
KEYS_OF_METHOD = 14
SHARED = 2  # candidates share this many keys, or all of a card that has fewer


def keys(known: Features) -> tuple[str, ...]:
    """The most telling words of a card's title and ingredients, or of its method where it has no ingredients.

    By the shipped table alone. Two cards that share SHARED of them are candidates.
    """
    found: dict[str, int] = {}
    for name, weight in known.things.items():
        word = max(stems(name), key=lambda w: (telling_stem(w), w), default="")
        if word:
            found[word] = max(weight, found.get(word, 0))
    if not known.things:
        found.update(known.words)
    for word, weight in known.title_words.items():
        found[word] = max(weight, found.get(word, 0))
    most = KEYS if known.things else KEYS_OF_METHOD
    return tuple(sorted(found, key=lambda word: (-found[word], word))[:most])


def neighbours(known: Features, others: Iterable[Features]) -> Iterator[Features]:
    """Those of others that are candidates for the same dish as one card."""
    mine = set(keys(known))
    return (other for other in others if other.called != known.called and len(mine.intersection(keys(other))) >= SHARED)


def candidates(everything: Mapping[str, Features]) -> Iterator[tuple[str, str]]:
    """All pairs that share SHARED keys, each once, in no meant order."""
    known = {called: tuple(sorted(keys(one))) for called, one in everything.items()}
    postings: dict[str, list[str]] = defaultdict(list)
    for called, words in known.items():
        for word in words:
            postings[word].append(called)
    for first, cards in postings.items():
        seconds: dict[str, list[str]] = defaultdict(list)
        for called in cards:
            for word in known[called]:
                if word > first:
                    seconds[word].append(called)
        seen: set[tuple[str, str]] = set()
        for several in seconds.values():
            for at, one in enumerate(several):
                for other in several[:at]:
                    pair = (one, other)
                    if pair not in seen and (other, one) not in seen:
                        seen.add(pair)
                        if _first_shared(known[one], known[other]) == first:
                            yield pair
        del seen


def _first_shared(one: tuple[str, ...], other: tuple[str, ...]) -> str | None:
    return next((word for word in one if word in other), None)
