"""Facts a card states in a line of its own: serves, makes, times, tags, sender, pan and oven as header lines."""

import re
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.hurried import hurried_facts
from recipebox.cards.model import Amount, Makes
from recipebox.cards.times import ABOUT, read_time, read_times

Fact = tuple[str, str]  # a header's name ("serves", "time", "prepare") and its value as written

_LABELS = {
    "from": (
        "from|by|author|recipe by|recipe from|submitted by|contributed by|from the kitchen of|von|de|da|van|fra|från"
    ),
    "came": "came|date|sent|received|added|datum|fecha",
    "serves": (
        "serves|serve|servings|serving|feeds|portions|portion|people|persons|for|number of servings"
        "|servings per recipe|serving size|pax|"
        "portionen|personen|anzahl portionen|fur|personnes|pour|nombre de personnes|porciones|raciones|personas"
        "|porzioni|persone|"
        "dosi per|dosi|per|porties|porsjoner|portioner|personer|porcje|porcji|porcoes|rende|rendimento|rendimiento"
    ),
    "makes": (
        "makes|make|yield|yields|yield about|recipe yield|recipe makes|quantity|batch size|ergibt|menge"
        "|donne|quantite|para|rinde|ger|giver|gir"
    ),
    "pan": (
        "pan|dish|tin|baking dish|baking tin|baking pan|pan size|tin size|cake tin|loaf tin|form|backform"
        "|moule|molde|stampo|bakvorm"
    ),
    "oven": (
        "oven|oven temp|oven temperature|temperature|temp|oven heat|heat oven to|preheat oven|preheat"
        "|bake at|bake|baking|ofen|four|horno|forno|ugn|ovn"
    ),
    "prepare": (
        "prep|prep time|preparation|preparation time|preparing|preparing time|prepare|active|active time"
        "|hands-on|hands on|hands-on time|"
        "hands on time|work time|working time|vorbereitung|vorbereitungszeit|arbeitszeit|zubereitungszeit"
        "|temps de preparation|preparation temps|"
        "tiempo de preparacion|tempo di preparazione|preparazione|preparacion|tempo de preparo|voorbereiding"
        "|voorbereidingstijd|bereidingstijd|"
        "forberedelse|forberedelser|forberedning|czas przygotowania|przygotowanie"
    ),
    "cook": (
        "cook|cook time|cooking|cooking time|bake time|baking time|bake|baking|oven time|roasting time"
        "|simmering time|grill time|frying time|"
        "kochzeit|backzeit|garzeit|koch- backzeit|cuisson|temps de cuisson|tiempo de coccion|coccion|cottura"
        "|tempo di cottura|tempo de cozimento|"
        "kooktijd|baktijd|oventijd|koketid|stegetid|bagetid|koktid|baktid|steketid|gräddningstid|graddningstid"
        "|czas gotowania|czas pieczenia|pieczenie|gotowanie"
    ),
    "all": (
        "time|total|total time|all|in all|altogether|ready in|takes|overall time|time needed|time required"
        "|duration|start to finish|"
        "gesamtzeit|gesamt|zeit|dauer|insgesamt|temps total|temps|duree|tiempo total|tiempo|tempo totale|tempo"
        "|tempo total|totale tijd|tijd|"
        "totaltid|total tid|tid|arbejdstid|czas|laczny czas|calkowity czas"
    ),
    "rest": (
        "rest|resting|rest time|resting time|chill|chilling|chill time|chilling time|inactive|inactive time|rise"
        "|rising time|rise time|marinating time|"
        "soaking time|cooling time|additional time|ruhezeit|ruhezeit ca|repos|temps de repos|reposo|riposo"
        "|rusttijd|hviletid|hevetid|jastid|marinate"
    ),
    "tags": (
        "tags|tag|keywords|categories|category|course|cuisine|schlagworte|kategorie|kategorien|etiquettes"
        "|etiquetas|labels|meal"
    ),
    "measures": "measures|measure",
    "picture": "picture|image|photo",
}
_NAMES = {label: name for name, labels in _LABELS.items() for label in labels.split("|")}
_ALWAYS = frozenset(("from", "came", "serves", "makes", "pan", "oven", "time", "tags", "measures", "picture"))
_LABEL = re.compile(r"[\W_]*([^\W\d_][^:|=]{0,40}?)\s*[*_]*\s*(?::|=)[*_\s]*(.*\S)", re.DOTALL)
_DASHED = re.compile(r"[\W_]*([^\W\d_][\w &-]{1,30}?)\s*[*_]*\s+[-–—]\s+(.*\d.*)", re.DOTALL)
_SPACED = re.compile(
    r"[\W_]*([^\W\d_][^\d:|=.!?]{0,30}?)\s+((?:ca\.?|about|approx\.?|~|under)?\s*\d.{0,30})$", re.IGNORECASE
)
_OVEN = re.compile(r"oven\s+((?:at |to )?\d{3}\b[^.!]*)\Z", re.IGNORECASE)  # "oven 180 fan 160"
_NAMED_TIME = re.compile(r".*(?:\s.*|zeit|tid|tijd|time)", re.IGNORECASE)  # "Bake 20 minutes" is an order
_CREDIT = re.compile(
    r"[\W_]*(?i:(?:recipe|submitted|contributed|shared|sent in|written down|posted|handed down|given to me)\s+"
    r"(?:by|from)|from the kitchen of|courtesy of)\s*:?\s+"
    r"((?-i:[A-ZÀ-Þ])[\w'’.-]*(?: (?-i:[A-ZÀ-Þ])[\w'’.-]*){0,2})[\s.!*_]*$"
)
_SPLIT = re.compile(
    r"\s*(?:\s[|/•·●✦♦—–]\s|\||•|·|;|\t|\s{2,}|,\s+(?=[A-Za-z][A-Za-z ]*:|(?:serves|feeds|makes) \d))\s*"
)
_SERVES = re.compile(
    r"[\W_]*(?:this )?(?:recipe )?(?:should |will |easily |comfortably |generously )?"
    r"(?:serves|serve|feeds|feed|enough for|dosi per|ingredienti per|for|portions for|portions|servings"
    r"|serving for|dinner for|fur|für|pour|para|per|voor|for ca\.?|til|till|dla|na)\s*:?\s*"
    r"(?P<n>(?:about |approximately |approx\.? |around |up to |ca\.? |a (?:crowd of|family of|dozen)?)?.{1,24}?)\s*"
    r"(?P<what>people|persons?|adults?|servings?|portions?|hungry people|personen|personnes|personas|persone"
    r"|pers\.?|guests|eaters|of us|personer|osoby|osób|porcji|pessoas)?"
    r"(?P<rest>\s*\(.*\)|,? (?:as|with|if|depending|generously|easily|comfortably|or so)\b.{0,40})?[\s.!*_]*$",
    re.IGNORECASE,
)
_SO_MANY = re.compile(r"\d{1,3}(?:\s*(?:-|–|to|or)\s*\d{1,3})?")
_SERVES_BEHIND = re.compile(
    r"[\W_]*(?P<n>\d[\d\s–—/-]*(?:to \d+)?)\s*(?:servings?|portions?|portionen|personen|personnes|people"
    r"|porciones|raciones|porzioni|persone|porties|porsjoner|portioner|porcj[ei]|porções)[\s.!*_]*$",
    re.IGNORECASE,
)
_MAKES = re.compile(
    r"[\W_]*(?:this )?(?:recipe )?(?:makes|yields?|yield:|cuts? into|ergibt|donne|gives|rinde"
    r"|resa per)\s*:?\s*(?P<n>(?:about|approximately|approx\.?|around|roughly|ca\.?|enough for)?\s*"
    r"(?:[\d½¼¾⅓⅔]|a |an |one |two |three |four |five |six |eight |ten |twelve |dozen).{0,60}?)[\s.!*_]*$",
    re.IGNORECASE,
)
_DOZEN = re.compile(r"\s*(?:a\s+)?dozen\b", re.IGNORECASE)


