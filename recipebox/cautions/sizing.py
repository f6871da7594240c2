"""What to look out for when a card is made at another size: what does not grow evenly, and where it may go wrong.

Rules that no table gives are common practice and say so; the others name their source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.cards.model import Amount, Card, Ingredient, Pan
from recipebox.cards.things import part_in_dish, thing
from recipebox.cautions.rules import cold_storage
from recipebox.measures import (
    PanFit,
    PanShare,
    awkward,
    before_cooking,
    kitchen,
    pan_volume_ml,
    pans_near,
    scale_ingredient,
)
from recipebox.measures.written import about
from recipebox.tables.load import rows

PRACTICE = "common practice, no source"
_RISES = frozenset({"raising agent"})
_RISING_FLOUR = frozenset({"self rising flour", "self raising flour", "pancake mix", "biscuit mix"})
_SALT = frozenset({"salt"})
_STRONG = frozenset({"pepper", "hot spice", "warm spice", "savory spice", "hot pepper", "dried herb", "flavoring"})
_EGGS_ROW = "Egg whites and yolks, raw"
_MOST = 2000  # letters of one step that are looked at
_NUMBER = r"(?:\d{1,4} \d{1,2}/\d{1,2}|\d{1,4}/\d{1,4}|\d{1,4}(?:[.,]\d{1,3})?\s?[½¼¾⅓⅔⅛]?|[½¼¾⅓⅔⅛])"
_AMOUNT = re.compile(
    rf"(?<![\w/.,-]){_NUMBER}\s?-?(?:cups?|tablespoons?|teaspoons?|tbsp|tsp|fl oz|ounces?|oz|pounds?|lbs?|grams?"
    r"|g|kg|ml|litres?|liters?|dl|pints?|quarts?|qt|cans?|tins?|eggs?)\b(?!\s*(?:[\w-]+\s+){0,2}(?:dish|pan|tin|casserole|bowl|pot|jar|muffin))",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class SizeCaution:
    """One thing to look out for: the card's line it is about (0: no line of its own), and what to do."""

    line: int
    text: str


def sizing_cautions(
    card: Card, factor: Fraction, pan: Pan | None = None, fit: PanFit | None = None, pans: Sequence[PanShare] = ()
) -> list[SizeCaution]:
    """What to look out for when `card` is made `factor` times, in `pan` if one was asked for (`fit` compared it).

    `pans` is how the batch is shared out, if it is.

    Eggs and cans that come out in parts, cooked things that are to be cooked first; and unless the size is the card's
    own: leavening, salt, strong spice, oven time, the pan, and whatever in the card speaks of its own batch.
    """
    found = [*_parts_of_things(card, factor), *_to_cook_first(card, factor)]
    if factor != 1:
        found += _uneven(card, factor)
        found += _own_batch(card)
    if factor != 1 or pan is not None or any(one.batch != 1 for one in pans):
        found += _oven(card)
        found += _new_pan(card, pan, fit) if pan is not None else _same_pan(card, factor, pans)
    return found


def _parts_of_things(card: Card, factor: Fraction) -> Iterator[SizeCaution]:
    for line in card.ingredients:
        told = awkward(scale_ingredient(line, factor))
        if told is not None:
            egg = line.unit is None and "egg" in thing(line.item).split()
            yield SizeCaution(line.line, f"{told}. {_rest_of_an_egg()}" if egg else f"{told}.")


def _rest_of_an_egg() -> str:
    found = next((kept for _, kept in cold_storage() if kept.food == _EGGS_ROW), None)
    if found is None or found.fridge_days is None:
        return "Cover the rest and chill it."
    low, high = found.fridge_days
    return f"Chill the rest: for raw whites and yolks {found.source} gives {low} to {high} days in the fridge."


def _to_cook_first(card: Card, factor: Fraction) -> Iterator[SizeCaution]:
    for line in card.ingredients:
        if line.amount is None or line.unit is None or line.amount.low <= 0:
            continue
        dry = before_cooking(line.amount.low * factor, line.unit, line.item)
        if dry is not None:
            amount = kitchen(dry.amount, dry.unit, dry.food).text
            yield SizeCaution(line.line, f"{line.item}: cook about {amount} dry ({dry.source}).")


