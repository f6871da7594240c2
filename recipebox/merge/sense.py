"""Checks that a merged recipe is a dish somebody could cook; what fails becomes a question."""

from collections import Counter
from collections.abc import Hashable

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Ingredient, Role
from recipebox.compare import step_names
from recipebox.merge.algebra import LEAVE_OUT, Choice, shortest
from recipebox.merge.entries import about, written
from recipebox.merge.match import Key
from recipebox.merge.part import Part
from recipebox.merge.resolve import Outcome
from recipebox.merge.sheet import Sheet, ingredient_meaning, known_by, plain

Known = tuple[str, str]


def made_sense(part: Part) -> None:
    """Turn what makes no sense into questions: an ingredient twice by accident, a step without its ingredient."""
    _once_each(part)
    _steps_once(part)
    _steps_have_theirs(part)


def _once_each(part: Part) -> None:
    """A thing stands no more often in a group than some side had it; lines too many become wordings of the first."""
    sheets = [sheet for sheet, _ in part.sides] + ([part.base] if part.base else [])
    standing: dict[Known, list[Key]] = {}
    for key, outcome in part.outcomes.items():
        if outcome.text is not None and part.role(key) is Role.INGREDIENT:
            known = _known(part, key, outcome.text)
            if known is not None:
                standing.setdefault(known, []).append(key)
    for known, keys in standing.items():
        most = max(_count(sheet, known) for sheet in sheets)
        if len(keys) > max(most, 1):
            keys.sort(key=lambda key: (key[0] != "base", shortest(part.outcomes[key].text or ""), repr(key)))
            for extra in keys[max(most, 1) :]:
                _join(part, keys[0], extra)


def _join(part: Part, kept: Key, extra: Key) -> None:
    texts: dict[Hashable, str] = {}
    wordings: set[Hashable] = set()
    chosen: set[Hashable] = set()
    remembered = False
    for key in (kept, extra):
        outcome = part.outcomes[key]
        tokens = outcome.choice.wordings if outcome.choice else {_token(outcome.text or "")}
        for token in tokens:
            wordings.add(token)
            if token != LEAVE_OUT:
                text = outcome.texts.get(token) or outcome.text or ""
                texts[token] = min(text, texts.get(token, text), key=shortest)
        if outcome.choice:
            chosen |= outcome.choice.chosen
            remembered = remembered or outcome.choice.kept
    choice = Choice(frozenset(wordings), frozenset(chosen), remembered)
    settled = choice.settled
    body = min((texts[t] for t in wordings if t != LEAVE_OUT), key=lambda t: t.encode("utf-8", "surrogatepass"))
    if settled is not None and settled != LEAVE_OUT:
        body = texts[settled]
    asked = choice if len(wordings) > 1 else None
    part.outcomes[kept] = Outcome(body, asked, texts)
    part.outcomes[extra] = Outcome(None, None, {})
    name = part.entries[kept].about if kept in part.entries else _about(part, kept)
    part.entries.pop(extra, None)
    part.entries.pop(kept, None)
    if asked is not None:
        part.entries[kept] = written(name, asked, texts)


def _steps_once(part: Part) -> None:
    """A step two sides brought under different keys stands once, unless some side itself had it twice."""
    sheets = [sheet for sheet, _ in part.sides] + ([part.base] if part.base else [])
    standing: dict[str, list[Key]] = {}
    for key, outcome in part.outcomes.items():
        if outcome.text is not None and part.role(key) is Role.STEP:
            standing.setdefault(plain(outcome.text), []).append(key)
    for text, keys in standing.items():
        most = max(sum(e.role is Role.STEP and plain(e.text) == text for e in sheet.elements) for sheet in sheets)
        spare = [key for key in sorted(keys, key=lambda key: (key[0] != "base", repr(key))) if key not in part.entries]
        for extra in spare[len(spare) - max(len(keys) - max(most, 1), 0) :]:
            part.outcomes[extra] = Outcome(None, None, {})


def _steps_have_theirs(part: Part) -> None:
    """An ingredient that one side took out stays, in question, if a step of another side's still speaks of it."""
    steps = [o.text for k, o in part.outcomes.items() if o.text is not None and part.role(k) is Role.STEP]
    there = {known_by(i) for i in _ingredients(part)}
    for key in [key for key in part.start if part.role(key) is Role.INGREDIENT]:
        element = part.start[key]
        if part.outcomes[key].text is not None or key in part.entries or element.ingredient is None:
            continue
        if known_by(element.ingredient) in there:
            continue
        own = [
            {plain(e.text) for e in keys.values() if e.role is Role.STEP} for _, keys in part.sides if key not in keys
        ]
        foreign = [text for text in steps if not any(plain(text) in written_steps for written_steps in own)]
        if any(step_names(text, element.ingredient) for text in foreign):
            token = _token(element.text)
            choice = Choice(frozenset({token, LEAVE_OUT}))
            texts: dict[Hashable, str] = {token: element.text}
            part.outcomes[key] = Outcome(element.text, choice, texts)
            part.entries[key] = written(_about(part, key), choice, texts)


def _about(part: Part, key: Key) -> str:
    start = part.start.get(key)
    if start is not None and part.base is not None:
        return about(start, part.base.elements)
    names = [about(element, sheet.elements) for sheet, keys in part.sides if (element := keys.get(key))]
    return min(names, key=shortest)


def _ingredients(part: Part) -> list[Ingredient]:
    texts = [o.text for k, o in part.outcomes.items() if o.text is not None and part.role(k) is Role.INGREDIENT]
    return [read_ingredient(text) for text in texts]


def _known(part: Part, key: Key, text: str) -> Known | None:
    element = part.elements(key)[0]
    ingredient = read_ingredient(text)
    if element.ingredient is None or ingredient.kind != "ingredient" or not known_by(ingredient):
        return None
    groups = {plain(e.group or "").casefold() for e in part.elements(key)}
    return known_by(ingredient), min(groups)


def _count(sheet: Sheet, known: Known) -> int:
    lines = [e for e in sheet.elements if e.ingredient is not None]
    return Counter((known_by(e.ingredient), plain(e.group or "").casefold()) for e in lines if e.ingredient)[known]


def _token(text: str) -> Hashable:
    return ingredient_meaning(read_ingredient(text))
