"""Allergens that an item's words hint at, and what a swap changes. A hint, never a verdict: labels decide."""

import re
from functools import cache, lru_cache

from recipebox.cards.things import is_known, part_in_dish, thing
from recipebox.cautions.match import Keywords, find, keywords, one
from recipebox.tables.load import rows

# Where a row's note says that its later words are only may-contain foods, the first of those words.
_MAY_FROM = {
    "soy": "vegetable oil",
    "mustard": "mayonnaise",
    "sesame": "hamburger buns",
    "sulphites (sulfur dioxide)": "wine",
}
# Foods that the notes say "often", "usually" or "commonly" hold the allergen.
_MAY_BE = {
    "milk": "margarine;nondairy creamer;whipped topping;biscuit mix;pancake mix;instant mashed potatoes;crescent rolls",
    "egg": "meatballs;meatloaf;breaded chicken;breaded fish;chicken nuggets;cornbread",
    "fish": "gumbo;jambalaya;paella",
    "crustacean shellfish": (
        "gumbo;jambalaya;étouffée;etouffee;paella;seafood mix;seafood seasoning base;bisque;crab boil"
    ),
    "tree nuts named in both lists": "granola;trail mix;muesli;mixed nuts;nuts;chopped nuts;nut pieces;nut topping",
    "tree nuts in US guidance only (pine nut, heartnut)": "pesto;basil pesto",
    "peanut": "mixed nuts;nut pieces;marzipan;mole sauce;kung pao sauce;pad thai sauce;artificial nuts",
    "wheat": (
        "gravy;gravy mix;french fried onions;fried onions;crispy fried onions;cream soup;cream of mushroom soup;"
        "cream of chicken soup;cream of celery soup;condensed cream soup;condensed soup;soy sauce;teriyaki sauce;"
        "bouillon;seasoning mix;meatballs;cereal;granola;beer;malt"
    ),
    "cereals containing gluten other than wheat (rye, barley, oats)": (
        "granola;muesli;beer;ale;stout;lager;malt vinegar"
    ),
    "celery": (
        "vegetable stock;vegetable broth;chicken stock;stock cube;stock cubes;bouillon cube;bouillon;soup mix;"
        "onion soup mix;vegetable juice;tomato vegetable juice;bloody mary mix;poultry seasoning;stuffing;tuna salad;"
        "chicken salad;ham salad;potato salad;uncured bacon;naturally cured ham"
    ),
    "molluscs": "seafood mix;seafood medley;paella;cioppino;bouillabaisse;gumbo",
}

# Flours of something else, which the published lists name only in part.
_NOT_EITHER = {
    "wheat": (
        "buckwheat flour;cassava flour;potato flour;tapioca flour;soy flour;gram flour;besan;besan flour;peanut flour;"
        "quinoa flour;millet flour;sorghum flour;teff flour;arrowroot flour;lupin flour;rye flour;barley flour;"
        "chestnut flour;hazelnut flour;nut flour;bean flour;sesame flour;mustard flour;masa flour;tiger nut flour"
    ),
    "milk": "coconut yogurt;soy yogurt;coconut butter;sunflower butter;dairy-free butter",
}

