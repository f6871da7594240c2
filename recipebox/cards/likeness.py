"""How much a bare line looks like an ingredient line. Word lists: common practice, no source."""

import re

from recipebox.cards.headings import is_heading
from recipebox.cards.lineparts import cut_parts
from recipebox.cards.marks import plain, unbulleted
from recipebox.cards.measured import read_measured
from recipebox.cards.preparations import split_preparation
from recipebox.cards.things import is_known, part_in_dish
from recipebox.cards.unitwords import is_container, is_measure
from recipebox.cards.wordlists import listed

_VERBS = listed(
    """add allow arrange assemble bake baste beat blanch blend boil braise bring broil brown brush carve chill chop
    coat combine cook cool cover cream crumble cut dice dip discard dissolve divide drain drizzle drop dust
    enjoy     fill finish flatten flip fold form freeze fry garnish get give glaze grate grease grill grind heat
    keep knead ladle     lay     layer leave let lift line lower make marinate mash measure melt microwave mix
    move open peel pierce pinch place     poke pop pour preheat prepare press process puree push put reduce
    refrigerate reheat remove repeat reserve rest     return     rinse roast roll rub sauté saute scatter scoop
    scrape sear season separate serve set shake shape shred sift simmer     skim slice soak spoon spread
    sprinkle squeeze stand start steam stir store strain stuff take taste thaw then throw     toast top toss
    transfer trim turn use wait warm wash watch weigh whip whisk wipe work wrap do don't"""
)
_WHEN = listed(
    """when while once after before until if meanwhile next finally first second lastly as in using with to now
    repeat i we you he she they it this these that there here my our your dear hello hi thanks thank love note
    notes tip tips ps nb recipe from by source yield yields serves makes servings serving prep total time
    preparation"""
)
_DISHES = listed(
    """bake bakes pie pies gratin soup soups stew loaf loaves bread breads cake cakes tart tarts casserole
    casseroles     salad pickles pickle dumplings cookies biscuits pancakes roast curry chili pudding
    puddings crumble crisp cobbler muffins     scones buns rolls lasagna lasagne quiche hotpot ragout goulash
    risotto pilaf omelette omelet fritters sauce dip"""
)
_FINITE = re.compile(
    r"\b(?:is|are|was|were|will|should|can|could|would|have|has|had|do|does|don't|i|you|we|it|they|them|this"
    r"|that|until|then|minutes?|mins?|hours?|hrs?|degrees|oven|preheat\w*|bowl|skillet|saucepan|serves?|servings?"
    r"|yields?|calories|inches from|stirring|people)\b|°|º",
    re.IGNORECASE,
)
_NUMBERED_STEP = re.compile(r"\s*(?:step\s*)?\d{1,2}\s*[.):]\s+(?=[A-Z])", re.IGNORECASE)
_TIME = re.compile(
    r"(?:about\s+)?\d+\s*(?:-\s*\d+\s*)?(?:(?:min|minute|hour|hr|degree|serving|serve)s?\b|°|people|[fc]\b(?=\.?$))",
    re.IGNORECASE,
)
_SIDE_NOTE = re.compile(
    r"[,(\s]\s*(?:to taste|optional|to (?:serve|garnish|decorate|taste)|as needed|divided|melted|softened|chopped"
    r"|for (?:garnish|serving|greasing|dusting|frying|topping|sprinkling|coating|brushing|deco\w+)"
    r"|grated|sliced|diced|minced|peeled)\b",
    re.IGNORECASE,
)
# A number or nothing, then a word of doing with its article: "2 Add the rest", "Squeeze the lemon", "Gently fold in".
_ORDER = re.compile(
    r"\d{1,2}\s+(?:[a-z]+ly\s+)?(?-i:[A-Z])[a-z]+\b"
    r"|(?:\d{1,2}\s+)?(?:[a-z]+ly\s+)?(?:[a-z]+\s+(?:the|in|into|to|up|all|with)\b)",
    re.IGNORECASE,
)
_SENTENCES = re.compile(r"[.!?]\s+[A-Z]")
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")


def ingredient_likeness(text: str) -> float:
    """How much a bare line looks like an ingredient line, from 0 (a step, a heading, chatter) to 1.

    0.5 is the cut: above it a line is more likely an ingredient than not.
    """
    words = plain(unbulleted(text))[:400]
    spoken = _WORD.findall(words)
    if not spoken:
        return 0.0
    told = next((word.lower() for word in spoken if not word.lower().endswith("ly")), "")
    numbered = _NUMBERED_STEP.match(words) or (told in _VERBS and _ORDER.match(words))
    measured = read_measured(words)
    if is_heading(words) and measured.amount is None:
        return 0.05
    doubt = _sentence_doubt(words, spoken)
    if numbered:
        doubt += 0.5
    if measured.amount is not None and not numbered:
        start = 0.75 + 0.2 * (measured.unit is not None and _fits(measured.unit))
        if _TIME.match(words):
            start = 0.2
        return _between(start + 0.1 * _names_food(words[measured.end :]) - doubt)
    if told in _VERBS or spoken[0].lower() in _WHEN:
        # "Cream" and "Butter" are both: a short line that names a food is one
        known = len(spoken) <= 3 and _names_food(words) == 1 and not words.rstrip().endswith(".")
        return _between(0.55 - doubt if known else 0.15 - doubt)
    food = _names_food(words)
    start = 0.25 + 0.5 * food
    if spoken[-1].lower() in _DISHES and sum(word[:1].isupper() for word in spoken) > 1:
        start -= 0.4  # "Leek and Potato Gratin" is a title
    if _SIDE_NOTE.search(words):
        start += 0.2
    if any(character.isdigit() for character in words[-12:]) and food:
        start += 0.1
    if len(spoken) > 6:
        start -= 0.1
    return _between(start - doubt)


def _fits(unit: str) -> bool:
    return is_measure(unit) or is_container(unit) or unit in ("clove", "slice", "pinch", "stick", "bunch", "sprig")


def _sentence_doubt(words: str, spoken: list[str]) -> float:
    """What speaks for a sentence: length, a full stop behind many words, finite verbs and pronouns, times and heats."""
    outside = re.sub(r"\([^()]*\)", " ", words)
    doubt = 0.0
    if len(spoken) > 5 and words.rstrip("\"' )").endswith((".", "!", "?")):
        doubt += 0.3
    doubt += min(0.5, 0.17 * len(_FINITE.findall(outside)))
    if len(spoken) > 14:
        doubt += 0.03 * (len(spoken) - 14)
    if _SENTENCES.search(outside):
        doubt += 0.2
    return doubt


def _names_food(words: str) -> float:
    """1 if the name of the line is a food we know, 0.6 if its last word is, 0 otherwise."""
    head = cut_parts(words.lstrip(" -:.")[:160])[0].text
    name, _ = split_preparation(head)
    name = name.split(" and ")[0].split(" & ")[0]
    if is_known(name):
        return 1.0
    return 0.6 if part_in_dish(name) is not None and len(name.split()) < 6 else 0.0


def _between(value: float) -> float:
    return max(0.0, min(1.0, value))
