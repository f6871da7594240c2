"""The name of what to buy, found in the words behind the measure. Word lists: common practice, no source."""

import re

from recipebox.cards.amounts import read_amount
from recipebox.cards.lineparts import Part
from recipebox.cards.measured import only_measure, read_measured
from recipebox.cards.preparations import is_done, is_preparation, is_quality, split_preparation
from recipebox.cards.things import is_known
from recipebox.cards.unitwords import read_unit
from recipebox.cards.wordlists import listed

OR = re.compile(
    r"^(?:or|and/or|alternatively|(?:you )?can (?:be )?substitut\w+(?: with| for)?|substitute|sub)\b[\s,:]*",
    re.IGNORECASE,
)
# What follows an "or" without being something else to buy: "or more to taste".
NO_ALTERNATIVE = re.compile(
    r"(?:more|less|so|to\s+taste|as|if|until|whatever|however|any|other|your|you|try|use\s+whatever|just|enough"
    r"|for\s+a|equivalent|to\s+your|a\s+(?:little|bit|few|mix)|thereabouts|not|cut|both)\b",
    re.IGNORECASE,
)
_PHRASE = re.compile(r"(?:for|to|plus|optional)\b", re.IGNORECASE)
_AND = re.compile(r"\s+(?:and|&|plus|\+)\s+", re.IGNORECASE)
_ONE_THING = re.compile(
    r"\b(?:half|sweet|mac|macaroni|pork|bread|oil|hot|fish|peaches|cookies|surf|lemon|chilli|chili|sage|cream|ham|tomato|hundreds)"
    r"\s+(?:and|&|n)\s+(?:half|sour|cheese|beans|butter|vinegar|chips|cream|turf|pepper|garlic|onion|chives?|herbs?|basil|thousands)\b",
    re.IGNORECASE,
)
_BEHIND = re.compile(r"(?:\s|^)(?:[x×]\s?)?(?=[\d½⅓⅔¼¾⅛⅜⅝⅞~])")
_COUNTED = listed(
    "clove cloves slice slices stick sticks stalk stalks rib ribs sprig sprigs fillet fillets filets leaf leaves sheet "
    "sheets strand strands head heads bulb bulbs ear ears rasher rashers wedge wedges"
)
_NOT_COUNTED = {
    "leaf": {"bay"},
    "leaves": {"bay"},
    "sticks": {"pop", "bread", "fish", "popsicle", "mozzarella", "carrot"},
    "ribs": {"short", "spare", "baby", "back", "beef", "pork", "lamb"},
    "head": {"sheep's", "fish"},
}
# "chicken or vegetable stock": both are stock. By the shared word, what may stand before "or".
_KINDS = {
    "chicken vegetable beef fish veal ham turkey lamb mushroom seafood pork": "stock broth bouillon soup cubes gravy",
    "vegetable canola olive sunflower peanut corn rapeseed grapeseed sesame coconut avocado safflower": "oil",
    "red white cider balsamic rice malt sherry apple wine": "wine vinegar",
    "red white yellow green brown spring sweet orange": "onion onions pepper peppers potato potatoes apples chillies",
    "plain bread wholemeal wheat rye spelt cake": "flour",
    "black pinto kidney navy cannellini white butter": "beans",
    "heavy double single whipping light sour": "cream",
    "whole skim skimmed semi-skimmed soy almond oat": "milk",
    "brown white caster granulated demerara": "sugar rice bread",
    "cheddar swiss parmesan gruyere colby mozzarella romano jack": "cheese",
    "lemon lime orange pineapple apple": "juice zest",
    "ground minced": "beef turkey pork chicken lamb",
    "walnut pecan almond": "halves pieces",
    "beef lamb pork turkey veal": "mince",
}
_SHARED = {noun: set(kinds.split()) for kinds, nouns in _KINDS.items() for noun in nouns.split()}


def whole_name(parts: list[Part]) -> tuple[str, list[Part]]:
    """The name and the parts that are left.

    What follows the first comma belongs to the name when only qualities stand before it ("large, ripe tomatoes"), and
    a noun shared by two alternatives is given to both ("chicken or vegetable stock").
    """
    name, rest = parts[0].text, parts[1:]
    if rest:
        rest = _listed_alternatives(rest)
    if name and is_done(name) and rest and rest[0].kind == "comma" and is_known(split_preparation(rest[0].text)[0]):
        name, rest = f"{name} {rest[0].text}", rest[1:]  # "peeled, sliced apples"
    if not name or is_quality(name):
        name, rest = _named_later(name, rest)
    for part in rest[:1]:  # "red or white wine" has its noun by now
        shared = _shared_noun(name, part) if part.kind == "or" else ""
        if shared:
            name = f"{name} {shared}"
    return name, rest


