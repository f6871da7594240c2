"""Whether a step speaks of an ingredient."""

from functools import lru_cache

from recipebox.cards.model import Ingredient
from recipebox.cards.things import part_in_dish, thing
from recipebox.compare.words import stems

# Words with which a step speaks of several ingredients at once, by their part: common practice, no source.
_COLLECTIVE = {
    "cheese": ("cheese",),
    "spice": ("spice", "herb", "seasoning"),
    "seasoning": ("spice", "herb", "seasoning", "salt", "pepper"),
    "herb": ("herb",),
    "vegetable": ("vegetable", "onion family", "root", "squash", "greens", "mushroom"),
    "veggie": ("vegetable", "onion family", "root", "squash", "greens", "mushroom"),
    "meat": ("meat", "poultry", "sausage"),
    "fish": ("fish",),
    "pasta": ("pasta", "noodle"),
    "noodle": ("pasta", "noodle"),
    "soup": ("soup",),
    "sauce": ("sauce",),
    "fruit": ("fruit", "berry"),
    "berry": ("berry",),
    "nut": ("nut",),
    "bean": ("bean", "pulse"),
    "fat": ("fat", "butter", "oil"),
    "shortening": ("fat",),
    "liquid": ("liquid", "milk", "water", "stock", "juice"),
    "crumb": ("crumb",),
}
_DRY = (
    "flour",
    "sugar",
    "leavening",
    "baking powder",
    "baking soda",
    "salt",
    "spice",
    "cocoa",
    "starch",
    "oat",
    "grain",
    "cornmeal",
    "yeast",
    "cinnamon",
    "nutmeg",
)
_WET = (
    "milk",
    "cream",
    "egg",
    "oil",
    "butter",
    "water",
    "liquid",
    "juice",
    "vanilla",
    "yogurt",
    "honey",
    "syrup",
    "fat",
    "extract",
    "molasses",
)
_ALL = (
    "all ingredient",
    "everything",
    "all of the ingredient",
    "all the ingredient",
    "remain ingredient",
    "other ingredient",
    "rest of the ingredient",
    "rest of ingredient",
    "the rest",
    "ingredient together",
    "combin ingredient",
    "mix ingredient",
)
# Heads too general to stand for the thing by themselves when the step puts another word before them.
_OTHERS = {
    "butter": ("peanut", "almond", "apple", "nut", "cocoa"),
    "milk": ("coconut", "almond", "condens", "evaporat", "soy", "butter"),
    "cream": ("sour", "ice", "whip"),
    "sugar": (),
    "oil": (),
}
_VERBS = {"cream": ("together", "butter", "sugar", "until", "the")}


def step_names(step: str, ingredient: Ingredient) -> bool:
    """Whether a step speaks of an ingredient, by its name, its kind, its group or with others ("the dry ingredients").

    A matter of words only: "the flour mixture" speaks of the flour, "the topping" of all that stands under Topping,
    "cheeses" of any cheese, "all ingredients" of each. A guess where cooks leave the noun out.
    """
    words = _stems(step)
    text = " " + " ".join(words) + " "
    if ingredient.group and _names_group(words, ingredient.group):
        return True
    names = ingredient.items or (ingredient.item or ingredient.text,)
    if any(_names(words, text, name) for name in names):
        return True
    return _all_but(text, names) or any(_with_others(words, text, name) for name in names)


@lru_cache(maxsize=4096)
def _stems(text: str) -> tuple[str, ...]:
    return stems(text)


def _names(words: tuple[str, ...], text: str, name: str) -> bool:
    for form in (name, thing(name)):
        wanted = _stems(form.split(",")[0].split("(")[0])
        if wanted and f" {' '.join(wanted)} " in text:
            return True
        if len(wanted) > 1 and set(wanted) <= set(words):
            return True
    wanted = _stems(thing(name))
    return bool(wanted) and _names_head(words, wanted)


def _names_head(words: tuple[str, ...], wanted: tuple[str, ...]) -> bool:
    """The last word of the name stands in the step, and no other word before it that makes it another thing."""
    head = wanted[-1]
    if head in ("powder", "soda", "soup", "mix", "sauc", "seed", "leaf", "extract", "water", "juic", "past", "crumb"):
        telling = [word for word in wanted[:-1] if word not in ("of", "and", "bak", "fresh", "ground", "dry")]
        return (
            any(word in words for word in telling)
            if head not in ("soup", "sauc", "crumb", "past")
            else (head in words or any(word in words for word in telling))
        )
    for at, word in enumerate(words):
        if word != head:
            continue
        before = words[at - 1] if at else ""
        after = words[at + 1] if at + 1 < len(words) else ""
        if before in _OTHERS.get(head, ()) and before not in wanted:
            continue
        if after in _VERBS.get(head, ()):
            continue
        if (head == "egg" and "yolk" in (after,)) or (head == "pepper" and before in ("bell", "red", "green")):
            continue
        return True
    return False


def _names_group(words: tuple[str, ...], group: str) -> bool:
    wanted = [word for word in _stems(group) if word not in ("for", "the", "and", "a", "to")]
    return bool(wanted) and all(word in words for word in wanted)


def _all_but(text: str, names: tuple[str, ...]) -> bool:
    for phrase in _ALL:
        at = text.find(f" {phrase} ")
        if at >= 0:
            rest = text[at + len(phrase) + 1 :]
            cut = max(rest.find(" except "), rest.find(" but "))
            left_out = rest[cut:] if cut >= 0 else ""
            return not any(_names(tuple(left_out.split()), left_out + " ", name) for name in names)
    return False


def _with_others(words: tuple[str, ...], text: str, name: str) -> bool:
    part = part_in_dish(name) or ""
    common = thing(name)
    for word, parts in _COLLECTIVE.items():
        if stems(word)[0] in words and any(one in part for one in parts):
            return True
    if " dry ingredient " in text or " dry mix" in text or (" flour mix" in text and "flour" in common):
        return any(one in part or one in common for one in _DRY)
    if " wet ingredient " in text or " liquid ingredient " in text or " wet mix" in text:
        return any(one in part or one in common for one in _WET)
    return False
