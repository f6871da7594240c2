"""Which pairs of cards are worth a look."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations

from recipebox.compare.words import stems
from recipebox.dishes.features import Features
from recipebox.dishes.telling import telling_stem

KEYS = 8
KEYS_OF_METHOD = 32
SHARED = 3  # candidates share this many keys
_FEW = 4  # of a card with fewer than KEYS words, two of so many words are enough: the two together are a key too


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
    words = sorted(found, key=lambda word: (-found[word], word))[:most]
    if len(words) < KEYS:
        words += ["+".join(pair) for pair in combinations(sorted(words[:_FEW]), 2)]
    return tuple(words)


def neighbours(known: Features, others: Iterable[Features]) -> Iterator[Features]:
    """Those of others that are candidates for the same dish as one card."""
    mine = set(keys(known))
    return (other for other in others if other.called != known.called and len(mine.intersection(keys(other))) >= SHARED)


def candidates(everything: Mapping[str, Features]) -> Iterator[tuple[str, str]]:
    """All pairs that share SHARED keys, each once, in no meant order.

    The key of each card that is commonest in the box is left out of the counting, which halves the work and loses
    nothing: of the keys that two cards share, at most the one commonest of all is left out in either.
    """
    called = list(everything)
    known = [keys(card) for card in everything.values()]
    common = Counter(word for words in known for word in words)
    postings: dict[str, list[int]] = defaultdict(list)
    for at, words in enumerate(known):
        mine = frozenset(words)
        met: Counter[int] = Counter()
        for word in sorted(words, key=lambda word: (common[word], word))[: max(len(words) - 1, 1)]:
            met.update(postings[word])
            postings[word].append(at)
        for other in [other for other, shared in met.items() if shared >= SHARED - 1]:
            if len(mine.intersection(known[other])) >= SHARED:
                yield called[other], called[at]
