"""Sentences of a method: splitting them, finding where an ingredient is named, taking it out and putting it in."""

import re

from recipebox.cards.model import Ingredient
from recipebox.cards.things import thing
from recipebox.family.model import part_of

_END = re.compile(r"(?<=[.!?])[\"')”’]?\s+(?=[\"'(“‘]?[A-ZÀ-ÞŁŚŻ0-9½¼¾])")
_ABBREVIATED = re.compile(
    r"\b(?:approx|no|ca|vs|st|mrs?|dr|e\.g|i\.e|tsp|tbsp|oz|lbs?|c|qts?|pts?|pkgs?)\.$", re.IGNORECASE
)
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")
_S_AND_P = re.compile(r"\bS\s?(?:&|\+)\s?P\b", re.IGNORECASE)
_MADE_OF = re.compile(r"\s+(broth|stock|bouillon|soup|powder)s?\b", re.IGNORECASE)
_SHORTEST = 4  # letters of a word that may be another name of a thing
_NEAR = 80  # characters before an item in which its "half of the" may stand
_LEAD = (
    r"(?:(?:all|half|most|some|both|the|a|an|of|your|rest|remaining|other|little|bit|pinch|cup|cups|spoon|clove|cloves"
    r"|\w+-quarters|quarters?|thirds?|handful|splash|squeeze(?= of)|can|tin"
    r"|cooked|chopped|sliced|diced|grated|minced|drained|crumbled|beaten|\w+[^\Waeiou]ed"
    r"|\w+ly|last|first|then|\d+[\d/ ]*(?:\s?(?:g|ml|tsp|tbsp|cups?|teaspoons?|tablespoons?))?)\s+)*"
)
# Words that describe an item in a list but by themselves name nothing: common practice, no source.
_WEAK = frozenset(
    re.split(
        r"\s+",
        "white black red green yellow brown fresh dried dry ground large small medium whole plain all- "
        "purpose all purpose chopped sliced grated diced crushed minced peeled raw ripe hard soft mature "
        "young old fine coarse hot cold warm frozen canned tinned tin can condensed semi-skimmed skimmed "
        "semi unsalted salted extra virgin mixed of in and or with the a an for to pieces rolled juice "
        "zest cooked melted sweet baby free range low fat heavy light dark thick thin strong good quality "
        "smoked boneless skinless pale part stalk stick piece clove bunch cream powder sauce golden caster granulated "
        "superfine icing streaky kosher sea table lean streak level strong mix mini big good pack packet bag box jar",
    )
)
# Names that only their last word tells, and what else it is called: "the beef" is not the beef broth.
_BY_LAST: dict[str, tuple[str, ...]] = {
    "broth": ("stock",),
    "stock": ("broth",),
    "cube": ("stock", "bouillon", "broth"),
    "bouillon": ("stock", "broth"),
    "paste": (),
    "sauce": (),
    "soup": (),
    "oil": (),
    "puree": (),
    "purée": (),
}


def sentences(text: str) -> list[str]:
    """The sentences of a step, whole and in order; a figure or abbreviation with a dot ends none."""
    found: list[str] = []
    for piece in _END.split(text.strip()):
        if found and _ABBREVIATED.search(found[-1]):
            found[-1] += " " + piece
        elif piece.strip():
            found.append(piece.strip())
    return found


def calm(text: str) -> str:
    """Words that do not shout: a text all in capitals in small letters, each sentence opening with a capital.

    Letters that stand alone keep their size: T is a tablespoon, t a teaspoon, F and C are degrees. S & P is salt and
    pepper.
    """
    text = _S_AND_P.sub(lambda at: "SALT AND PEPPER" if text.isupper() else "salt and pepper", text)
    if not text.isupper():
        return text
    low = re.sub(r"[^\W\d_]{2,}(?:['’][^\W\d_]+)?", lambda word: word.group().lower(), text)
    low = re.sub(r"(?<=[a-z,] )A(?= [a-z0-9])", "a", low)
    opening = re.compile(r"^[a-z]|(?<=[.!?] )[a-z]")
    return opening.sub(lambda at: at[0] if _ABBREVIATED.search(low[: at.start()].rstrip()) else at[0].upper(), low)


def said(sentence: str) -> str:
    """What two sentences have in common when they are the same words, whatever their case and punctuation."""
    return " ".join(re.findall(r"[^\W_]+", sentence.casefold()))


