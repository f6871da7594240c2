"""Foods that a step puts in and no line of the card lists: "a grating of nutmeg"."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from recipebox.cards.model import Card
from recipebox.cards.things import is_known, part_in_dish, thing
from recipebox.compare.naming import step_names
from recipebox.compare.words import head_word, plain

# All word lists below: common practice, no source.
# What stands in a step without being meant as one more thing: what greases, seasons and boils, what the dish itself or
# a part of it is called, and words for several things.
_DISH_AND_STAPLES = """
    water salt pepper oil butter flour ice spray fat cream juice liquid sauce dressing marinade filling topping glaze
    icing frosting dough batter pastry crust syrup gravy soup stew bread cake pie cookie biscuit bun roll loaf custard
    pudding jam crumb breadcrumb spice herb seasoning cheese meat fish vegetable green fruit berry nut seed bean pasta
    noodle curry salad sandwich pizza chip caramel candy heart candies sugar toast stock broth mix tea coffee sprinkle
"""
_MEANT_OTHERWISE = frozenset(_DISH_AND_STAPLES.split())
_TOOL = (
    r"(?:press|masher|cooker|cutter|stone|knife|sheet|tin|pan|plate|dish|brush|bag|pot|bowl|spoon|towel|mould|mold|rack"
    r"|mill|grinder|cup|glass|basket|spinner|peeler|slicer|cloth|wash|siz\w+|colou?r\w*|ball|bath|stick|shaped?)"
)
_SENTENCE = re.compile(r"[^.!?;]+")
_WORD = re.compile(r"[a-z]+")
# What shows that a food goes in here, and is not only spoken of: how much of it, or the bidding to put it in.
_PUT_IN = re.compile(
    r"\b(?:(?:a|an|some|one|two|three|few|\d\S*) (?:\w+ )?(?:pinch|dash|squeeze|grating|handful|drizzle|splash"
    r"|sprinkling|sprig|knob|scraping|drop|dollop|teaspoon|tablespoon|spoonful|cup|tsp|tbsp|clove)(?:e?s)?(?: of)?"
    r"|(?:add|sprinkle|scatter|drizzle|squeeze|grate|stir in|whisk in|mix in|fold in|beat in|pour in|throw in|toss in"
    r"|top with|garnish with|finish with|flavou?r with|sprinkle with|scatter with|dust with)(?: over| on| in)?)"
    r"(?: (?:a little|the|a|an|some|fresh\w*|dried|chopped|grated|ground|of|more|extra|good|bit))*(?= [a-z])"
)
_OTHERWISE_SAID = re.compile(r"\b(?:serve|serves|served|eat|enjoy|instead|without|unless|no|not|if|or|like)\b")
_BEFORE_A_TOOL = re.compile(rf"[a-z]+(?=[ -]{_TOOL}\b)")
_LONGEST = 3  # words of a food's name


def unlisted(card: Card) -> list[frozenset[str]]:
    """For each step, the common names of foods that it speaks of and no line lists.

    Only what the tables know is seen, where it is bidden to put it in or said how much. Cautious: a word that may stand
    for a listed thing, or for the dish itself, is none. A card without a list has none.
    """
    if not card.ingredients:
        return [frozenset() for _ in card.steps]
    listed = [thing(item) for line in card.ingredients for item in line.items or (line.item or line.text,)]
    words = {word for name in listed for word in name.split()}
    words |= {word for line in card.ingredients for word in _words(line.text)}
    told = [line for line in card.ingredients if any(step_names(step.text, line) for step in card.steps)]
    # A listed thing that no step names may be what a step means under another name.
    unnamed = {part_in_dish(line.item) for line in card.ingredients if line not in told} - {None}
    found = []
    for step in card.steps:
        foods = {food for food in _foods(step.text) if part_in_dish(food) not in unnamed}
        found.append(frozenset(food for food in foods if not words.intersection(food.split())))
    return found


def _foods(step: str) -> Iterator[str]:
    for sentence in _SENTENCE.findall(_BEFORE_A_TOOL.sub("", plain(step))):
        if not _OTHERWISE_SAID.search(sentence):
            for put_in in _PUT_IN.finditer(sentence):
                yield from _foods_from(_WORD.findall(sentence[put_in.end() :]))


def _foods_from(words: Sequence[str]) -> Iterator[str]:
    """The foods that stand at the beginning, joined by "and"."""
    at = 0
    while at < len(words):
        for many in range(min(_LONGEST, len(words) - at), 0, -1):
            name = _food(" ".join(words[at : at + many]))
            if name is not None:
                yield name
                at += many
                break
        else:
            return
        if words[at : at + 1] != ["and"]:
            return
        at += 1


@lru_cache(maxsize=65536)
def _food(words: str) -> str | None:
    name = thing(words)
    if len(words) < 3 or not is_known(words) or head_word(name) in _MEANT_OTHERWISE:
        return None
    # "large lemon" is found as "lemon": what is found must not begin or end with other words.
    return name if words.count(" ") == name.count(" ") else None


def _words(text: str) -> set[str]:
    return {word for part in _WORD.findall(plain(text)) for word in (part, thing(part))}
