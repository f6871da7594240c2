"""One recipe of a file merged thing by thing: what stands, and what is to be asked."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from recipebox.cards.model import Entry, Role
from recipebox.merge.algebra import Choice, merged_set, shortest
from recipebox.merge.entries import BATCH, WITHOUT_BODY, Standing, about, body_of, role_of, standing, written
from recipebox.merge.match import Key
from recipebox.merge.resolve import Outcome, resolve
from recipebox.merge.sheet import Element, Sheet, plain, tags_of

Keyed = Mapping[Key, Element]
Asked = Mapping[Key, Entry]
_ASKED = (Role.TITLE, Role.HEADER, Role.INGREDIENT, Role.STEP, Role.GROUP, Role.VERSION)
"""Lines that mean one thing each; all others are members of sets."""


@dataclass
class Part:
    """A merge of one recipe. `outcomes` has what stands for each key, `entries` the questions and choices."""

    base: Sheet | None
    start: Keyed
    sides: Sequence[tuple[Sheet, Keyed]]
    outcomes: dict[Key, Outcome] = field(default_factory=dict)
    entries: dict[Key, Entry] = field(default_factory=dict)

    def elements(self, key: Key) -> list[Element]:
        """What base and sides have for a key, the base's first."""
        have = [self.start.get(key), *(keys.get(key) for _, keys in self.sides)]
        return [element for element in have if element is not None]

    def role(self, key: Key) -> Role | None:
        """The kind of line a key is; None for entries without a line."""
        return next((element.role for element in self.elements(key)), None)


def merged_part(base: Sheet | None, start: Keyed, sides: Sequence[tuple[Sheet, Keyed]], batch: Entry | None) -> Part:
    """Merge one recipe. `batch` is the question that sides which rescaled it differently raise."""
    aliases = _aliases([*([(base, start)] if base else []), *sides])
    start, before = _with_entries(base, start, aliases) if base else (start, {})
    joined = [_with_entries(sheet, keys, aliases) for sheet, keys in sides]
    part = Part(base, start, [(sheet, keys) for (sheet, _), (keys, _) in zip(sides, joined, strict=True)])
    asked: list[Asked] = [found for _, found in joined]
    rescaling: Key = ("entry", BATCH)
    every = {key for keys, found in [(start, before), *joined] for key in (*keys, *found)}
    for key in sorted({*every, *([rescaling] if batch else [])}, key=repr):
        if key[0] == "loose":
            _merge_loose(part, key, before.get(key), [found.get(key) for found in asked])
            continue
        raised = [batch] if batch is not None and key == rescaling else []
        _merge_key(part, key, before.get(key), [*(found.get(key) for found in asked), *raised])
    return part


def _merge_key(part: Part, key: Key, before: Entry | None, asked: Sequence[Entry | None]) -> None:
    start = part.start.get(key)
    have: list[Element | None] = [keys.get(key) for _, keys in part.sides]
    have += [None] * (len(asked) - len(have))
    entries = [entry for entry in (before, *asked) if entry is not None]
    role = part.role(key) or role_of(entries[0], part.sides[0][0])
    if not entries:
        if role is Role.SECTION or role not in _ASKED:
            part.outcomes[key] = _membership(start, have)
            return
        if role is Role.HEADER and part.elements(key)[0].name == "tags":
            part.outcomes[key] = _tags(start, have)
            return
    stands = [_stand(element, entry, role) for element, entry in zip(have, asked, strict=True)]
    base_stand = _stand(start, before, role)
    if entries and entries[0].about in WITHOUT_BODY:
        stands = [stand or _forgotten(base_stand) for stand in stands if stand or base_stand]
    outcome = resolve(base_stand, stands, role)
    part.outcomes[key] = outcome
    if outcome.choice is not None:
        part.entries[key] = written(_about(part, key, entries, outcome), outcome.choice, outcome.texts)