# Parts in a dish (food_groups.csv) whose foods are one thing each, not made up of several: common practice, no source.
_PLAIN_FOODS = frozenset(
    """hard cheese;soft cheese;egg;liquid dairy;fat;flour;meal;thickener;raising agent;sugar;syrup;onion family;garlic;
    ginger;celery;root vegetable;potato;pepper vegetable;tomato;mushroom;squash;salad vegetable;greens;cabbage;
    green vegetable;corn;avocado;fresh herb;salt;pepper;warm spice;vinegar;citrus juice;citrus zest;water;white fish;
    oily fish;salty fish;shellfish;stewing meat;pork;poultry;offal;pulse;rice;grain;nut;seed;coconut;dried fruit;
    orchard fruit;berry;tropical fruit;other fruit;cultured cream""".replace("\n    ", "").split(";")
)
# Words of things among them that are made up all the same.
_MADE_UP = frozenset(
    re.findall(
        r"\w+",
        """mix filling process creamer substitute seasoned baked refried hummus puffs fries msg cocktail spice paste
        sauce vegetable""",
    )
)
# What a maker says is not in it: the word names no food, and the allergen is only known as "may be". A claim is no
# proof, and in the EU gluten-free food may hold wheat starch: common practice, no source.
_CLAIMED = {
    "gluten": ("wheat",),
    "wheat": ("wheat",),
    "dairy": ("milk",),
    "milk": ("milk",),
    "egg": ("egg",),
    "nut": ("tree nuts named in both lists", "tree nuts in US guidance only (pine nut, heartnut)", "peanut"),
    "peanut": ("peanut",),
    "soy": ("soy",),
    "soya": ("soy",),
    "sesame": ("sesame",),
    "celery": ("celery",),
    "mustard": ("mustard",),
}
_FREE_FROM = re.compile(rf"\b({'|'.join(_CLAIMED)})[- ]free\b", re.IGNORECASE)
_BETWEEN = re.compile(r"\s+(?:and|or)\s+|\s*[+&]\s*")
_IN_JUICE = re.compile(r"\s+(?:with|in) (?:their |its )?(?:own )?juice$|,? (?:un)?cooked$|^cooked ", re.IGNORECASE)


@lru_cache(maxsize=16384)
def allergens(item: str) -> tuple[str, ...]:
    """Allergens by the words of an item, as major_allergens.csv names them; a trailing "?" means may be present.

    Whole words, the words that only look alike masked first, the longest keyword of each row. An empty answer says
    only that no keyword is in the words.
    """
    found = _in(item)
    if found or any(find(item, looks_alike) for _, _, _, looks_alike in _table()):
        return found
    return _in(thing(item))


def allergen_change(item: str, instead: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What `instead` in place of `item` brings in and takes out, by their words.

    One that both may hold counts as neither; one that the item only may hold and the other surely has is brought in.
    Taken out is only what the item surely has and the other is known not to have: a published list says it merely
    looks alike (coconut milk), or it is one plain food. A name nobody knows, a mixture, and a less exact name of the
    same thing ("stock" for vegetable stock) take nothing out.
    """
    before, after = set(allergens(item)), set(allergens(instead))
    brings = (name for name in allergens(instead) if name not in before and name.rstrip("?") not in before)
    gone = [name for name in allergens(item) if not name.endswith("?") and not {name, f"{name}?"} & after]
    if set(thing(instead).split()) < set(thing(item).split()):
        gone = []
    return tuple(brings), tuple(name for name in gone if _is_plain(instead) or _looks_alike(instead, name))


def _is_plain(item: str) -> bool:
    """Whether an item is listed as one food, made of nothing else; of "beans or lentils", whether both are."""
    foods = _BETWEEN.split(_IN_JUICE.sub("", item))
    return all(
        is_known(food)
        and part_in_dish(food) in _PLAIN_FOODS
        and not _MADE_UP & {*thing(food).split(), *food.partition(",")[2].lower().split()}
        for food in foods
    )


def _looks_alike(item: str, allergen: str) -> bool:
    return any(name == allergen and find(item, looks_alike) for name, _, _, looks_alike in _table())


def _in(words: str) -> tuple[str, ...]:
    found = []
    claimed = {name for claim in _FREE_FROM.finditer(words) for name in _CLAIMED[claim[1].lower()]}
    for name, these, may_be, _ in _table():
        match = find(words, these) and find(_FREE_FROM.sub("-", words), these)
        if match:
            may = one(match.keyword) in may_be or name in claimed
            found.append(f"{name}?" if may else name)
    return tuple(found)


@cache
def _table() -> tuple[tuple[str, Keywords, frozenset[str], Keywords], ...]:
    made = []
    for row in rows("major_allergens"):
        name = row["allergen"]
        these = keywords(row["keywords"], f"{row['not_keywords']};{_NOT_EITHER.get(name, '')}")
        may_be = set(keywords(_MAY_BE.get(name, "")).words)
        first = _MAY_FROM.get(name)
        if first in these.words:
            may_be |= set(these.words[these.words.index(first) :])
        made.append((name, these, frozenset(map(one, may_be)), Keywords(these.masked)))
    return tuple(made)