def mentions(text: str, ingredient: Ingredient) -> list[tuple[int, int]]:
    """Where a text names an ingredient: (start, end) of each run of its words, at least one of them telling."""
    forms = [form for name in (ingredient.item, *ingredient.items) if name for form in (name, thing(name))]
    full: set[str] = set()
    telling: set[str] = set()
    for form in forms:
        # "whole-milk ricotta" is not the milk
        words = [stem(word) for word in _WORD.findall(re.sub(r"\S+-\S+\s+(?=\w)", "", form.split(",")[0]))]
        full.update(words)
        if words and (also := _BY_LAST.get(words[-1])) is not None:
            telling |= {words[-1], *also}
            # The marinara is the marinara sauce; the tomatoes are not the tomato sauce.
            telling |= {word for word in words if thing(word) == thing(form)}
        else:
            strong_ones = {word for word in words if word not in _WEAK}
            telling |= strong_ones | (set() if words[-1:] == ["mix"] and strong_ones else set(words[-1:]))
    commons = {thing(name) for name in (ingredient.item, *ingredient.items) if name}
    full |= telling | {stem(word) for word in [part_of(ingredient)] if word}
    spans: list[list[int]] = []
    strong: list[bool] = []
    for word in _WORD.finditer(text):
        found = stem(word.group())
        if (made_of := _MADE_OF.match(text, word.end())) and stem(made_of[1]) not in full:
            continue  # "chicken broth" is not the chicken
        if found not in full:
            if len(found) < _SHORTEST or thing(found) not in commons:
                continue
            telling.add(found)  # "mayo", "taters"
        if spans and text[spans[-1][1] : word.start()] in (" ", "-"):
            spans[-1][1] = word.end()
            strong[-1] = strong[-1] or found in telling
        else:
            spans.append([word.start(), word.end()])
            strong.append(found in telling)
    return [(start, end) for (start, end), tells in zip(spans, strong, strict=True) if tells]


def stems(text: str) -> set[str]:
    """The stems of a text's words."""
    return {stem(word) for word in _WORD.findall(text)}


def stem(word: str) -> str:
    """A word without its plural, lower case; joined spellings of crumbs count as one word."""
    low = word.casefold().replace("’", "'").removesuffix("'s")
    low = {"breadcrumbs": "crumb", "breadcrumb": "crumb"}.get(low, low)
    if len(low) > 4 and low.endswith("ies"):
        return low[:-3] + "y"
    if low.endswith(("oes", "shes", "ches", "xes", "sses")):
        return low[:-2]
    if low in ("leaves", "loaves", "halves"):
        return low[:-3] + "f"
    if len(low) > 3 and low.endswith("s") and not low.endswith(("ss", "us", "is")):
        return low[:-1]
    return low


def without(sentence: str, spans: list[tuple[int, int]]) -> str | None:
    """The sentence with an item taken out of the lists it stands in; None where it stands in none.

    "Season with the nutmeg, salt and pepper." without nutmeg is "Season with the salt and pepper."
    """
    for start, end in sorted(spans, reverse=True):
        shorter = _without_one(sentence, start, end)
        if shorter is None:
            return None
        sentence = shorter
    return sentence


def without_clause(sentence: str, spans: list[tuple[int, int]]) -> str | None:
    """The sentence without the clause, after a comma, that an item stands in; None where it opens the sentence."""
    start, end = spans[0]
    opening = max(sentence.rfind(", ", 0, start), sentence.rfind("; ", 0, start))
    closing = re.search(r"[,;.!?](?:\s|$)|$", sentence[end:])
    if len(spans) != 1 or opening < 0 or closing is None:
        return None
    rest = sentence[end + closing.start() :]
    verb = re.match(r"(?:and\s+|then\s+)*(" + VERBS + r")\b", sentence[opening + 2 :], re.IGNORECASE)
    goes_on = re.match(r",\s+(?:(?:then|and)\s+)?(?!(?:and|then|" + VERBS + "|" + _NO_THING + r")\b)(?=[a-z])", rest)
    if verb and goes_on:  # "add the bay leaf, then the onions": the onions are still added
        return f"{sentence[: opening + 2]}{verb.group()} {rest[goes_on.end() :]}"
    return sentence[:opening] + rest


