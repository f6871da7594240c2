"""A family recipe judged from its text alone, with food words of its own: nothing of the code that made it is asked.

What each word means is common practice, no source. `judge` gives a line per fault, an empty list for a sound card.
"""

import re
from collections.abc import Mapping

_NAMES = {
    "stock": r"(?:beef |chicken |vegetable )?(?:stock|broth|bouillon)(?: cubes?)?",
    "tomato paste": r"tomato (?:paste|pur[eé]e)",
    "tomato": r"tomato(?:es)?",
    "onion powder": r"onion (?:powder|salt|flakes)",
    "garlic powder": r"garlic (?:powder|salt)",
    "onion": r"onions?|shallots?",
    "garlic": r"garlic",
    "mince": r"(?:beef |lamb )?mince|hamburger|(?:ground|minced) (?:beef|lamb)|(?:ground )?turkey",
    "chicken": r"chicken(?: thighs| breasts?)?",
    "beef": r"beef|chuck",
    "bean": r"(?:kidney |black |pinto )?beans",
    "chili powder": r"chill?i powder",
    "cumin": r"cumin",
    "bell pepper": r"(?:red |green |bell )+peppers?",
    "pepper": r"(?:black )?pepper",
    "salt": r"salt",
    "oil": r"(?:olive |vegetable )?oil",
    "butter": r"butter",
    "ricotta": r"ricotta",
    "mozzarella": r"mozzarella",
    "parmesan": r"parmesan",
    "cheddar": r"cheddar",
    "cream": r"(?:double |heavy )?cream(?! the)",
    "milk": r"milk",
    "egg": r"eggs?",
    "flour": r"flour",
    "brown sugar": r"brown sugar",
    "icing sugar": r"icing sugar",
    "sugar": r"sugar",
    "apple": r"apples?",
    "lemon": r"lemon(?: juice)?",
    "raisin": r"raisins",
    "cinnamon": r"cinnamon",
    "nutmeg": r"nutmeg",
    "carrot": r"carrots?",
    "celery": r"celery",
    "potato": r"potato(?:es)?|spuds",
    "mushroom": r"mushrooms?",
    "bacon": r"bacon",
    "wine": r"(?:red |white )?wine",
    "bay leaf": r"bay(?: lea(?:f|ves))?",
    "thyme": r"thyme",
    "parsley": r"parsley",
    "coriander": r"coriander",
    "garam masala": r"garam masala",
    "turmeric": r"turmeric",
    "yogurt": r"yogh?urt",
    "lasagne": r"lasagn[ea](?: sheets| noodles)?|sheets|noodles",
    "spinach": r"spinach",
    "rice": r"rice",
}
_FOODS = re.compile(
    "|".join(f"(?P<n{at}>\\b(?:{words})\\b)" for at, words in enumerate(_NAMES.values())), re.IGNORECASE
)
_ALL_OF_IT = re.compile(
    r"\b(?:mix all|everything|the rest|add rest|dry ingredients|all ingredients|the dough)\b", re.IGNORECASE
)
_GENERAL = {"meat": {"mince", "beef", "chicken"}, "cheese": {"cheddar", "parmesan", "mozzarella", "ricotta"}}
_ALSO = {"beef": "mince"}  # "brown the beef"
_SECTIONS = ("Ingredients", "Method", "Some add", "Variations", "Swaps", "Notes", "Versions")


def foods(text: str) -> list[str]:
    """The foods a text names, in order, the longest name at each place."""
    names = list(_NAMES)
    return [names[int((match.lastgroup or "n0")[1:])] for match in _FOODS.finditer(text)]


def heats(text: str) -> set[str]:
    """Oven figures: three digits before a degree sign, F, C, a comma or "for", or after "oven", "bake" or "at"."""
    found = re.findall(r"(?i)(?:oven|bake|at|to)\s+(?:to |at )?(\d{3})\b|\b(\d{3})\s?(?:°|[FC]\b|/)", text)
    return {one or other for one, other in found}


def bake_times(text: str) -> set[str]:
    """Minutes or hours in sentences that bake."""
    baking = [one for one in re.split(r"(?<=[.!])\s+|\n", text) if re.search(r"(?i)\bbake|\boven\b", one)]
    return {time for one in baking for time in re.findall(r"(?i)(\d+)(?:-\d+)? (?:min|hour)", one)}


def judge(made: str, versions: Mapping[str, str], base: str) -> list[str]:
    """What is wrong with a family recipe made of these versions' texts, the base's by name."""
    parts = _parts(made)
    groups: dict[str, list[str]] = {}
    group = ""
    for line in parts["Ingredients"]:
        if line.startswith("  "):
            groups.setdefault(group, []).append(line.strip())
        elif line.strip():
            group = line.strip()
    listed = [line for lines in groups.values() for line in lines]
    have = {food for line in listed for food in foods(line)}
    method = "\n".join(parts["Method"])
    wrong = []
    for lines in groups.values():
        core = [food for line in lines for food in set(foods(line.split(" or ")[0]))]
        wrong += [f"twice: {food}" for food in sorted(set(core)) if core.count(food) > 1]
    for name, text in versions.items():
        for food in foods("\n".join(line for line in text.splitlines() if re.match(r"\W*\d+(?![.\d]* ?[.)])", line))):
            if food not in foods(made):
                wrong.append(f"lost: {food} of {name}")
    wrong += [f"missing: {food}" for food in dict.fromkeys(foods(method)) if not have & {food, _ALSO.get(food)}]
    spoken = set(foods(method)) | {food for word, of in _GENERAL.items() if word in method.lower() for food in of}
    wrong += [
        f"in no step: {line}"
        for line in listed
        if foods(line) and "to serve" not in line and not set(foods(line)) & spoken and not _ALL_OF_IT.search(method)
    ]
    head = "\n".join(parts[""])
    for what, found in (("oven", heats), ("time", bake_times)):
        if found(f"{head}\n{method}") != found(versions[base]):
            wrong.append(f"{what}: {sorted(found(method))} for {sorted(found(versions[base]))}")
    wrong += [f"stutter: {match[0]}" for match in re.finditer(r"(?i)\b([a-z]+) \1\b", method)]
    wrong += [
        f"dangling: {match[0]}" for match in re.finditer(r"(?:\b(?:the|with|and|in|of)[.,;]|, ,|\band and\b)", method)
    ]
    below = [line.strip() for part in ("Some add", "Ingredients") for line in parts[part]]
    wrong += [f"half an egg: {line}" for line in below if re.match(r"(?:\d+ )?\d/\d (?:\w+ )?eggs?\b", line)]
    return wrong


def _parts(text: str) -> dict[str, list[str]]:
    parts: dict[str, list[str]] = {name: [] for name in ("", *_SECTIONS)}
    at = ""
    for line in text.split("\n"):
        if line in _SECTIONS:
            at = line
        else:
            parts[at].append(line)
    return parts


def named_as(text: str) -> dict[str, str]:
    """The foods a text names, each with the words it is first named by."""
    found: dict[str, str] = {}
    for match in _FOODS.finditer(text):
        food = foods(match[0])[0]
        if _ALSO.get(food) not in found:
            found.setdefault(food, match[0].lower())
    return found