def label(words: str) -> str | None:
    """The header's name that a label means ("Prep time" -> "prepare"), None for words that are no label."""
    plain = _EDGES.sub("", words).casefold()
    found = _NAMES.get(plain)
    if found is None and not plain.isascii():
        found = _NAMES.get(plain.translate(_UNACCENTED))
    return found


_EDGES = re.compile(r"^[\W_]+|[\W_]+$")
_UNACCENTED = str.maketrans("áàâäãéèêëíìîïóòôöõúùûüçñåłø", "aaaaaeeeeiiiiooooouuuucnalo")


def read_header(words: str) -> tuple[str, str] | None:
    """A `name: value` line of any name: the name in lower case, the value as written."""
    match = _LABEL.match(words)
    if match is None:
        return None
    return " ".join(match[1].strip(" *_`").casefold().split()), match[2].strip().rstrip("*_").strip()


def read_facts(words: str, free: bool) -> list[Fact] | None:
    """The facts a whole line states, None if it is anything else.

    `free` allows names whose value may be any words (from, tags, pan ...), as under a title; elsewhere only facts
    with a number that reads wholly are believed.
    """
    if len(words) > 200:
        return None
    if free and (baked := hurried_facts(words)) is not None:
        return baked
    one = None if _STROKES.search(words) else _one_fact(words, free)
    if one is not None and (one[0] not in ("makes", "serves") or not _FURTHER.search(words)):
        return [one]
    parts = [part for part in _SPLIT.split(words) if part]
    if len(parts) < 2:
        parts = [part for part in _SENTENCES.split(words) if part]
    if len(parts) < 2 or len(parts) > 8:
        one = _one_fact(words, free)
        return [one] if one is not None else None
    facts = [_one_fact(part, free, joined=True) for part in parts]
    if any(fact is None for fact in facts):
        one = _one_fact(words, free)
        return [one] if one is not None and facts[0] is None else None
    return [fact for fact in facts if fact is not None]


