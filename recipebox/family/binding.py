"""Batters, doughs and custards: ingredients whose amounts hold one another, so that they are taken whole.

Which ingredients bind, and with what, is common practice, no source.
"""

import re
from collections.abc import Iterable, Sequence

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import part_in_dish, thing
from recipebox.family.model import aside
from recipebox.family.sentences import mentions

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
_SELF_RAISING = re.compile(r"\bself[- ]?r(?:aising|ising)\b", re.IGNORECASE)
_ICING = re.compile(r"\b(?:icing|powdered|confectioners['’]?) sugar\b", re.IGNORECASE)
_PASTRY = re.compile(r"\b(?:pastry|crust|dough|shortcrust|base|streusel|crumble|topping)\b", re.IGNORECASE)
_BESIDE = re.compile(
    r"\b(?:topping|top|filling|sauce|glaze|icing|frosting|streusel|crumble|crumbs?|garnish|serving|serve|syrup|drizzle"
    r"|swirl|fruit|crust|pastry|dressing|marinade)\b",
    re.IGNORECASE,
)


def bound(card: Card) -> tuple[Ingredient, ...]:
    """The lines of a card's batter, dough or custard; none where flour and leavening, or egg and milk, do not meet.

    Dry and wet ingredients listed apart are one batter; a topping, filling, sauce or glaze is not of it. Egg and milk
    that hold minced meat together are no custard.
    """
    lines = [line for line in card.ingredients if not aside(line)]
    together = [line for line in lines if not _BESIDE.search(line.group or "")]
    groups = [[line for line in lines if line.group == group] for group in dict.fromkeys(line.group for line in lines)]
    whole = [group for group in groups if _is_moist(group)]
    for group in [*whole, together, *groups]:
        if {"leavening", "flour"} <= _roles_of(group):
            return _without_icing(line for line in group if _any_of(line, _DOUGH))
    for group in groups:
        if _PASTRY.search(group[0].group or "") and {"flour", "fat"} <= _roles_of(group):
            return tuple(line for line in group if _any_of(line, _DOUGH))
    for group in groups:
        roles = _roles_of(group)
        coating = any(_for_coating(line) for line in group if _any_of(line, _EGG))
        minced = any(part_in_dish(line.item) == "ground meat" for line in group)
        if {"egg", "dairy"} <= roles and not coating and not minced and _meet(card, group):
            return tuple(line for line in group if _any_of(line, _DOUGH if "flour" in roles else _CUSTARD))
    return ()


def _is_moist(lines: Sequence[Ingredient]) -> bool:
    """Whether a group is a batter or dough by itself, not the dry half of one that is listed in two."""
    return any(_any_of(line, (*_LIQUID, *_EGG, *_FAT)) for line in lines)


def _meet(card: Card, lines: Sequence[Ingredient]) -> bool:
    """Whether a step stirs egg and milk together; a lasagne has both and no custard. True where no step tells."""
    eggs = [line for line in lines if _any_of(line, _EGG)]
    dairy = [line for line in lines if _any_of(line, _DAIRY)]
    named = [
        ([one for one in eggs if mentions(step.text, one)], [one for one in dairy if mentions(step.text, one)])
        for step in card.steps
    ]
    if any(egg and milk for egg, milk in named):
        return True
    return not any(egg for egg, _ in named) or not any(milk for _, milk in named)


def _without_icing(lines: Iterable[Ingredient]) -> tuple[Ingredient, ...]:
    """Icing sugar beside another sugar is for the icing."""
    kept = list(lines)
    sugars = [line for line in kept if _any_of(line, _SUGAR)]
    icing = [line for line in sugars if _ICING.search(line.item)]
    return tuple(line for line in kept if len(icing) == len(sugars) or not any(line is one for one in icing))


def is_liquid(ingredient: Ingredient) -> bool:
    """Whether a line is one of the liquids of a batter or dough."""
    return _any_of(ingredient, _LIQUID)


def makes_batter(ingredient: Ingredient) -> bool:
    """Whether a line is what makes a batter the batter it is: flour, leavening or eggs."""
    return bool(_roles(ingredient) & {"flour", "leavening", "egg"})


def _roles_of(lines: Iterable[Ingredient]) -> set[str]:
    return {role for line in lines for role in _roles(line)}


def _roles(ingredient: Ingredient) -> set[str]:
    named = {"leavening": _LEAVENING, "flour": _FLOUR, "egg": _EGG, "dairy": _DAIRY, "fat": _FAT}
    roles = {role for role, words in named.items() if _any_of(ingredient, words)}
    return roles | ({"leavening"} if _SELF_RAISING.search(ingredient.item) else set())


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
