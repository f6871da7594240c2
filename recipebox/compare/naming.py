"""Whether a step speaks of an ingredient."""

from collections.abc import Iterable, Sequence
from functools import lru_cache

from recipebox.cards.model import Ingredient
from recipebox.cards.things import part_in_dish, thing
from recipebox.compare.words import stems

Words = tuple[str, ...]

# All word lists below: common practice, no source.
# With what words a step speaks of several ingredients at once: words in the part they play or in their name.
_COLLECTIVE = {
    "cheeses": "cheese cheddar parmesan mozzarella gruyere",
    "spices": "spice herb seasoning",
    "seasonings": "spice herb seasoning salt pepper",
    "herbs": "herb",
    "vegetables": "vegetable onion root squash green mushroom",
    "veggies": "vegetable onion root squash green mushroom",
    "meat": "meat poultry sausage beef pork lamb chicken turkey",
    "meats": "meat poultry sausage beef pork lamb chicken turkey",
    "fish": "fish cod salmon haddock",
    "pasta": "pasta noodle spaghetti macaroni penne ziti",
    "noodles": "pasta noodle spaghetti macaroni penne",
    "soup": "soup",
    "fruit": "fruit berry",
    "berries": "berry",
    "nuts": "nut almond walnut pecan",
    "beans": "bean pulse",
    "liquid": "liquid milk water stock broth juice",
    "crumbs": "crumb",
    "onions": "onion",
}
_MIXTURES = {
    "dry": "flour sugar leavening baking salt spice cocoa starch oat grain cornmeal yeast cinnamon nutmeg soda",
    "wet": "milk cream egg oil butter water liquid juice vanilla yogurt honey syrup fat molasses",
    "liquid": "milk cream water liquid juice stock broth vinegar oil",
}
_ALL = (
    "all ingredients",
    "all the ingredients",
    "all of the ingredients",
    "all other ingredients",
    "everything",
    "remaining ingredients",
    "other ingredients",
    "rest of the ingredients",
    "add the rest",
    "all the rest",
    "ingredients together",
    "combine ingredients",
    "mix ingredients",
)
_EXCEPT = ("except", "but", "without")
# A word before the name that makes it another thing.
_ANOTHER = {
    "butter": "peanut almond apple nut cocoa cookie",
    "milk": "coconut almond condensed evaporated soy oat rice",
    "cream": "sour ice whipping coconut",
    "sauce": "soy worcestershire hot fish",
    "pepper": "bell red green chili cayenne",
    "soda": "club",
    "bread": "corn",
    "potato": "sweet",
    "onion": "green spring",
    "water": "rose",
}
# A word after the name that makes it another thing, or the name a verb.
_FOLLOWED = {
    "cream": "cheese together butter sugar until soup the of",
    "egg": "noodle",
    "butter": "the a bean",
    "flour": "the a tortilla",
    "tomato": "paste sauce soup puree",
    "chicken": "stock broth soup",
    "salt": "pork",
}
# Words of a name that say what it is before its last word does: "the chicken" of chicken thighs.
_OF_WHAT = "chicken turkey duck beef pork lamb veal salmon cod haddock cheddar parmesan mozzarella gruyere"
# Last words that another may stand for.
_SAME_LAST = {"broth": "stock", "stock": "broth", "prawn": "shrimp", "shrimp": "prawn"}
# Last words that say too little by themselves: one of the words before them has to be there.
_GENERAL = "powder soda mix seed leaf extract water juice paste bean stick cube granule flake"
_QUALITIES = "of and baking fresh ground dry dried large small the whole"


def step_names(step: str, ingredient: Ingredient) -> bool:
    """Whether a step speaks of an ingredient, by its name, its kind, its group or with others ("the dry ingredients").

    A matter of words only: "the flour mixture" speaks of the flour, "the topping" of all that stands under Topping,
    "cheeses" of any cheese, "all ingredients" of each. A guess where cooks leave the noun out.
    """
    said, left_out = _said(step)
    names = ingredient.items or (ingredient.item or ingredient.text,)
    if any(_named(said, name) for name in names):
        return True
    if any(_named(left_out, name) for name in names):
        return False
    if ingredient.group and _all_in(_group_words(ingredient.group), said):
        return True
    return _has_any(said, _ALL_STEMS) or any(_with_others(said, name) for name in names)