def amount_behind(name: str) -> tuple[str, str] | None:
    """Name and measure where the measure stands last: "Flour 2 cups"."""
    for start in list(_BEHIND.finditer(name[:300]))[:6]:
        if start.start() > 0 and only_measure(name[start.end() :]):
            return name[: start.start()].rstrip(" -:."), name[start.end() :]
    return None


def counted(name: str) -> tuple[str, str] | None:
    """Name and unit where a counting word stands behind the name: "garlic cloves", "cinnamon sticks"."""
    words = name.split()
    if len(words) < 2 or words[-1].lower() not in _COUNTED:
        return None
    last = words[-1].lower()
    before = words[-2].lower()
    if before == "of" or before.isdigit() or before in _NOT_COUNTED.get(last, set()):
        return None
    unit = read_unit(last)
    return (" ".join(words[:-1]), unit[0]) if unit else None


def split_items(name: str, listed: list[str]) -> tuple[str, tuple[str, ...]]:
    """The name without amounts inside it, and what a shop sells, one each: "salt and 1/2 tsp pepper"."""
    if not name:
        return "", ()
    things = [name]
    if _AND.search(name) and not is_one_thing(name):
        halves = [half.strip(" ,") for half in _AND.split(name)]
        if len(halves) > 1 and all(halves) and not any(is_quality(half) for half in halves):
            things = [halves[0], *(_without_amount(half) for half in halves[1:])]
            if things[1:] != halves[1:]:
                name = " and ".join(things)
        elif len(halves) == 2 and is_quality(halves[0]) and (kind := _without_amount(halves[1])) != halves[1]:
            things = [f"{halves[0]} {behind_qualities(kind)}", kind]  # "1 red and 1 green pepper"
            name = f"{halves[0]} and {kind}"
    for item in listed:
        things += [half.strip() for half in _AND.split(re.sub(r"^(?:and|&)\s+", "", item)) if half.strip()]
    return name, tuple(things)


def is_one_thing(name: str) -> bool:
    """Whether a name with "and" in it is one thing all the same: "half and half"."""
    return _ONE_THING.search(name) is not None


def _without_amount(words: str) -> str:
    measured = read_measured(words)
    return words[measured.end :].strip() or words


def _named_later(name: str, rest: list[Part]) -> tuple[str, list[Part]]:
    """A name after qualities, or in the first bracket or comma part of a line that begins without one."""
    for number, part in enumerate(rest):
        if part.kind == "comma" and not only_measure(part.text) and not OR.match(part.text):
            if is_quality(part.text) or (is_preparation(part.text) and not _names_food(part.text)):
                if name and number + 1 < len(rest):
                    continue
                break
            between = [p.text for p in rest[:number] if p.kind == "comma"]
            joined = ", ".join([name, *between, part.text]).strip(", ")
            return joined, [p for p in rest[:number] if p.kind != "comma"] + rest[number + 1 :]
        if part.kind == "or" and name and not read_amount(part.text):
            noun = behind_qualities(part.text)
            if noun == part.text and " " in noun and " " not in name:
                noun = noun.split(" ", 1)[1]  # "heavy or thickened cream"
            return (f"{name} {noun}", rest) if noun else (name, rest)
        if part.kind == "bracket" and not name and not only_measure(part.text) and not is_preparation(part.text):
            return part.text, rest[:number] + rest[number + 1 :]
    return name, rest


def _names_food(text: str) -> bool:
    """Whether a part that sounds like preparation ends in a food: "skin-on chicken thighs"."""
    name, behind = split_preparation(text)
    return not behind and not is_quality(name.rpartition(" ")[2]) and is_known(behind_qualities(name))


def behind_qualities(text: str) -> str:
    """The words without those that only say what kind before them: "large, ripe tomatoes" are tomatoes."""
    words = text.split()
    for number, word in enumerate(words):
        if not is_quality(word):
            return " ".join(words[number:])
    return ""


def _shared_noun(name: str, part: Part) -> str:
    words = part.text.lower().split()
    if not words or not name:
        return ""
    last = words[-1].strip(".")
    kinds = _SHARED.get(last, set())
    if name.split()[-1].lower() in kinds - {last} and words[0] not in _SHARED and len(words) > 1:
        return part.text.split()[-1]
    return ""


def _listed_alternatives(rest: list[Part]) -> list[Part]:
    """In "cheddar, gruyère or fontina" the middle ones are alternatives too."""
    last = next((number for number, part in enumerate(rest) if part.kind == "or" or OR.match(part.text)), 0)
    if last and NO_ALTERNATIVE.match(OR.sub("", rest[last].text)):
        return rest
    before = rest[:last]
    if last and all(p.kind == "comma" and len(p.text.split()) <= 3 and not _says_more(p.text) for p in before):
        return [Part("or", p.text) for p in before] + rest[last:]
    return rest


def _says_more(text: str) -> bool:
    """Whether a part is no other thing to buy, but says how much, what kind, what for or what to do."""
    told = _PHRASE.match(text) is not None or is_preparation(text) or is_quality(text)
    return told or only_measure(text) is not None
