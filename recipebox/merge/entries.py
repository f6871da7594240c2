"""Undecided and settled entries of a card: what they are about, where they stand, how they read as two sets."""

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, replace

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Entry, Role, Wording
from recipebox.merge.algebra import LEAVE_OUT, Choice, in_byte_order
from recipebox.merge.sheet import Element, Sheet, known_by, meaning, plain

BATCH, THIS_CARD, FILE_NAME = "batch", "this card", "file name"
WITHOUT_BODY = (BATCH, THIS_CARD, FILE_NAME)
_STEP = "step: "
_WORDS_OF_A_STEP = 6


@dataclass(frozen=True)
class Standing:
    """How one text stands on one thing: a plain line, an entry, or both; `texts` has the words of each wording."""

    choice: Choice
    texts: dict[Hashable, str]
    about: str | None = None
    """What the text's own entry is about; None where it has none."""


def about(element: Element, others: Iterable[Element] = ()) -> str:
    """What an entry on this element is about; an item has its group in brackets if the thing is there twice."""
    if element.role is Role.TITLE:
        return "title"
    if element.role is Role.HEADER:
        return element.name
    if element.role is Role.STEP:
        return _STEP + " ".join(plain(element.text).split()[:_WORDS_OF_A_STEP])
    if element.role is not Role.INGREDIENT or element.ingredient is None:
        return plain(element.text)
    item = plain(element.ingredient.item or element.text)
    known = known_by(element.ingredient)
    twins = [e for e in others if e.ingredient is not None and known_by(e.ingredient) == known]
    return f"{item} ({plain(element.group)})" if len(twins) > 1 and element.group else item


def body_of(sheet: Sheet, entry: Entry) -> Element | None:
    """The element that an entry is about; None where it was left out or has no place in the body."""
    if entry.about in WITHOUT_BODY:
        return None
    role = role_of(entry, sheet)
    candidates = [e for e in sheet.elements if e.role is role]
    if role is Role.HEADER:
        return next((e for e in candidates if e.name == entry.about.casefold()), None)
    if role is Role.TITLE:
        return candidates[0] if candidates else None
    said = {meaning(as_element(role, w.text)) for w in entry.wordings if w.text != LEAVE_OUT}
    exact = [e for e in candidates if meaning(e) in said]
    named = [e for e in candidates if about(e, sheet.elements) == entry.about]
    if role is Role.INGREDIENT and not (exact and named):
        things = {as_element(role, w.text).ingredient for w in entry.wordings if w.text != LEAVE_OUT}
        known = {known_by(i) for i in things if i is not None}
        group = _group_in(entry.about)
        alike = [e for e in candidates if e.ingredient and known_by(e.ingredient) in known]
        named = named or [e for e in alike if plain(e.group or "") == group] or (alike if not group else [])
    both = [e for e in exact if e in named]
    return next(iter(both or exact or named), None)


def role_of(entry: Entry, sheet: Sheet | None = None) -> Role:
    """The kind of line that an entry's wordings are."""
    if entry.about == "title":
        return Role.TITLE
    if entry.about.startswith(_STEP):
        return Role.STEP
    headers = {e.name for e in sheet.elements if e.role is Role.HEADER} if sheet else set()
    known = {"from", "came", "serves", "makes", "pan", "oven", "time", "tags", "measures", "picture"}
    if entry.about.casefold() in headers | known:
        return Role.HEADER
    if sheet:
        said = {plain(w.text) for w in entry.wordings}
        for role in (Role.GROUP, Role.VERSION, Role.SOME_ADD):
            if any(e.role is role and plain(e.text) in said for e in sheet.elements):
                return role
    return Role.INGREDIENT


def as_element(role: Role, text: str, like: Element | None = None) -> Element:
    """A wording as the element it would be in the body."""
    name = like.name if like else ""
    if role is Role.INGREDIENT:
        ingredient = read_ingredient(text, group=like.group if like else None)
        return Element(role, text, 0, 0, name, ingredient.group, ingredient)
    return Element(role, text, 0, 0, name)


def standing(element: Element | None, entry: Entry | None, role: Role) -> Standing:
    """How a text stands on one thing. A body line that its entry does not lead one to expect was chosen by hand."""
    body: Hashable = meaning(element) if element else LEAVE_OUT
    texts: dict[Hashable, str] = {body: element.text} if element else {}
    if entry is None:
        return Standing(Choice(frozenset({body})), texts)
    said = [
        (w, LEAVE_OUT if w.text == LEAVE_OUT else meaning(as_element(role, w.text, element))) for w in entry.wordings
    ]
    for wording, token in said:
        if token != LEAVE_OUT:
            texts.setdefault(token, wording.text)
    wordings = frozenset(token for _, token in said)
    chosen = frozenset(token for wording, token in said if wording.chosen)
    choice = Choice(wordings, chosen, bool(chosen))
    expected = choice.settled if len(chosen) == 1 else first(wordings, texts)
    if (
        entry.about not in WITHOUT_BODY
        and body != expected
        and not (body == LEAVE_OUT and element is None and not said)
    ):
        choice = Choice(wordings | {body}, frozenset({body}), choice.kept)
    return Standing(choice, texts, entry.about)


def first(wordings: Iterable[Hashable], texts: dict[Hashable, str]) -> Hashable:
    """The wording the body holds while nobody has chosen."""
    return min(wordings, key=lambda token: in_byte_order(text_of(token, texts)))


def text_of(token: Hashable, texts: dict[Hashable, str]) -> str:
    """A wording's words."""
    return LEAVE_OUT if token == LEAVE_OUT else texts[token]


def written(about_what: str, choice: Choice, texts: dict[Hashable, str]) -> Entry:
    """A choice as the entry that stands in the card."""
    words = sorted(
        ((text_of(token, texts), token in choice.chosen) for token in choice.wordings),
        key=lambda pair: in_byte_order(pair[0]),
    )
    return Entry(about_what, tuple(Wording(text, chosen) for text, chosen in words))


def is_settled(entry: Entry) -> bool:
    """Exactly one wording is chosen."""
    return sum(wording.chosen for wording in entry.wordings) == 1


def in_order(entries: Sequence[Entry]) -> list[Entry]:
    """Entries as a section lists them."""
    unique = {(e.about, tuple((w.text, w.chosen) for w in e.wordings)): replace(e, line=0) for e in entries}
    return [unique[key] for key in sorted(unique, key=lambda key: (key[0].encode("utf-8", "surrogatepass"), key[1]))]


def _group_in(words: str) -> str:
    return words.rpartition("(")[2].rstrip(")") if words.endswith(")") and "(" in words else ""
