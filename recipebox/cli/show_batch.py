"""A card at another size, for the cook: plain, with what was rounded and what to look out for."""

import re
from collections.abc import Sequence
from fractions import Fraction

from recipebox.cards import nouns
from recipebox.cards.model import Amount, Card, Ingredient, Makes
from recipebox.cautions import NOTICE, Caution, SizeCaution
from recipebox.cli import say
from recipebox.measures import PanShare, Shown
from recipebox.measures.written import about

_MANY_MADE = 10
_TOLD = Fraction(1, 50)  # a rounding beyond this is marked with its error


def show_batch(
    card: Card,
    factor: Fraction,
    shown: Sequence[tuple[Ingredient, Shown]],
    pans: Sequence[PanShare],
    cautions: Sequence[SizeCaution | Caution],
) -> None:
    """Print title, facts, ingredients, method, pans and cautions of a card that was made `factor` times."""
    say.heading(card.title or "(no title)")
    for name, value in _facts(card, factor):
        say.line(value, first=f"{name}: ")
    print()
    say.line(_times(factor) + (f" ({card.called})" if card.path != "-" else ""))
    rest = list(shown)
    if card.ingredients:
        say.heading("Ingredients")
        _show_lines(rest[: len(card.ingredients)])
    rest = rest[len(card.ingredients) :]
    if card.steps:
        say.heading("Method")
        for number, step in enumerate(card.steps, 1):
            say.line(step.text, first=f"{number:3}. ")
    if card.some_add:
        say.heading("Some add")
        for more, (_, one) in zip(card.some_add, rest, strict=False):
            say.line(f"{_marked(one)} | {', '.join(more.who)}", first="  ", rest="      ")
    rest = rest[len(card.some_add) :]
    if card.variations:
        say.heading("Variations")
    for other in card.variations:
        say.line(other.name, first="  ")
        for _, one in rest[: len(other.ingredients)]:
            say.line(_marked(one), first="    ", rest="        ")
        rest = rest[len(other.ingredients) :]
    if pans:
        say.heading("Pans")
        for use in dict.fromkeys(share.use for share in pans):
            _show_pans(use, [share for share in pans if share.use == use])
    if cautions:
        say.heading("Look out")
        for told in cautions:
            where = f"line {told.line}: " if told.line and not isinstance(told, Caution) else ""
            source = f" ({told.source})" if isinstance(told, Caution) else ""
            say.line(f"{where}{told.text}{source}", first="  - ")
    if any(isinstance(told, Caution) for told in cautions):
        print()
        say.line(NOTICE)


def _show_lines(lines: Sequence[tuple[Ingredient, Shown]]) -> None:
    group = None
    for ingredient, one in lines:
        if ingredient.group != group:
            group = ingredient.group
            say.line(group or "Besides")
        say.line(_marked(one), first="  ", rest="      ")


def _marked(one: Shown) -> str:
    """The line, with how far it is off where that is over 2 %."""
    if abs(one.error) <= _TOLD:
        return one.text
    percent = round(abs(one.error) * 100)
    if percent > 100:
        return f"{one.text}  (far more than exact)"
    return f"{one.text}  (rounded: {percent} % {'more' if one.error > 0 else 'less'})"


def _times(factor: Fraction) -> str:
    if factor == 1:
        return "the card's own batch"
    return f"{about(factor)} {'of the' if factor < 1 else 'times the'} card's batch"


def _made(makes: Makes, factor: Fraction) -> str:
    """ "2 loaves (9x5)", at half the batch "1 loaf (9x5)": bent only where the batch changed one into more."""
    head, *rest = re.split(r"(?= with | in | of | for | and |,| \()", makes.what, maxsplit=1)
    *before, noun = head.split(" ")
    is_one, was_one = makes.high <= 1, makes.high / factor <= 1
    if is_one != was_one and "dozen" not in before and not noun[:1].isupper():
        head = " ".join([*before, nouns.one(noun) if is_one else nouns.many(noun)])
    # Of many biscuits nobody makes half a one; of a loaf or a tray, half is told.
    low, high = (Fraction(end // 1) if end >= _MANY_MADE else end for end in (makes.low, makes.high))
    less = "about " if (low, high) != (makes.low, makes.high) else ""
    return f"{less}{_ends(Amount(low, high))} {head}{''.join(rest)}".strip()


def _people(serves: Amount) -> str:
    """Whole people, counted down: nobody is fed a third."""
    whole = [Fraction(max(end // 1, 1)) if end > 1 else end for end in (serves.low, serves.high)]
    return ("" if whole == [serves.low, serves.high] else "about ") + _ends(Amount(*whole))


def _ends(amount: Amount) -> str:
    return " to ".join(about(end) for end in dict.fromkeys((amount.low, amount.high)))


def _facts(card: Card, factor: Fraction) -> list[tuple[str, str]]:
    facts = []
    if card.serves:
        facts.append(("serves", _people(card.serves)))
    if card.makes:
        facts.append(("makes", _made(card.makes, factor)))
    if card.pan:
        count = f"{card.pan.count} x " if card.pan.count > 1 and card.pan.shape != "muffin" else ""
        facts.append(("pan", f"{count}{card.pan.text}"))
    return facts + [("oven", bake.text) for bake in card.oven]


def _show_pans(use: str, shares: Sequence[PanShare]) -> None:
    first = shares[0]
    words = [say.count(len(shares), "pan")]
    if len(shares) > 1:
        words[0] += " alike"
    if first.pan is not None:
        words.append(f"each {first.pan.text}" if len(shares) > 1 else first.pan.text)
    words.append(f"{about(first.batch)} of the card's batch" if first.batch != 1 else "the card's whole batch")
    if first.serves is not None:
        words.append(f"serves {_people(first.serves)}")
    say.line(", ".join(words), first=f"  {use:<8} ")
