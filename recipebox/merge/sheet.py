"""A card's text as a sequence of elements: what each is, the lines it stands on, and what it means."""

from dataclasses import dataclass, field, replace
from functools import lru_cache
from unicodedata import normalize

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Card, Entry, Ingredient, Role, SourceLine
from recipebox.cards.reader import read_cards
from recipebox.cards.text import Text, decode
from recipebox.cards.things import thing

_TIMES = {"all": "time"}
"""Headers the reader knows under another name than the one people type."""
_MERGED_ELSEWHERE = (Role.UNDECIDED, Role.SETTLED)


@dataclass(frozen=True)
class Element:
    """One thing a person wrote: a header, an ingredient line, a step. `text` is its words without bullet or number.

    `name` is a header's or section's name; `group` the heading an ingredient stands under; `first` and `last` are its
    source lines, `lead` the blank lines right above, `prefix` what stands before its words (indent, bullet, number).
    """

    role: Role
    text: str
    first: int
    last: int
    name: str = ""
    group: str | None = None
    ingredient: Ingredient | None = None
    lead: int = 0
    prefix: str = ""

    @property
    def meaning(self) -> object:
        """Equal for two elements that mean the same, however they are written."""
        return meaning(self)


@dataclass(frozen=True)
class Sheet:
    """One recipe of a text, taken apart. `entries` are undecided and settled ones alike."""

    text: Text
    card: Card
    elements: tuple[Element, ...]
    entries: tuple[tuple[Entry, bool], ...] = field(default=())

    def source(self, element: Element) -> list[str]:
        """The element's source lines as they stand."""
        return [line.words for line in self.text.lines[element.first - 1 : element.last]]


def read_sheets(data: bytes, path: str) -> list[Sheet]:
    """Every recipe of a file taken apart. Raises NotACardError or NotTextError as the reader does."""
    return list(_sheets(data, path))


@lru_cache(maxsize=64)
def _sheets(data: bytes, path: str) -> tuple[Sheet, ...]:
    """One merge looks at the same few texts many times."""
    text = decode(data)
    return tuple(_sheet(text, card) for card in read_cards(data, path))


@lru_cache(maxsize=4096)
def plain(text: str) -> str:
    """Words alike in every Unicode form and spacing."""
    return " ".join(normalize("NFC", text).split())


def meaning(element: Element) -> object:
    """What an element says, equal for all ways of writing it."""
    if element.role is Role.INGREDIENT and element.ingredient is not None:
        return ingredient_meaning(element.ingredient)
    if element.role is Role.HEADER:
        return header_meaning(element.name, element.text)
    if element.role is Role.SECTION:
        return element.name, plain(element.text).strip("#:*_ ").casefold()
    if element.role is Role.LAYOUT:
        return element.name, plain(element.text)
    return plain(element.text)


def header_meaning(name: str, value: str) -> object:
    """What a header line says: numbers as numbers, tags as a set, words as words."""
    if name == "tags":
        return tags_of(value)
    if name in ("serves", "makes"):
        reading = read_ingredient(value)
        if reading.amount is not None:
            return reading.amount, plain(f"{reading.unit or ''} {reading.item}").casefold()
    return plain(value)


def tags_of(value: str) -> frozenset[str]:
    """Tags of a header's value, alike in Unicode form and spacing."""
    return frozenset(filter(None, (plain(tag) for tag in value.split(","))))


@lru_cache(maxsize=8192)
def _facts(ingredient: Ingredient) -> tuple[object, ...]:
    i = ingredient
    quantity = (i.amount, i.unit, i.plus, i.also, i.how)
    instead = tuple(tuple((a.amount, a.unit, plain(a.item)) for a in group) for group in i.instead)
    rest = (plain(i.purpose or ""), i.optional, plain(i.remark or ""), instead)
    if i.kind != "ingredient":
        return (plain(i.text),)
    return quantity, i.container, plain(i.item), plain(i.preparation or ""), rest


def ingredient_meaning(ingredient: Ingredient) -> tuple[object, ...]:
    """An ingredient line as separate facts: quantity with its unit, container, item, preparation, all else."""
    return _facts(ingredient)


def known_by(ingredient: Ingredient) -> str:
    """The thing a line is about; its words where no thing was read."""
    return thing(ingredient.item) or plain(ingredient.item or ingredient.text).casefold()


def _sheet(text: Text, card: Card) -> Sheet:
    """Notes are taken line by line: whether two lines are one note hangs on what stands around them."""
    blocks: dict[tuple[int, Role], list[SourceLine]] = {}
    for line in card.lines:
        if line.role in (Role.BLANK, *_MERGED_ELSEWHERE):
            continue
        first = line.number if line.role in (Role.NOTE, Role.LAYOUT) else line.of
        blocks.setdefault((first, line.role), []).append(line)
    taken = {line.number for line in card.lines if line.role in _MERGED_ELSEWHERE}
    elements = [
        element
        for (_, role), lines in blocks.items()
        if not (role is Role.SECTION and lines[0].key in ("undecided", "settled"))
        for element in [_element(text, card, role, lines)]
        if element.first not in taken
    ]
    entries = tuple((entry, False) for entry in card.undecided) + tuple((entry, True) for entry in card.settled)
    return Sheet(text, card, tuple(_marks_known(sorted(elements, key=lambda e: (e.first, e.last)))), entries)


def _marks_known(elements: list[Element]) -> list[Element]:
    """Rules and borders, which all look alike, are known by the words above them."""
    return [
        replace(element, name=plain(elements[at - 1].text) if at else "") if element.role is Role.LAYOUT else element
        for at, element in enumerate(elements)
    ]


def _element(text: Text, card: Card, role: Role, lines: list[SourceLine]) -> Element:
    first, last = lines[0].number, lines[-1].number
    words = " ".join(_words(text, line) for line in lines).strip()
    lead = 0
    while first - lead > 1 and not text.lines[first - lead - 2].words.strip():
        lead += 1
    ingredient, group, name = None, None, lines[0].key
    if role is Role.INGREDIENT:
        here = [i for i in card.ingredients if first <= i.line <= last]
        if len(here) == 1:
            ingredient, group = here[0], here[0].group
    elif role is Role.HEADER:
        header = next((h for h in card.headers if h.line == first), None)
        if header:
            name, words = _TIMES.get(header.name, header.name), header.value
    elif role is Role.TITLE:
        alone = sum(line.role is Role.TITLE for line in card.lines) == len(lines)
        words = (card.title if alone else "") or words  # front matter may say it too, and be changed alone
    elif role is Role.LAYOUT:
        words = text.lines[first - 1].words.strip()
    line = text.lines[first - 1].words
    at = line.rfind(words) if role is Role.HEADER else line.find(words.split("\n")[0]) if first == last else -1
    prefix = line[:at] if at >= 0 else line[: lines[0].start]
    return Element(role, words, first, last, name, group, ingredient, lead, prefix)


def _words(text: Text, line: SourceLine) -> str:
    words = text.lines[line.number - 1].words
    return words[line.start : line.end] if line.end else words.strip()