def without_opening(sentence: str, spans: list[tuple[int, int]]) -> str | None:
    """The sentence without its opening clause, in which an item stands ("Grate the nutmeg over, then bake."); None
    where nothing follows that stands by itself."""
    rest = re.match(
        r"[^,;]*[,;]\s+(?:and\s+|then\s+)*(?=(?:" + VERBS + r")\b)", sentence[spans[-1][1] :], re.IGNORECASE
    )
    if rest is None or "," in sentence[: spans[0][0]]:
        return None
    after = sentence[spans[-1][1] + rest.end() :]
    if _HANGING.match(after) or after.count(" ") < 2:
        return None
    return after[:1].upper() + after[1:]


def without_sign(sentence: str, spans: list[tuple[int, int]]) -> str | None:
    """The sentence without the sign of doneness an item stands in ("or until the fish flakes"), where it gives a time
    besides; else None."""
    sign = re.search(r",?\s+(?:or\s+)?(?:until|till)\b[^.;!?]*", sentence)
    if sign is None or not all(sign.start() <= start and end <= sign.end() for start, end in spans):
        return None
    left = sentence[: sign.start()] + sentence[sign.end() :]
    return left if re.search(r"\d", left) else None


def short_name(name: str) -> str:
    """What a cook calls an item at the stove: "all-purpose flour" is flour, "large onions" are onions."""
    bare = name.split(",")[0].split("(")[0].strip()
    return re.sub(_SOLD_AS, "", re.sub(_KIND, "", bare)) or bare


# Of which sort it is says the list: common practice, no source.
_KIND = re.compile(
    r"\b(?:(?:kosher|sea|table|fine) (?=salt$)|(?:freshly )?(?:ground )?black (?=pepper$)"
    r"|(?:yellow|brown|white) (?=onions?$)"
    r"|(?:no-boil|dried) (?=lasagn)|(?:dark )?red (?=kidney beans)|lean (?=\w))",
    re.IGNORECASE,
)
# How a thing is sold or cut: common practice, no source.
_SOLD_AS = re.compile(
    r"^(?:(?:all-purpose|all purpose|plain|extra|large|small|medium|fresh|freshly|chopped|grated|sliced|diced|minced"
    r"|crushed|semi-skimmed|unsalted|skinless|ripe|mature|finely|roughly|boneless)\s+)+(?=\w)",
    re.IGNORECASE,
)
VERBS = (
    "add|bake|beat|blend|boil|bring|brush|chop|cook|cool|cover|cut|divide|drain|dust|fill|fold|freeze|fry|grate|heat|knead"
    "|lay|leave|let|make|melt|mix|pat|peel|pour|press|put|roll|rub|scatter|season|serve|set|shape|simmer|slice|soften"
    "|strew|throw|swirl|scrape|arrange|layer|crumble|thin|taste|rest|finish|return|reduce|close|check|stick|dry|form"
    "|flatten|join|ladle|smear|spread|sprinkle|steam|stew|stir|sweat|take|tip|top|toss|turn|wait|warm|wash|whisk|work|wrap|roast|toast|give|keep"
)

# A clause that speaks of what the clause before it named: "stir in; 20 minutes more", "add them with the peas".
_HANGING = re.compile(
    r"\w+(?:\s+(?:in|on|over|up|well|together|aside))*\s*(?:[.,;!]|$|and\b|then\b|until\b|till\b|for\b)"
    r"|[^.,;]*\b(?:it|them|this|these|both)\b",
    re.IGNORECASE,
)
# What may follow a comma without a list going on.
_NO_THING = (
    r"(?:about|until|till|so|but|which|that|when|while|as|with|in|on|for|at|to|from|over|then|not|just|if|or|after|before|once|again|by|immediately"
    r"|\w+ing)\b"
)


