"""Words that stand around an amount and its unit. Lists: common practice, no source."""

import re

from recipebox.cards.wordlists import listed

HOW = {
    "about": "about", "approx": "about", "approximately": "about", "around": "about", "roughly": "about",
    "circa": "about", "ca": "about", "~": "about", "nearly": "about", "almost": "about",
    "scant": "scant", "scanty": "scant", "heaped": "heaped", "heaping": "heaped", "rounded": "heaped",
    "generous": "heaped", "overflowing": "heaped", "gehäufter": "heaped", "gehäufte": "heaped", "gehäuften": "heaped",
}  # fmt: skip
_SMALL_WORDS = "(?:scant|heap|round|generous|level|good|small|large|big|wee|tiny|full)"
BEFORE = re.compile(
    r"(about\b|approximately\b|approx\b|around\b|roughly\b|circa\b|ca(?=[. ])|nearly\b|almost\b"
    r"|scanty?\b|heap(?:ed|ing)\b"
    r"|rounded\b|generous\b|overflowing\b|level\b|good\b|up to\b|at least\b|an?\s(?=additional\b|extra\b)"
    rf"|another\b|additional\b|extra\b|just (?:under|over)\b|over\b|under\b|a\s(?={_SMALL_WORDS}\w*\s)|~)\.?\s*",
    re.IGNORECASE,
)
VAGUE = re.compile(
    r"(?:a\s+few|few|several|some|a\s+little|a\s+bit\s+of|a\s+lot\s+of|lots\s+of|plenty\s+of|enough"
    r"|etwas|ein\s+(?:paar|wenig)|quelques|un\s+peu\s+de|un\s+poco\s+d[ei]|några|lite|lidt|litt|een\s+beetje)"
    r"\s+(?:of\s+)?(?=[^\W\d_])",
    re.IGNORECASE,
)
SIZE = re.compile(
    r"(?:(?:extra[- ])?(?:large|small)|medium|big|thick|thin|whole|full|level|heap(?:ed|ing)|rounded|scant|generous"
    r"|packed|regular|long|short|good|fat|firmly|loosely|lightly|tightly|well|giant|jumbo|mini|little|tall|standard|wide|very"
    r"|(?:medium|small|large|regular|good|family|king|snack|bite|individual|single|party)[- ]sized?|double|fresh"
    r"|dried|hot|cold|plump|wee|metric|slightly|tiny|half|med\.?|lge?\.?|sm\.?|xl|[a-z]{3,12}-sized?|gestr(?:ichene[rn]?)?\.?"
    r"|gehäufte[rn]?)(?:\s+(?:of\s+)?|-(?=\w))",
    re.IGNORECASE,
)
# The single words that SIZE knows.
SIZES = listed(
    """large small medium big thick thin whole full level heaped heaping rounded scant generous packed regular long
    short good fat firmly loosely lightly tightly well giant jumbo mini little tall standard wide very double fresh
    dried hot cold plump wee metric slightly tiny half med lg lge sm xl extra-large extra-small medium-sized
    small-sized large-sized regular-sized good-sized family-sized king-sized snack-sized bite-sized individual-sized
    single-sized party-sized medium-size small-size large-size regular-size good-size family-size king-size snack-size
    bite-size individual-size single-size party-size extra family king snack bite individual single party sized size"""
)
ABROAD_ONE = re.compile(r"(?:une?|eine?n?|ett?|en|una|uno)\s+", re.IGNORECASE)
TIMES = re.compile(r"\s?[x×]\s?(?=[\d½¼¾⅓⅔])", re.IGNORECASE)
TIMES_WORD = re.compile(r"\s?[x×]\s+(?=[^\W\d_])")
OR_MORE = re.compile(r"\s?\((?:or|to|-)\s?")
LESS = re.compile(r"[\s,]*(?:minus|less)\s+")
BRACKET = re.compile(r"\s*[(\[]\s*")
CLOSE = re.compile(
    r"[\s.]*(?:(?P<each>each|apiece)|size|sized|in weight|total|weight|drained weight)?[\s.]*[)\]]\s*", re.IGNORECASE
)
THICK = re.compile(r"[\s-]*(?:thick|long|wide|square|round|diameter)", re.IGNORECASE)
ABOUT = re.compile(
    r"(?:(?:each|weighing|from|makes|use)\s+)?(?:about|approx(?:imately)?\.?|around|roughly|ca\.|circa|=|~|weighing|from|each|maybe|perhaps|say"
    r"|makes|use)?\s*",
    re.IGNORECASE,
)
SPACES = re.compile(r"[\s.]*(?:-\s?)?")
PLUS = re.compile(r"[\s,]*(?:\+|\bplus\b|\band\b|&)\s*", re.IGNORECASE)
ALSO = re.compile(r"\s*(?:/|\||=|;|\bor\b|~)\s*(?:about\s)?", re.IGNORECASE)
OF = re.compile(r"[\s.]*(?:(?:of(?: the)?|de la|de|du|di|worth of)\b|d['’])?\s*", re.IGNORECASE)
OF_A = re.compile(r"\s+of\s+(?:an?|the|one)\b", re.IGNORECASE)
OR_SO = re.compile(r"(?:each|apiece|total|in total|in all|weight|drained weight|more or less|or so)?", re.IGNORECASE)
PIECE = re.compile(r"[\s.-]*(?:thick |long )?(?:piece|knob|chunk|length|stick|slice|cube|strip)s?\b", re.IGNORECASE)
NUMBERED = re.compile(
    r"\s*((?:no\.?\s?|#\s?|number\s)(?:1|2|2\s?1/2|2½|3|10|300|303|5|12))\s+(?:size\s+)?(?:cans?|tins?)\b",
    re.IGNORECASE,
)
NOT_UNITS = {
    "strip": ("steak", "loin"),
    "cube": ("steak",),
    "round": ("steak", "roast"),
    "star": ("fruit",),
    "log": ("cake",),
    "bar": ("b-q",),
    "pot": ("roast", "pie", "sticker", "noodle", "barley"),
}