@lru_cache(maxsize=4096)
def _said(step: str) -> tuple[Words, Words]:
    """The stems of a step, and of what stands behind "all ... except"."""
    words = stems(step)
    for word in _EXCEPT:
        if word in words:
            at = words.index(word)
            if _has_any(words[:at], _ALL_STEMS):
                return words[:at], words[at + 1 :]
    return words, ()


def _named(words: Words, name: str) -> bool:
    for wanted in _forms(name):
        if any(_stands_for_itself(words, at, wanted) for at in _places(words, wanted)):
            return True
        if len(wanted) > 1 and _all_in(wanted, words):
            return True
    wanted = _forms(name)[-1]
    head = wanted[-1:]
    if head and head[0] in _GENERAL_STEMS:
        return any(word in words for word in wanted[:-1] if word not in _QUALITY_STEMS)
    heads = [head, *((word,) for word in wanted[:-1] if word in _OF_WHAT_STEMS and not _SAME_LAST.get(wanted[-1]))]
    heads += [(_SAME_LAST[word],) for word in head if word in _SAME_LAST]
    return any(_stands_for_itself(words, at, one, wanted[:-1]) for one in heads for at in _places(words, one))


@lru_cache(maxsize=8192)
def _forms(name: str) -> tuple[Words, ...]:
    """The stems of a name as written and of its common name."""
    forms = (stems(name.split(",")[0].split("(")[0]), stems(thing(name)))
    return tuple(form for form in forms if form) or ((),)


def _places(words: Words, wanted: Words) -> list[int]:
    size = len(wanted)
    return [at for at in range(len(words) - size + 1) if size and words[at : at + size] == wanted]


def _stands_for_itself(words: Words, at: int, wanted: Words, own: Sequence[str] = ()) -> bool:
    """The words at this place mean the thing and not part of another thing's name, or a verb."""
    before = words[at - 1] if at else ""
    after = words[at + len(wanted)] if at + len(wanted) < len(words) else ""
    head = wanted[-1]
    other = len(wanted) == 1 and before in _ANOTHER_STEMS.get(head, ()) and before not in own
    return not other and after not in _FOLLOWED_STEMS.get(head, ())


def _with_others(words: Words, name: str) -> bool:
    kinds = {*stems(part_in_dish(name) or ""), *stems(thing(name))}
    if any(word in words and kinds & parts for word, parts in _COLLECTIVE_STEMS.items()):
        return True
    for at, word in enumerate(words[:-1]):
        if word in _MIXTURE_STEMS and words[at + 1] in ("ingredient", "mixtur", "mix") and kinds & _MIXTURE_STEMS[word]:
            return True
    return False


def _group_words(group: str) -> Words:
    return tuple(word for word in stems(group) if word not in ("for", "the", "and", "a", "to", "of"))


def _all_in(wanted: Words, words: Words) -> bool:
    return bool(wanted) and all(word in words for word in wanted)


def _has_any(words: Words, phrases: Iterable[Words]) -> bool:
    return any(_places(words, phrase) for phrase in phrases)


_ALL_STEMS = tuple(stems(phrase) for phrase in _ALL)
_OF_WHAT_STEMS = frozenset(stems(_OF_WHAT))
_GENERAL_STEMS = frozenset(stems(_GENERAL))
_QUALITY_STEMS = frozenset(stems(_QUALITIES))
_ANOTHER_STEMS = {head: frozenset(stems(words)) for head, words in _ANOTHER.items()}
_FOLLOWED_STEMS = {head: frozenset(stems(words)) for head, words in _FOLLOWED.items()}
_MIXTURE_STEMS = {word: frozenset(stems(kinds)) for word, kinds in _MIXTURES.items()}
_COLLECTIVE_STEMS = {stems(word)[0]: frozenset(stems(kinds)) for word, kinds in _COLLECTIVE.items()}