def _uneven(card: Card, factor: Fraction) -> Iterator[SizeCaution]:
    rises = [line for line in card.ingredients if _is(line, _RISES) or thing(line.item) in _RISING_FLOUR]
    if rises:
        advice = (
            "what makes it rise does not grow evenly with the batch: beyond double or half of a batch that is known to "
            "work, bake in separate batches or change it a little at a time"
        )
        yield _grouped(rises, advice)
    grown = [line for line in card.ingredients if line.amount is not None]
    salty = [line for line in grown if _is(line, _SALT)]
    strong = [line for line in grown if _is(line, _STRONG) and line not in salty]
    advice = "add about three quarters of what is shown, taste, then add more" if factor > 1 else "taste before serving"
    if salty:
        yield _grouped(salty, f"better too little than too much: {advice}")
    if strong:
        yield _grouped(
            strong, f"strong spice and flavoring grow stronger in a large batch and are lost in a small one: {advice}"
        )


def _is(line: Ingredient, parts: frozenset[str]) -> bool:
    return any(part_in_dish(item) in parts for item in line.items or (line.item,))


def _grouped(lines: Sequence[Ingredient], advice: str) -> SizeCaution:
    items = ", ".join(dict.fromkeys(line.item for line in lines))
    return SizeCaution(lines[0].line, f"{items}: {advice} ({PRACTICE}).")


def _oven(card: Card) -> Iterator[SizeCaution]:
    bake = next((one for one in card.oven if one.minutes is not None), next(iter(card.oven), None))
    if bake is None:
        return
    minutes = ""
    if bake.minutes is not None:
        minutes = f"the {_time(bake.minutes)} are for the card's own batch and pan: "
    yield SizeCaution(
        bake.line,
        f"Oven: the heat stays, the time does not grow with the batch; {minutes}less food or a shallower pan is done "
        "sooner, a fuller or deeper pan, or two pans at once, later. Look early and go by a food thermometer "
        f"({PRACTICE}).",
    )


def _time(minutes: Amount) -> str:
    """ "30 to 35 minutes", "4 hours"."""
    hours = minutes.low >= 120 and all((end / 15).denominator == 1 for end in (minutes.low, minutes.high))
    ends = dict.fromkeys(end / 60 if hours else end for end in (minutes.low, minutes.high))
    return f"{' to '.join(write_amount(end) for end in ends)} {'hours' if hours else 'minutes'}"


def _same_pan(card: Card, factor: Fraction, pans: Sequence[PanShare]) -> Iterator[SizeCaution]:
    """Where the food goes when no other pan was asked for: into several pans, or one of another size."""
    share = pans[0].batch if pans else factor
    if card.pan is None or share == 1:
        return
    text = f'Pan: "{card.pan.text}" fits the card\'s own batch; keep the food as deep as it was ({PRACTICE}).'
    if pans:
        text = f"Each pan gets {about(share)} of the card's batch. {text}"
    elif share.denominator == 1:
        text += f" {share} of them take this batch."
    held = pan_volume_ml(card.pan)
    names = pans_near(held * share) if held is not None else ()
    if names:
        text += f" By published pan lists, which differ by up to a fifth, about as much goes into: {', '.join(names)}."
    yield SizeCaution(_pan_line(card), text)


def _new_pan(card: Card, pan: Pan, fit: PanFit | None) -> Iterator[SizeCaution]:
    if fit is not None:
        why = f": {fit.why}" if fit.why else ""
        yield SizeCaution(_pan_line(card), f'Pan: "{pan.text}" was compared by {fit.by}{why}.')
    yield SizeCaution(
        _pan_line(card),
        f"Pan depth: where the food stands deeper than before it needs longer, and may brown before it is done "
        f"within; shallower, it dries sooner ({PRACTICE}).",
    )
    if "glass" in pan.text.lower() and (card.pan is None or "glass" not in card.pan.text.lower()):
        row = next(row for row in rows("oven_marks") if row["words"].startswith("adjustment: glass"))
        lower = f"{row['fahrenheit'].removeprefix('-')} F ({row['celsius'].removeprefix('-')} C)"
        yield SizeCaution(_pan_line(card), f"Glass in place of metal: set the oven {lower} lower ({row['source']}).")


def _pan_line(card: Card) -> int:
    return next((header.line for header in card.headers if header.name in ("pan", "dish", "tin", "baking dish")), 0)


def _own_batch(card: Card) -> Iterator[SizeCaution]:
    """What the card says in words and is not scaled."""
    for step in card.steps:
        named = amounts_in(step.text)
        if named:
            quoted = ", ".join(f'"{one}"' for one in named)
            yield SizeCaution(step.line, f"The method says {quoted}: that is for the card's own batch.")
    for entry in (*card.undecided, *card.settled):
        yield SizeCaution(entry.line, f"{entry.about}: these wordings are for the card's own batch.")


def amounts_in(step: str) -> tuple[str, ...]:
    """Amounts of food that a step names ("1 cup", "2 Tbsp", "half the milk" is none): not times, heats or lengths."""
    return tuple(dict.fromkeys(match.group().strip() for match in _AMOUNT.finditer(step[:_MOST])))
