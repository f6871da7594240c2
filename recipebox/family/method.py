"""The method of a family recipe: the base's steps, with what was adopted woven in and what was left out taken out."""

import re

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import part_in_dish
from recipebox.family.adopting import weave_in
from recipebox.family.crediting import Method, Step, credit_others, pairs
from recipebox.family.joining import named
from recipebox.family.lineup import LineUp
from recipebox.family.model import NotTaken, Source
from recipebox.family.sentences import calm, mentions, said, sentences
from recipebox.family.taking import Taken
from recipebox.family.weaving import freed_of, names, renamed, uses, without_talk

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
        method.named += _forgotten(lineup, taken, method)
        foreign = {
            called: not_listed(card, lineup, taken) + _other_names(card, lineup, taken)
            for called, card in lineup.cards.items()
        }
        woven_from = weave_in(lineup, taken, foreign, method)
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


def _forgotten(lineup: LineUp, taken: Taken, method: Method) -> list[int]:
    """Rows of things that the base's steps name though it lists no such thing, and another version does."""
    known = [*(one.written for one in taken.listed), *lineup.base.ingredients]
    listed_rows = {at for one in taken.listed for at in one.rows}
    return [
        at
        for at, row in enumerate(lineup.rows)
        if at not in listed_rows
        and lineup.base.called not in row.cells
        and any(
            _could_be_forgotten(cell.thing) and any(uses(step.text, cell.ingredient, known) for step in method.steps)
            for cell in row.cells.values()
        )
    ]


def _could_be_forgotten(name: str) -> bool:
    """Water is everywhere; a pastry or sauce that the steps name is what they make."""
    return name != "water" and part_in_dish(name) not in ("pastry", "soup or sauce")


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
            if all(mentions(text, line) for line in needed) and _mostly_the_same(text, step.text):
                return Source(called, card.steps[j].line, text)
    return None


def still_speaks(method: Method, line: Ingredient) -> str:
    """A note for a line that a person left out and whose step no words at hand can mend."""
    number = next(n for n, step in enumerate(method.steps, start=1) if names(step.text, line))
    return f"Step {number} still speaks of {named(line)}, which the family left out."


def _mostly_the_same(one: str, other: str) -> bool:
    words, others = set(said(one).split()), set(said(other).split())
    return 2 * len(words & others) >= max(len(words), len(others))


def _quantities(text: str) -> list[str]:
    return sorted(re.findall(r"\d+(?:[./]\d+)?", text))