def _merge_loose(part: Part, key: Key, before: Entry | None, have: Sequence[Entry | None]) -> None:
    """A line among the questions that asks nothing: a member of a set, as notes are."""
    present = [entry for entry in have if entry is not None]
    if present and (before is None or len(present) == len(have)):
        part.entries[key] = min([*present, *([before] if before else [])], key=lambda entry: shortest(entry.about))


def _stand(element: Element | None, entry: Entry | None, role: Role) -> Standing | None:
    return standing(element, entry, role) if element is not None or entry is not None else None


def _forgotten(base: Standing | None) -> Standing | None:
    """A question without a line in the body that a side deleted: what the base stands on is chosen, and not kept."""
    if base is None:
        return None
    chosen = base.choice.chosen if len(base.choice.chosen) == 1 else base.choice.wordings
    return Standing(Choice(base.choice.wordings, frozenset(sorted(chosen, key=repr)[:1])), base.texts, base.about)


def _membership(start: Element | None, have: Sequence[Element | None]) -> Outcome:
    """A member of a set: kept if base and all sides have it, added if any side added it."""
    present = [element for element in have if element is not None]
    if start is not None and len(present) < len(have):
        return Outcome(None, None, {})
    changed = {element.text for element in present if start is None or element.text != start.text}
    return Outcome(min(changed, key=shortest) if changed or start is None else start.text, None, {})


def _tags(start: Element | None, have: Sequence[Element | None]) -> Outcome:
    sides = [tags_of(element.text) if element else frozenset() for element in have]
    before = tags_of(start.text) if start else frozenset()
    tags = merged_set(before, sides)
    if not tags:
        return Outcome(None, None, {})
    known = {e.text for e in have if e is not None and tags_of(e.text) == tags and (not start or e.text != start.text)}
    if start and tags == before:
        known = known or {start.text}
    if known:
        return Outcome(min(known, key=shortest), None, {})
    order = [tag for tag in map(plain, start.text.split(",") if start else ()) if tag in tags]
    return Outcome(", ".join([*dict.fromkeys(order), *sorted(tags - set(order), key=str.encode)]), None, {})


def _aliases(sheets: Sequence[tuple[Sheet, Keyed]]) -> dict[str, Key]:
    """One key for each thing that entries are about: the base's place of it, else a new line's, else its name."""
    found: dict[str, set[Key]] = {}
    for sheet, keys in sheets:
        places = {id(element): key for key, element in keys.items()}
        for entry, _ in sheet.entries:
            body = body_of(sheet, entry) if entry.wordings else None
            here = found.setdefault(_named(entry), set())
            if body is not None:
                here.add(places[id(body)])
    return {name: min(keys, key=repr) if keys else ("entry", name) for name, keys in found.items()}


def _with_entries(sheet: Sheet, keys: Keyed, aliases: Mapping[str, Key]) -> tuple[dict[Key, Element], dict[Key, Entry]]:
    """A sheet's elements and entries under one key each; a second entry on one line stands for itself."""
    renamed = dict(keys)
    places = {id(element): key for key, element in keys.items()}
    entries: dict[Key, Entry] = {}
    for entry, _ in sheet.entries:
        key = aliases[_named(entry)] if entry.wordings else ("loose", _named(entry))
        body = body_of(sheet, entry) if entry.wordings else None
        if key in entries:
            key = ("entry", _named(entry), repr(entry.wordings))
        elif body is not None and places[id(body)] != key and key not in renamed:
            renamed = {key if old == places[id(body)] else old: element for old, element in renamed.items()}
        entries[key] = entry
    return renamed, entries


def _named(entry: Entry) -> str:
    return plain(entry.about).casefold()


def _about(part: Part, key: Key, entries: Sequence[Entry], outcome: Outcome) -> str:
    """The oldest name of the question; a new one is named after the base's line, else after the first wording."""
    if entries:
        return min((entry.about for entry in entries), key=shortest)
    start = part.start.get(key)
    if start is not None and part.base is not None:
        return about(start, part.base.elements)
    names = [about(element, sheet.elements) for sheet, keys in part.sides if (element := keys.get(key))]
    return min(names, key=shortest)
