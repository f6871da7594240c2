"""What the title of a card tells: its words, and the form of dish it names."""

import re
from functools import lru_cache

from recipebox.cards.model import Card
from recipebox.cards.things import is_known, thing
from recipebox.compare.words import content_words, stems
from recipebox.dishes.telling import telling_title

_OF_A_FORM = 250  # a form of dish tells little by itself
_ASIDE = 4  # an aside in brackets or behind a comma counts this much less
_WHOSE = re.compile(r"\b\w+['’]s\b")
_BRACKETS = re.compile(r"\([^)]*\)|\[[^\]]*\]")

# Words for one form of dish: common practice, no source. The first names the form.
_FORMS = """
bake casserole hotdish gratin traybake bakes scallop
pie tart quiche flan galette tartlet pasty
soup chowder broth bisque
stew pot goulash ragout hotpot chili curry
bread loaf loaves soda
roll bun scone
muffin cupcake
cake gateau torte
cookie biscuit
bar brownie slice square
crumble crisp cobbler
dumpling
pancake crepe waffle
salad slaw
dip spread
sauce gravy dressing salsa
pudding custard
patty fishcake burger croquette rissole
meatloaf
jam chutney relish pickle
"""


def title_words(title: str, card: Card) -> dict[str, int]:
    """The stems of a title's words and how telling each is.

    The sender's name is left out; asides, and whose it is, count less.
    """
    people = set(stems(card.sender or ""))
    main, _, behind = _BRACKETS.sub(" ", title).partition(",")
    found = {}
    aside = " ".join([behind, *_BRACKETS.findall(title), *_WHOSE.findall(main)])
    main = _WHOSE.sub(" ", main)
    for words, share in ((aside, _ASIDE), (main, 1)):
        for word in content_words(_in_common_names(words)):
            if word not in people:
                form = _form(word)
                found[form or word] = (_OF_A_FORM if form else telling_title(word)) // share
    return found


def forms(title: str) -> frozenset[str]:
    """The forms of dish that a title names: "Leek and cheese tart" is a pie."""
    main = _BRACKETS.sub(" ", title).partition(",")[0]
    return frozenset(form for word in stems(main) if (form := _form(word)) is not None)


def _in_common_names(words: str) -> str:
    """The words with foods by their common names, where that has as many words: courgette bread is zucchini bread."""
    said = words.split()
    told = []
    at = 0
    while at < len(said):
        size = 2 if _common_name(" ".join(said[at : at + 2])) else 1
        run = " ".join(said[at : at + size])
        told.append(_common_name(run) or run)
        at += size
    return " ".join(told)


@lru_cache(maxsize=16384)
def _common_name(run: str) -> str | None:
    if not is_known(run) or any(_form(word) for word in stems(run)):
        return None
    name = thing(run)
    return name if name.count(" ") == run.count(" ") else None


@lru_cache(maxsize=4096)
def _form(word: str) -> str | None:
    return _FORM_OF.get(word)


_FORM_OF = {
    stemmed: line.split()[0]
    for line in _FORMS.strip().splitlines()
    for word in line.split()
    for stemmed in {*stems(word), *content_words(word)}
}
