"""The method of a family recipe: the base's steps, with what was adopted woven in and what was left out taken out."""

import re
from collections.abc import Sequence

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import thing
from recipebox.family.crediting import Method, Step, credit_others, pairs
from recipebox.family.lineup import LineUp
from recipebox.family.model import NotTaken, Source, plain_item
from recipebox.family.sentences import calm, mentions, said, sentences, short_name
from recipebox.family.taking import Listed, Taken
from recipebox.family.weaving import (
    SEASONING,
    fallback_sentence,
    freed_of,
    names,
    placed,
    renamed,
    takes_everything,
    without_talk,
    woven,
)

_YIELD = re.compile(r"(?:this\s+)?(?:serves|feeds|makes enough for)\s[^.]{1,20}\.?", re.IGNORECASE)
_SIGNED = re.compile(r"[A-ZÀ-Þ][\w'’-]+[.,]\s.*\b(?:19|20)\d\d\b", re.DOTALL)


def follow_base(lineup: LineUp, taken: Taken) -> Method:
    """Write the method. A single version's method stays as it is, word for word."""
    base = lineup.base
    steps = [
        Step(
            step,
            step.text if len(lineup.cards) == 1 else calm(step.text),
            [Source(base.called, step.line, step.text)],
            f"as {base.name} does it",
        )
        for step in base.steps
    ]
    method = Method(steps)
    if len(lineup.cards) > 1:
        _unsigned(taken, method)
        _without_yield(base, method)
        _still_talk(lineup, taken, method)
        _take_out(lineup, taken, method)
        woven_from = _weave_in(lineup, taken, method)
        credit_others(lineup, method, woven_from)
    return method


def _unsigned(taken: Taken, method: Method) -> None:
    """Leave out a last step that only signs the card ("Nuala, Leeds, February 2025")."""
    last = method.steps[-1] if len(method.steps) > 1 else None
    if last and _SIGNED.match(last.text) and not any(mentions(last.text, one.written) for one in taken.listed):
        method.steps.remove(last)
        method.not_taken.append(NotTaken(last.sources[0], "version", "it signs the card"))


def _without_yield(base: Card, method: Method) -> None:
    """Leave out of the steps what the header says: "Serves 6."."""
    for step in method.steps:
        whole = sentences(step.text)
        kept = [one for one in whole if not (base.serves and _YIELD.fullmatch(one))]
        if kept and len(kept) < len(whole):
            step.text = " ".join(kept)


def not_listed(card: Card, lineup: LineUp, taken: Taken) -> list[Ingredient]:
    """The lines of a version for which nothing is listed in any of their rows."""
    listed_rows = {at for one in taken.listed for at in one.rows}
    return [
        line for line in card.ingredients if not listed_rows & set(lineup.rows_of(card.called, line)) and line.items
    ]


def _still_talk(lineup: LineUp, taken: Taken, method: Method) -> None:
    """Leave out what the base's cook tells of things that are in other cards only ("I never have buttermilk")."""
    base = lineup.base
    listed = [one.written for one in taken.listed]
    foreign = [
        line
        for card in lineup.cards.values()
        if card is not base
        for line in not_listed(card, lineup, taken) + _other_names(card, lineup, taken)
    ]
    for step in list(method.steps):
        adopted = [one.written for one in taken.listed if one.called != base.called]
        text = without_talk(step.text, foreign, [*listed, *base.ingredients], adopted)
        if text and text != step.text:
            step.text, step.rule = text, f"as {base.name} does it"


def _other_names(card: Card, lineup: LineUp, taken: Taken) -> list[Ingredient]:
    """Lines of a version that meet a listed line under the name of another thing."""
    found: list[Ingredient] = []
    for one in taken.listed:
        for at in one.rows:
            cells = lineup.rows[at].cells
            if card.called in cells and one.called in cells and cells[card.called].thing != cells[one.called].thing:
                found += cells[card.called].lines
    return found


def _take_out(lineup: LineUp, taken: Taken, method: Method) -> None:
    """Free the steps of what the base has and the recipe has not; name what came in its place."""
    base = lineup.base
    listed = [one.written for one in taken.listed]
    for line in base.ingredients:
        if any(one.called == base.called and one.line is line for one in taken.listed):
            continue
        rows = set(lineup.rows_of(base.called, line))
        instead = next((one for one in taken.listed if rows & set(one.rows)), None)
        for step in list(method.steps):
            if not names(step.text, line):
                continue
            text = renamed(step.text, line, instead.written, listed) if instead else freed_of(step.text, line, listed)
            if text is None:
                other = _step_instead(lineup, taken, method, step)
                if other is None:
                    method.stuck.append(line)
                    continue
                step.text, step.sources, step.rule = other.text, [*step.sources, other], f"without {line.item}"
            elif text == "":
                method.steps.remove(step)
                method.not_taken.append(NotTaken(step.sources[0], "some add", f"it is about {line.item}"))
            elif text != step.text:
                how = f"with {instead.written.item}" if instead else f"without {line.item}"
                step.text, step.rule = text, f"as {base.name} does it, {how}"


