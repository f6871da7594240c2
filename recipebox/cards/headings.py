"""Lines among ingredients that name a group rather than a thing to buy."""

import re

from recipebox.cards.wordlists import listed

# Parts of a dish that get their own list: common practice, no source.
_GROUP_WORDS = listed(
    """topping toppings filling fillings crust base marinade streusel batter crumble ingredients assembly garnish
    garnishes optional sauce dressing glaze frosting icing dough pastry"""
)
_ALONE = _GROUP_WORDS - {"sauce", "dressing", "glaze", "frosting", "icing", "dough", "pastry", "optional", "garnish"}
_ALL_OF_A_KIND = re.compile(r"(?:wet|dry|main|other|\w+ing) ingredients|to (?:serve|garnish|finish|decorate|assemble)")
_LABEL = re.compile(r"(?:for|to)\s+(?:the\s+)?[a-z]+(?:\s[a-z]+)?", re.IGNORECASE)
_FOR = re.compile(r"(?:for|to make|to serve with)\s+(?:the|each|a|your)\s+[\w' -]{2,40}\Z", re.IGNORECASE)


def is_heading(words: str) -> bool:
    """Whether a line without amount names a group: "For the sauce", "Topping:", "TOPPING"."""
    bare = words.strip(" :#*_").lower()
    if words.rstrip(" *_").endswith(":") and len(bare) < 60:
        return True
    if _FOR.match(words.strip()):
        return True
    return bare in _ALONE or _ALL_OF_A_KIND.fullmatch(bare) is not None


def is_group_word(words: str) -> bool:
    """Whether words are a part of a dish and nothing else: "Sauce", "Optional", "To serve"."""
    bare = words.strip(" :#*_").lower()
    return bare in _GROUP_WORDS or bare in ("to serve", "to garnish", "to finish", "to decorate", "serving")


def group_label(words: str) -> int:
    """Where the words behind a label begin ("Garnish: parsley"), 0 if the line has none."""
    label, sign, behind = words[:40].partition(":")
    bare = label.strip(" *_").lower().removeprefix("for ").removeprefix("the ")
    named = is_group_word(bare) or _LABEL.fullmatch(label.strip()) is not None
    return len(label) + 1 if sign and named and behind.strip() else 0