def facts_in_prose(words: str, head: bool) -> list[Fact]:
    """Facts that sentences among others state: "Serves 6. Bake at 180C for 40 minutes." With `head` (above the
    ingredients) the oven and the pan count too."""
    found = []
    for part in _PROSE.split(words):
        sentence = part.strip(" ()*_.")
        if not sentence or len(sentence) > 90:
            continue
        if (fact := _one_fact(sentence, False, joined=head)) is not None:
            found.append(fact)
        elif head and _NUMBERED.match(bare := _EDGES.sub("", sentence)) and read_time(bare, whole=True) is not None:
            found.append(("all", bare))
        elif match := _GIVES.search(sentence):
            found.append(
                ("makes" if read_serves(match[1]) is None or match[2] else "serves", match[1] + (match[2] or ""))
            )
        elif match := _FOR.search(sentence):
            found.append(("serves", match[1]))
        elif head and re.match(r"(?:bake|oven|roast|preheat|heat (?:the )?oven)\b.*\d", sentence, re.IGNORECASE):
            found.append(("oven", sentence))
        elif head and _PAN.search(sentence):
            found.append(("pan", sentence))
    return found


_PAN = re.compile(
    r"\d(?!\s*(?:tin|pan|dish|casserole)s?\b)\D{0,14}\b(?:tin|pan|dish|casserole)\b"
    r"|\b(?:tin|form|pan|dish) of (?:about )?\d",
    re.IGNORECASE,
)
_STROKES = re.compile(r"\s[|•·]\s")
_SENTENCES = re.compile(r"(?<=[.!;])\s+")
_FURTHER = re.compile(_SENTENCES.pattern + r"|,\s+(?:serves|feeds)\s+\d")
_NUMBERED = re.compile(r"(?:about|ca\.?|approx\.?)?\s*\d.*[^\W\d_]", re.IGNORECASE)
_PROSE = re.compile(
    r"\s+[·•●✦,/]\s+|(?<=servings),\s+|(?<=people),\s+|(?<=portions),\s+|(?<=[.!?;])\s+|\s*\|\s*|\s*[()]\s*"
    r"|,\s+(?=(?:for \d|oven|serves|feeds|makes|\d+ (?:slices|pieces|portions)))",
    re.IGNORECASE,
)
_GIVES = re.compile(
    r"^(?:it|this|that|they|the \w+|which)? ?(?:makes|gives|yields|is enough for|enough for|does|feeds"
    r"|serves)\s+(?:about |around )?(\d+(?:\s*(?:-|–|to)\s*\d+)?|one|two|three|four|five|six|eight|ten"
    r"|twelve)(\s+(?!people|persons|if|of|or|as|and)[^\W\d]+)?\b",
    re.IGNORECASE,
)
_FOR = re.compile(
    r"^for (?:about )?(\d+(?:\s*(?:-|–|to)\s*\d+)?)(?: (?:people|persons|portions|servings)\b|$|,)", re.IGNORECASE
)


