"""The words of a sentence of kitchen English, brought to stems, so that wording does not count as meaning."""

import re
from functools import lru_cache

from recipebox.cards.accents import without_accents

_WORD = re.compile(r"[a-z]+(?:'[a-z]+)?")

# Words that carry no meaning of their own in a method: common practice, no source.
_EMPTY_WORDS = """
    a about add again all allow along also an and any are as at be been before being but by can carefully completely
    continue do down during each either enough evenly every few first for from gently get gradually have here if in
    into is it its just keep let like little lightly make making may more most much need next not now of off on once
    one only or other out over per place please prepared put quickly rather ready remaining rest same set should slowly
    so some still such take that the their them then there these they thing this those through time to together too
    top until up use used using very want well when where which while will with within without you your
"""

_EMPTY = frozenset(word for line in _EMPTY_WORDS.splitlines() for word in line.split())

_BEHIND = frozenset(("from", "of", "in", "with", "for", "without"))

# One word for what cooks say in several ways: common practice, no source.
_ALIKE = {
    alike: group[0]
    for group in (
        line.split()
        for line in """
        mix stir combine blend whisk toss incorporate mingle
        heat preheat warm prewarm
        bake roast
        brown saute sear fry
        pour spread spoon transfer turn tip scrape
        boil bubble
        cover lid
        sprinkle scatter dust
        chop dice mince cut slice
        drain strain
        cool chill refrigerate fridge
        dish pan tin casserole
        bowl basin
        pot saucepan kettle
        skillet frypan
        grease butter-the spray oil-the
        golden brown
        mixture batter dough
        minute min mins
        hour hr hrs
        degree degrees
        grind crush mill
        toast roast-dry
        store keep
        taste season
        pasta ziti noodle macaroni rigatoni penne
        serve eat enjoy
        """.strip().splitlines()
    )
    for alike in group
}


def plain(text: str) -> str:
    """Lower case without accents, fractions and signs kept."""
    return without_accents(text.casefold())


@lru_cache(maxsize=65536)
def stem(word: str) -> str:
    """The stem of a lower-case word: "baking", "baked" and "bakes" are one. Crude on purpose: both sides get it."""
    if len(word) > 4 and word.endswith("'s"):
        word = word[:-2]
    if len(word) > 4 and word.endswith("ies"):
        word = word[:-3] + "y"
    elif word.endswith(("oes", "shes", "ches", "xes", "sses")):
        word = word[:-2]
    elif len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        word = word[:-1]
    for ending in ("ing", "ed"):
        if len(word) > len(ending) + 2 and word.endswith(ending) and re.search("[aeiouy]", word[: -len(ending)]):
            word = word[: -len(ending)]
            if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "lsz":
                word = word[:-1]
            break
    if len(word) > 3 and word.endswith("e"):
        word = word[:-1]
    return word


@lru_cache(maxsize=8192)
def content_words(text: str) -> tuple[str, ...]:
    """The stems of the words that say something, in order, those that mean the same in a method brought to one."""
    found = (_stem_alike(word) for word in _WORD.findall(plain(text)) if word not in _EMPTY)
    return tuple(word for word in found if len(word) > 1)


def stems(text: str) -> tuple[str, ...]:
    """The stems of all words, in order."""
    return tuple(stem(word) for word in _WORD.findall(plain(text)))


@lru_cache(maxsize=65536)
def head_word(name: str) -> str:
    """The word of a thing's name that says what it is: "breadcrumb" of "breadcrumb from stale loaf"."""
    words = name.split()
    if words[-1:] == ["soup"] or words[:2] == ["cream", "of"]:
        return words[-1]
    end = next((at for at, word in enumerate(words) if at and word in _BEHIND), len(words))
    return words[end - 1] if words else ""


@lru_cache(maxsize=65536)
def _stem_alike(word: str) -> str:
    stemmed = stem(word)
    return _STEM_ALIKE.get(stemmed, stemmed)


_STEM_ALIKE = {stem(word): stem(to) for word, to in _ALIKE.items()}
