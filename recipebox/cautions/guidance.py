"""Published guidance that applies to a card: inner temperatures, cold storage and kitchen rules."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from recipebox.cards.model import Card, Role
from recipebox.cautions.match import find, find_all
from recipebox.cautions.rules import Rule, kitchen_rules, temperatures
from recipebox.cautions.storage import keeping_rule

NOTICE = (
    "These are published cautions that matched words of the card; a card without any has only not been matched. "
    "See the official source of each, and FoodSafety.gov."
)

_CASSEROLES = "Casseroles, with or without meat"
# Rows that go by what is done rather than by a food: looked for in steps and notes too.
_BY_WHAT_IS_DONE = frozenset(
    {
        _CASSEROLES,
        "Egg casseroles holding meat or poultry",
        "Leftovers, any kind",
        "Stuffing or dressing, in the bird or in a dish",
        "Raw animal foods cooked in a microwave oven",
    }
)


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: the row's key, what it says, where that was published, and the card's line and words that match.

    `basis` is seen, checked or memory, as in the table: what was recalled and not retrieved says so in `text` too.
    """

    rule: str
    text: str
    source: str
    url: str
    basis: str
    line: int
    words: str


@dataclass(frozen=True, slots=True)
class _Line:
    number: int
    text: str
    is_food: bool = False


def cautions_for(card: Card) -> tuple[Caution, ...]:
    """Every caution whose words stand in the card's title, ingredients, steps, notes or tags, in the tables' order.

    Inner temperatures: each line is matched by its longest keyword, and a casserole is given the highest temperature
    that matches anywhere in it. Cold storage goes by what the card makes: its title and tags. Nothing here says that
    a dish is safe; no caution means only that no words matched.
    """
    lines = list(_lines(card))
    return (*_temperature_cautions(card, lines), *_storage_cautions(card, lines), *_rule_cautions(lines))


def _lines(card: Card) -> Iterator[_Line]:
    """The card's own words, with the source line each stands on."""
    title = next((line.number for line in card.lines if line.role is Role.TITLE), 1)
    tags = next((header.line for header in card.headers if header.name == "tags"), title)
    yield _Line(title, card.title, is_food=True)
    for tag in card.tags:
        yield _Line(tags, tag)
    for ingredient in card.ingredients:
        yield _Line(ingredient.line, ingredient.text, is_food=True)
    for more in card.some_add:
        yield _Line(more.ingredient.line, more.ingredient.text, is_food=True)
    for variation in card.variations:
        for ingredient in variation.ingredients:
            yield _Line(ingredient.line, ingredient.text, is_food=True)
    # Without a list of ingredients the steps are all that names the food; with one, "mince the garlic" is no meat.
    for step in card.steps:
        yield _Line(step.line, step.text, is_food=not card.ingredients)
    for note in card.notes:
        yield _Line(note.line, note.text)


def _temperature_cautions(card: Card, lines: list[_Line]) -> list[Caution]:
    found: dict[str, tuple[Rule, Caution]] = {}
    for line in lines:
        rules = [rule for rule in temperatures() if line.is_food or rule.key in _BY_WHAT_IS_DONE]
        for rule, words in _longest(line.text, rules):
            found.setdefault(rule.key, (rule, _caution(rule, line, words)))
    if not found:
        return []
    casserole = next(rule for rule in temperatures() if rule.key == _CASSEROLES)
    baked = _baked(card, lines, casserole)
    if baked is not None:
        found.setdefault(_CASSEROLES, (casserole, baked))
    order = [rule.key for rule in temperatures()]
    kept = sorted(found.values(), key=lambda pair: order.index(pair[0].key))
    if baked is not None:
        highest = max(rule.degrees for rule, _ in kept)
        kept = [(rule, caution) for rule, caution in kept if rule.degrees == highest]
    return [caution for _, caution in kept]


def _longest(text: str, rules: Sequence[Rule]) -> list[tuple[Rule, str]]:
    """Each stretch of the text given to the rule with the longest keyword there, the first of equals."""
    all_found = [(found, at, rule) for at, rule in enumerate(rules) for found in find_all(text, rule.words)]
    kept: list[tuple[int, int, Rule, str]] = []
    for found, _, rule in sorted(all_found, key=lambda one: (one[0].start - one[0].end, one[0].start, one[1])):
        if all(found.end <= start or found.start >= end for start, end, _, _ in kept):
            kept.append((found.start, found.end, rule, found.keyword))
    return [(rule, words) for _, _, rule, words in sorted(kept, key=lambda one: one[0])]


def _storage_cautions(card: Card, lines: list[_Line]) -> list[Caution]:
    kept = keeping_rule(card)
    if kept is None:
        return []
    rule, words = kept
    line = next((line for line in lines if line.text == card.title), _Line(1, card.title))
    return [_caution(rule, line, words)]


def _rule_cautions(lines: list[_Line]) -> list[Caution]:
    made = []
    for rule in kitchen_rules():
        for line in lines:
            found = find(line.text, rule.words)
            if found:
                made.append(_caution(rule, line, found.keyword))
                break
    return made


def _caution(rule: Rule, line: _Line, words: str) -> Caution:
    return Caution(rule.key, rule.text, rule.source, rule.url, rule.basis, line.number, words)


def _baked(card: Card, lines: list[_Line], casserole: Rule) -> Caution | None:
    """The casserole caution, if the card is one: by the row's keywords, or a title that ends in "bake".

    The published rule holds for "a casserole, bake or hotdish"; its keywords name only some bakes.
    """
    for line in lines:
        found = find(line.text, casserole.words)
        if found:
            return _caution(casserole, line, found.keyword)
    is_bake = card.title.lower().split()[-1:] == ["bake"]
    return _caution(casserole, lines[0], card.title) if is_bake else None