def _without_one(sentence: str, start: int, end: int) -> str | None:
    near = max(0, start - _NEAR)
    lead = re.search(r"\b" + _LEAD + r"$", sentence[near:start], re.IGNORECASE)
    first = near + lead.start() if lead else start
    before, after = sentence[:first], sentence[end:]
    after = re.sub(r"^\s*\([^)]*\)", "", after)
    # "crumbs, parsley and cheese" -> "crumbs and cheese"; "a, b, c" -> "a, c"
    if re.search(r",\s+$", before) and re.match(r"\s+(?:and|&)\s+(?!(?:" + VERBS + r")\b)", after, re.IGNORECASE):
        return re.sub(r",\s+$", "", before) + after
    if re.search(r"\w,\s+$", before) and re.match(r",\s*(?:and\s+)?(?!" + _NO_THING + r")\w", after):
        return re.sub(r",\s+$", "", before) + after
    if match := re.search(r",?\s+(?:and|&)\s+$", before):
        return _last_of_list(before[: match.start()], after)
    # at the head of a list: "the nutmeg, salt and pepper", "parsley and cheese"
    if (match := re.match(r",?\s+(?:and|&)\s+|,\s+", after)) and not re.match(
        r"(?:then\s+)?(?:" + VERBS + r")\b|" + _NO_THING, after[match.end() :], re.IGNORECASE
    ):
        rest = after[match.end() :]
        # "with the lemon juice, salt it": no list goes on there
        if not re.match(r"\w+\s+(?:it|them|this|everything|all)\b", rest, re.IGNORECASE):
            article = "the " if lead and re.search(r"\bthe\b", lead.group(), re.IGNORECASE) else ""
            article = (
                "" if re.match(r"(?:the|a|an|all|half|both|some|enough|more|your)\b", rest, re.IGNORECASE) else article
            )
            return _opened(before, article + rest)
    # "Fry the onion in the oil until soft": the words that lead to it go too
    if (match := re.search(r"\s+(with|in|on|over|into)\s+$", before, re.IGNORECASE)) and re.match(
        r"\s*[.,;:]|\s*$|\s+(?:and|with|until|till|for|over|then)\b", after
    ):
        return _without_its_verb(before[: match.start()], after, match[1].casefold())
    # "Add the broth and put the chicken back in": its own clause goes
    if (
        match := re.search(
            r"(?:^|[;,.]\s+(?:and\s+)?)(?:" + VERBS + r")(?:\s+(?:in|on|over))?\s+$", before, re.IGNORECASE
        )
    ) and (goes_on := re.match(r",?\s+(?:and|then)\s+(?:then\s+)?(?=(?:" + VERBS + r")\b)", after, re.IGNORECASE)):
        if re.match(r"[^.;]*\b(?:it|them)\b", after[goes_on.end() :], re.IGNORECASE):
            return None
        kept = re.match(r"[;,.]\s+(?:and\s+)?|", match.group())
        return _opened(before[: match.start()] + (kept.group() if kept else ""), after[goes_on.end() :])
    return None


def _last_of_list(before: str, after: str) -> str:
    """What is left when the last of a list goes: "salt, pepper and nutmeg." -> "salt and pepper."."""
    clause = re.split(r"[.;:]", before)[-1]
    comma = re.search(r",\s+((?:the\s+)?[\w'’-]+(?:\s+[\w'’-]+){0,3})$", clause)
    if comma and not re.match(r"(?:then\s+)?(?:" + VERBS + r")\b", comma[1], re.IGNORECASE):
        cut = len(before) - len(clause) + comma.start()
        return f"{before[:cut]} and {comma[1]}{after}"
    return before + after


def _without_its_verb(before: str, after: str, lead: str) -> str | None:
    """What is left when what is strewn or stirred in goes: "Brush with egg and sprinkle" sprinkles nothing.

    `lead` is the word between the verb and the thing.
    """
    strewn = r"sprinkle|dust|top|garnish|strew|scatter|finish|drizzle|season|decorate|dot|glaze|brush|coat|rub"
    verbs = strewn if lead == "with" else VERBS
    verb = re.search(
        r"(?:(?P<joint>,?\s+(?:and|then)\s+(?:then\s+)?|[,;]\s+)|^)(?:" + verbs + r")(?:\s+well)?$",
        before,
        re.IGNORECASE,
    )
    if verb is not None:
        return before[: verb.start()] + after if verb["joint"] else None
    clause = re.split(r"[.,;:]\s+|\b(?:and|then)\s+", before)[-1]
    if lead == "with" and re.match(r"(?:" + strewn + r")\b", clause, re.IGNORECASE):
        return None  # "Sprinkle the chicken." says nothing
    return before + after


def _opened(before: str, rest: str) -> str:
    return before + (rest[:1].upper() + rest[1:] if not before.strip() else rest)