def _one_fact(words: str, free: bool, joined: bool = False) -> Fact | None:
    if (credit := _CREDIT.match(words)) is not None:
        return "from", credit[1]
    match = _LABEL.match(words)
    labelled = match is not None
    if match is None:
        match = _DASHED.match(words)
    if match is not None and (name := label(match[1])) is not None:
        value = match[2].strip().strip("*_").strip()
        if believed := _believed(name, value, free and labelled):
            return believed, value
        if name == "cook" and _believed("oven", value, free):
            return "oven", value
        if name != "makes" or read_makes(value) is None:
            return None
        return name, value
    if (oven := _OVEN.match(words)) is not None and len(words) < 50:
        return "oven", oven[1]
    if (match := _SPACED.match(words)) and (name := label(match[1])) in ("prepare", "cook", "all", "rest"):
        named = _NAMED_TIME.fullmatch(match[1].strip()) is not None or joined
        if named and read_time(match[2], whole=True) is not None:
            return name, match[2]
    if (match := _MAKES.match(words)) and len(words) < 80:
        return "makes", match["n"].strip()
    if (match := _SERVES.match(words)) and len(words) < 80 and read_serves(match["n"]) is not None:
        lead = words.lstrip(" *_(").split()[0].casefold().strip(":*_")
        if (
            lead in ("serves", "serve", "feeds", "feed", "dosi", "enough", "servings", "portions", "this", "dinner")
            or match["what"]
            or (lead == "for" and free and _SO_MANY.fullmatch(match["n"]))
        ):
            return "serves", match["n"].strip()
    if (match := _SERVES_BEHIND.match(words)) and read_serves(match["n"]) is not None:
        return "serves", match["n"].strip()
    return None


def _believed(name: str, value: str, free: bool) -> str | None:
    """The header's name if its value makes sense for it."""
    if name in ("prepare", "cook", "all", "rest"):
        if read_time(value, whole=True) is not None:
            return name
        return "time" if name == "all" and free and read_times(value) else None
    if name == "serves":
        return name if read_serves(value) is not None and len(value) < 50 else None
    if name == "makes":
        return name if read_makes(value) is not None and len(value) < 70 else None
    if name == "oven":
        return (
            name
            if re.search(r"\d{2,3}|\bgas\b|hot|moderate|medium|slow|cool|low|high", value, re.IGNORECASE) and free
            else None
        )
    return name if free and name in _ALWAYS else None


def read_serves(value: str) -> Amount | None:
    """How many are served: "6", "6-8 people", "about four"."""
    words = ABOUT.sub("", value.strip(), count=1)
    if (crowd := _CROWD.match(words)) is not None:
        words = crowd[1] or ""
    return _number(words)[0]


_CROWD = re.compile(r"(?:a|the) (?:crowd|whole \w+|family|lot|party)\b[^\d]*(\d.*)?", re.IGNORECASE)


def read_makes(value: str) -> Makes | None:
    """What a card yields: "2 loaves", "about 3 dozen cookies" (36)."""
    words = ABOUT.sub("", value.strip(), count=1)
    amount, used = _number(words)
    if amount is None:
        return None
    rest = words[used:]
    if dozen := _DOZEN.match(rest):
        amount = Amount(amount.low * 12, amount.high * 12)
        rest = rest[dozen.end() :]
    what = re.split(r"[.;]\s|,\s+(?=keeps|and|or|about|depending)", rest.removeprefix("ish") + " ", maxsplit=1)[0]
    what = what.strip(" .,:*_")
    return Makes(amount.low, amount.high, what[3:] if what.startswith("of ") else what)


def _number(words: str) -> tuple[Amount | None, int]:
    if words[:8].lower().startswith(("a dozen", "one dozen")):
        return Amount(Fraction(1), Fraction(1)), words.lower().index("dozen")
    read = read_amount(words[:40])
    if read is not None:
        return read
    first = re.match(r"(a|an|one|two|three|four|five|six|seven|eight|nine|ten|twelve)\b", words, re.IGNORECASE)
    if first is None:
        return None, 0
    value = Fraction(_SPOKEN[first[1].lower()])
    return Amount(value, value), first.end()


_SPOKEN = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
_SPOKEN |= {"nine": 9, "ten": 10, "twelve": 12}