def _step_instead(lineup: LineUp, taken: Taken, method: Method, step: Step) -> Source | None:
    """The same step as another version does it, if it names only what is listed and all that only this step names."""
    base = lineup.base
    at = next(number for number, one in enumerate(base.steps) if one is step.passage)
    others = " ".join(one.text for one in method.steps if one is not step)
    have = {said(sentence) for sentence in sentences(others)}
    needed = [one.written for one in taken.listed if names(step.text, one.written) and not names(others, one.written)]
    for called in lineup.rank:
        card = lineup.cards[called]
        if card is base:
            continue
        foreign = not_listed(card, lineup, taken)
        for i, j in pairs(base, card):
            if i != at or j is None:
                continue
            text = card.steps[j].text
            if _quantities(text) != _quantities(step.text) or any(names(text, line) for line in foreign):
                continue
            if any(said(sentence) in have for sentence in sentences(text)):
                continue
            if all(names(text, line) for line in needed):
                return Source(called, card.steps[j].line, text)
    return None


def _weave_in(lineup: LineUp, taken: Taken, method: Method) -> list[tuple[Step, Source]]:
    """Give each listed ingredient that no step names a place, from the version it came from; a note where none fits."""
    credit: list[tuple[Step, Source]] = []
    left: list[tuple[Step, Listed]] = []
    for number, one in enumerate(taken.listed):
        if not method.steps or any(_speaks(step.text, one, lineup) for step in method.steps):
            continue
        step = _from_versions(lineup, taken, method, one, credit)
        if step is None and (one.called != lineup.base.called or thing(one.written.item) in SEASONING):
            left.append((_step_for(lineup, taken, method, number), one))
        elif step is None:
            method.notes.append(f"No card says in its method when the {_plain(one.written)} goes in.")
    for step in method.steps:
        items = [_plain(one.written) for at, one in left if at is step]
        if items:
            step.text = placed(step.text, fallback_sentence(items))
            step.rule += f", with {' and '.join(items)}"
    return credit


def _step_for(lineup: LineUp, taken: Taken, method: Method, number: int) -> Step:
    """The step a sentence about a listed thing goes into: where another version names it, else its neighbour's."""
    one = taken.listed[number]
    for called in lineup.rank:
        card = lineup.cards[called]
        for j, passage in enumerate(card.steps):
            if card is not lineup.base and mentions(passage.text, one.written):
                return _aligned(method, lineup.base, pairs(lineup.base, card), j)
    return _step_of_neighbour(taken, method, number)


def _speaks(text: str, one: Listed, lineup: LineUp) -> bool:
    """Whether a step speaks of a listed thing: by name if it was adopted, else also with others ("the rest of it")."""
    if one.called == lineup.base.called:
        return names(text, one.written)
    return bool(mentions(text, one.written)) or (takes_everything(text) and _names_few(lineup.base))


def _names_few(base: Card) -> bool:
    """Whether a card's method names less than half of what it lists ("Mix all together and bake.")."""
    method = " ".join(step.text for step in base.steps)
    return 2 * sum(bool(mentions(method, line)) for line in base.ingredients) < len(base.ingredients)


def _from_versions(
    lineup: LineUp, taken: Taken, method: Method, one: Listed, credit: list[tuple[Step, Source]]
) -> Step | None:
    base = lineup.base
    having = [
        called
        for called in (one.called, *lineup.rank)
        if called != base.called and any(called in lineup.rows[at].cells for at in one.rows)
    ]
    listed = [other.written for other in taken.listed if other is not one]
    for called in dict.fromkeys(having):
        card = lineup.cards[called]
        foreign = not_listed(card, lineup, taken) + _other_names(card, lineup, taken)
        met = pairs(base, card)
        for j, passage in enumerate(card.steps):
            if not names(passage.text, one.written):
                continue
            step = _aligned(method, base, met, j)
            own_words = [s.text for s in method.steps]
            text, where = woven(
                step.text, passage.text, one.written, listed, foreign, own_words, one.called == base.called
            )
            target = step if where is None else method.steps[where]
            if text is None:
                continue
            target.text = text
            target.rule += f", with {_plain(one.written)} from {card.name}"
            credit.append((target, Source(called, passage.line, passage.text)))
            return target
    return None


def _aligned(method: Method, base: Card, steps: Sequence[tuple[int | None, int | None]], j: int) -> Step:
    """The step of the method that a version's step j goes with: its own, else the one before it that has one."""
    met = {other: own for own, other in steps if own is not None and other is not None}
    for at in (j, *range(j - 1, -1, -1), *range(j + 1, max(met, default=0) + 1)):
        own = met.get(at)
        if own is not None:
            found = next((step for step in method.steps if step.passage is base.steps[own]), None)
            if found:
                return found
    return method.steps[0]


def _step_of_neighbour(taken: Taken, method: Method, number: int) -> Step:
    """The step that names the ingredient listed above, or the first that says to mix; never after the baking."""
    for above in range(number - 1, -1, -1):
        found = [step for step in method.steps if names(step.text, taken.listed[above].written)]
        if found:
            return found[0]
    return method.steps[0]


def still_speaks(method: Method, line: Ingredient) -> str:
    """A note for a line that a person left out and whose step no words at hand can mend."""
    number = next(n for n, step in enumerate(method.steps, start=1) if names(step.text, line))
    return f"Step {number} still speaks of {_plain(line)}, which the family left out."


def _quantities(text: str) -> list[str]:
    return sorted(re.findall(r"\d+(?:[./]\d+)?", text))


def _plain(ingredient: Ingredient) -> str:
    return short_name(plain_item(ingredient))
