"""Allergens that an item's words hint at, and what a swap changes. A hint, never a verdict: labels decide."""

from functools import cache, lru_cache

from recipebox.cards.things import thing
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
    """
    before, after = set(allergens(item)), set(allergens(instead))
    brings = (name for name in allergens(instead) if name not in before and name.rstrip("?") not in before)
    takes = (name for name in allergens(item) if not {name.rstrip("?"), name.rstrip("?") + "?"} & after)
    return tuple(brings), tuple(takes)


def _in(words: str) -> tuple[str, ...]:
    found = []
    for name, these, may_be, _ in _table():
        match = find(words, these)
        if match:
            found.append(f"{name}?" if one(match.keyword) in may_be else name)
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
