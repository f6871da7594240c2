"""Batters, doughs and custards: ingredients whose amounts hold one another, so that they are taken whole.

Which ingredients bind, and with what, is common practice, no source.
"""

from collections.abc import Iterable

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import thing

_LEAVENING = ("baking powder", "baking soda", "yeast", "sourdough starter", "cream of tartar")
_FLOUR = ("flour", "cornmeal", "semolina", "oat", "oatmeal", "polenta", "bran", "meal", "almond meal", "cocoa")
_EGG = ("egg", "yolk", "white")
_DAIRY = ("milk", "buttermilk", "cream", "yogurt", "half-and-half", "kefir")
_LIQUID = (*_DAIRY, "water", "juice", "vinegar", "beer", "coffee")
_SUGAR = ("sugar", "honey", "syrup", "molasses", "treacle")
_FAT = ("butter", "oil", "margarine", "lard", "shortening")
_NOT = ("peanut", "almond butter", "nut", "cheese", "ice", "mushroom", "celery", "chicken", "egg noodle", "eggplant")
_DOUGH = (*_LEAVENING, *_FLOUR, *_EGG, *_LIQUID, *_SUGAR, *_FAT)
_CUSTARD = (*_EGG, *_DAIRY, *_SUGAR)


def bound(card: Card) -> tuple[Ingredient, ...]:
    """The lines of a card's batter, dough or custard; none where flour and leavening, or egg and milk, do not meet.

    Only lines of one group of the list: a crumble's butter is not the cake's.
    """
    for group in dict.fromkeys(ingredient.group for ingredient in card.ingredients):
        lines = [ingredient for ingredient in card.ingredients if ingredient.group == group and not ingredient.purpose]
        roles = {role for line in lines for role in _roles(line)}
        if "leavening" in roles and "flour" in roles:
            return tuple(line for line in lines if _any_of(line, _DOUGH))
        if "egg" in roles and "dairy" in roles and not any(_for_coating(line) for line in lines if _any_of(line, _EGG)):
            return tuple(line for line in lines if _any_of(line, _CUSTARD))
    return ()


def is_liquid(ingredient: Ingredient) -> bool:
    """Whether a line is one of the liquids of a batter or dough."""
    return _any_of(ingredient, _LIQUID)


def _roles(ingredient: Ingredient) -> set[str]:
    named = {"leavening": _LEAVENING, "flour": _FLOUR, "egg": _EGG, "dairy": _DAIRY}
    return {role for role, words in named.items() if _any_of(ingredient, words)}


def _any_of(ingredient: Ingredient, names: Iterable[str]) -> bool:
    for item in ingredient.items or (ingredient.item,):
        common = f" {thing(item)} "
        if any(f" {word} " in common or common.strip().startswith(word + " ") for word in _NOT):
            continue
        words = common.split()
        if any((name in words[-1:] or (" " in name and f" {name} " in common)) for name in names):
            return True
    return False


def _for_coating(ingredient: Ingredient) -> bool:
    words = f"{ingredient.preparation or ''} {ingredient.remark or ''} {ingredient.text}".casefold()
    return any(word in words for word in ("wash", "hard-boiled", "hard boiled", "boiled", "glaze", "to serve"))
