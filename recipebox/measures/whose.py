"""Whose cups, spoons and pints a card means: by its header, else by its own words, spelling and oven, and then said."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from recipebox.cards.model import Card, Ingredient, Measure
from recipebox.measures.units import US, Measures

_METRIC_SPOONS = (("teaspoon", "metric teaspoon"), ("tablespoon", "metric tablespoon"))
_IMPERIAL = tuple((name, f"imperial {name}") for name in ("fluid ounce", "gill", "pint", "quart", "gallon"))
LABEL = Measures(
    "US label", tuple((n, f"{n} (nutrition label)") for n in ("teaspoon", "tablespoon", "cup", "fluid ounce"))
)
METRIC = Measures("metric", (*_METRIC_SPOONS, ("cup", "metric cup")))
AUSTRALIAN = Measures("Australian", tuple((name, f"Australian {name}") for name in ("teaspoon", "tablespoon", "cup")))
# A cup in Britain today is the 250 ml one, in older books half an imperial pint: common practice, no source.
UK = Measures("UK", (*_METRIC_SPOONS, ("cup", "metric cup"), *_IMPERIAL))
IMPERIAL = Measures("imperial", (*_METRIC_SPOONS, ("cup", "British breakfast cup"), *_IMPERIAL))
_NAMED = {
    "us label": LABEL,
    "nutrition label": LABEL,
    **dict.fromkeys(("us", "usa", "u.s.", "american", "us customary"), US),
    **dict.fromkeys(("metric", "canadian", "canada", "ca", "new zealand", "nz"), METRIC),
    **dict.fromkeys(("australian", "australia", "au", "aus", "aussie"), AUSTRALIAN),
    **dict.fromkeys(("uk", "u.k.", "gb", "british", "britain", "english", "irish", "ireland"), UK),
    "imperial": IMPERIAL,
}
_DIFFER = frozenset({"teaspoon", "tablespoon", "cup", "fluid ounce", "gill", "pint", "quart", "gallon"})
_WEIGHED = frozenset({"gram", "kilogram", "millilitre", "litre"})
_SAID = re.compile(
    r"\b(american|us|u\.s\.|australian|aussie|british|uk|english|imperial|metric|canadian)\s+"
    r"(?:(?:measuring|standard)\s+)?(?:cups?|spoons?|tablespoons?|pints?|measures?|measurements?)\b",
    re.IGNORECASE,
)
# How each country's cooks write: common practice, no source.
_WORDS = {
    AUSTRALIAN: r"capsicums?|rockmelon|copha|kumara|snow peas? shoots|thickened cream|20 ?ml tablespoons?",
    UK: (
        r"(?:kilo)?grammes?|caster sugar|castor sugar|icing sugar|plain flour|self[- ]raising flour|strong flour"
        r"|bicarbonate of soda|bicarb|double cream|single cream|cornflour|courgettes?|aubergines?|swede|tins?|tinned"
        r"|rashers?|treacle|golden syrup|sultanas|demerara|greaseproof|clingfilm|grill pan|hob"
    ),
    US: (
        r"all[- ]purpose flour|confectioners'? sugar|powdered sugar|heavy cream|whipping cream|half[- ]and[- ]half"
        r"|sticks? (?:of )?(?:butter|margarine)|baking soda|cornstarch|cilantro|scallions?|zucchini|eggplant"
        r"|molasses|graham|bell peppers?"
        r"|ground (?:beef|pork|turkey)|broil|skillet|saran|quarts?"
    ),
}
_PATTERNS = {country: re.compile(rf"\b(?:{words})\b", re.IGNORECASE) for country, words in _WORDS.items()}


@dataclass(frozen=True, slots=True)
class Whose:
    """The measures a card is read in. `guessed` unless its header names them; `why` says by what they were chosen."""

    measures: Measures
    guessed: bool
    why: str


def measures_named(text: str | None) -> Measures:
    """The measures a card's `measures:` header asks for; US where it says nothing or nothing known."""
    return _named(text) or US


def whose_measures(card: Card) -> Whose:
    """Whose cups a card means: its `measures:` header; else what it says in words ("metric cups"); else a guess.

    The guess goes by words that one country's cooks use and by the oven: gas marks are British, Fahrenheit alone is
    American, Celsius alone or a list in grams is not. With nothing to go by: US, and `why` says so. Never raises.
    """
    named = _named(card.measures)
    if named is not None:
        return Whose(named, False, f"the card says measures: {card.measures}")
    texts = [card.title, *(line.text for line in card.ingredients), *(part.text for part in (*card.steps, *card.notes))]
    for text in texts:
        said = _SAID.search(text)
        if said is not None and (country := _named(said[1])) is not None:
            return Whose(country, True, f'the card says "{said.group()}"')
    heats = {heat.scale for bake in card.oven for heat in bake.settings}
    for country, pattern in _PATTERNS.items():
        words = list(dict.fromkeys(found.group().lower() for text in texts for found in pattern.finditer(text)))
        rivals = _rivals(country, texts)
        if words and len(words) > rivals:
            return Whose(country, True, f'it says "{words[0]}"')
    if "gas" in heats:
        return Whose(UK, True, "the oven is given as a gas mark")
    if heats & {"F", "C"} in ({"F"}, {"C"}):
        return (
            Whose(US, True, "the oven is in Fahrenheit")
            if "F" in heats
            else Whose(METRIC, True, "the oven is in Celsius")
        )
    units = [line.unit for line in card.ingredients if line.amount is not None]
    if "cup" not in units and sum(name in _WEIGHED for name in units) >= 2:
        return Whose(METRIC, True, "it measures in grams and millilitres")
    return Whose(US, True, "nothing on the card says whose")


def in_measures(line: Ingredient, whose: Whose | None) -> Ingredient:
    """The line with its cups, spoons and pints called by the country's own names ("metric cup"); as it is for US ones.

    `text` stays as written. Never raises.
    """
    if whose is None or not whose.measures.rows or line.amount is None:
        return line
    row = whose.measures.row
    return replace(
        line,
        unit=line.unit and row(line.unit),
        plus=tuple(Measure(more.amount, more.unit and row(more.unit)) for more in line.plus),
        also=tuple(Measure(same.amount, same.unit and row(same.unit)) for same in line.also),
        container=line.container and Measure(line.container.amount, line.container.unit and row(line.container.unit)),
    )


def lines_that_differ(card: Card) -> Iterator[Ingredient]:
    """The card's ingredient lines in a unit that is not the same everywhere: cups, spoons, pints."""
    for line in card.ingredients:
        units = (line.unit, *(part.unit for part in line.plus))
        if line.amount is not None and _DIFFER.intersection(units):
            yield line


def _rivals(country: Measures, texts: list[str]) -> int:
    """How many words of the country that speaks most against this one."""
    others = [other for other in _PATTERNS if other != country and {other, country} != {AUSTRALIAN, UK}]
    return max(
        len({found.group().lower() for text in texts for found in _PATTERNS[other].finditer(text)}) for other in others
    )


def _named(text: str | None) -> Measures | None:
    words = (text or "").lower().replace(",", " ").split()
    pairs = [" ".join(pair) for pair in pairwise(words)]
    return next((_NAMED[word] for word in (*pairs, *words) if word in _NAMED), None)
