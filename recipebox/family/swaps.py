"""Swaps between versions: how much of one stands for the other, what comes of it, which allergens come and go."""

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from recipebox.cards.amounts import read_amount
from recipebox.cards.model import Card, Ingredient, Swap
from recipebox.cards.things import part_in_dish, thing
from recipebox.cards.unitwords import read_unit
from recipebox.cautions import allergen_change
from recipebox.family.choosing import rows_for
from recipebox.family.lineup import LineUp
from recipebox.family.model import Choices, FamilyError, FoundSwap, part_of, plain_item
from recipebox.family.taking import Taken
from recipebox.family.told import effect_told, told_swaps
from recipebox.measures import compare_amounts, footing, kitchen

ALWAYS_READ = "allergens are a hint from published word lists, never a verdict: always read the labels"
_WIDEST = Fraction(5)
_NEAR, _ABOUT = Fraction(4, 100), Fraction(8, 100)  # the second where a weight table was used
# Ratios a cook says in words; any other is said in amounts.
_TIMES = {
    Fraction(1): "the same {}",
    Fraction(1, 2): "half the {}",
    Fraction(1, 3): "a third of the {}",
    Fraction(1, 4): "a quarter of the {}",
    Fraction(2): "twice the {}",
    Fraction(3): "three times the {}",
}


def swap_between(
    card: Card, item: Ingredient, instead: Ingredient, factor: Fraction, more: Sequence[Ingredient]
) -> Swap:
    """What a version puts in place of an item, told in its own words where it has any.

    `factor` is how many times the batch of the item this version's batch is; `more` goes with what stands in.
    """
    told = next((one.swap for one in told_swaps(card, [item]) if thing(one.swap.instead) == thing(instead.item)), None)
    name, other = _bare(item), " and ".join(_bare(one) for one in (instead, *more))
    how = (told and told.how) or (_together(item, (instead, *more), factor) if more else None)
    how = how or how_much(item, instead, factor)
    effect = (told and told.effect) or effect_told(card, instead)
    return with_allergens(Swap(name, other, how, card.name, None, effect))


def with_allergens(swap: Swap) -> Swap:
    """The swap with what major_allergens.csv says it brings in and takes out."""
    if swap.source:
        return swap
    brings, takes = allergen_change(swap.item, swap.instead)
    return replace(swap, brings_in=tuple(brings), takes_out=tuple(takes))


def how_much(item: Ingredient, instead: Ingredient, factor: Fraction) -> str | None:
    """How much stands in for how much: "half the weight", "1 cup for 2 cups"; None where a card does not say."""
    ratio = compare_amounts(item, instead)
    if ratio is not None:
        times = ratio.value / factor
        near = 1 + (_ABOUT if ratio.approximate else _NEAR)
        for usual, words in _TIMES.items():
            if usual / near <= times <= usual * near:
                return words.format(_measured(item, instead))
    return amounts_of(item, instead, factor)


def amounts_of(item: Ingredient, instead: Ingredient, factor: Fraction) -> str | None:
    """Both amounts: "120 g for 140 g". Of things that only come whole, as many as that version's own batch takes."""
    if factor != 1 and instead.unit is None and instead.amount and (instead.amount.low / factor * 2).denominator > 1:
        here, there = _amount(instead, Fraction(1)), _amount(item, 1 / factor)
    else:
        here, there = _amount(instead, factor), _amount(item, Fraction(1))
    return f"{here} for {there}" if here and there else None


def stands_in(item: Ingredient, instead: Ingredient, factor: Fraction) -> bool:
    """Whether the amounts are near enough that one can be in the other's place: a teaspoon of oregano is not
    there for a bunch of parsley. Where a card does not say, it may."""
    ratio = compare_amounts(item, instead)
    return ratio is None or 1 / _WIDEST <= ratio.value / factor <= _WIDEST


def _together(item: Ingredient, several: Sequence[Ingredient], factor: Fraction) -> str | None:
    """How much of each of several things stands in: "1 1/2 cups and 1 1/2 Tbsp for 400 ml"."""
    here, there = [_amount(one, factor) for one in several], _amount(item, Fraction(1))
    return f"{' and '.join(one for one in here if one)} for {there}" if all(here) and there else None


def chosen_swaps(
    lineup: LineUp, taken: Taken, choices: Choices, asked: Collection[str] = ()
) -> dict[tuple[str, int], list[int]]:
    """Left-out rows of a version that stand in for a listed line: what a person chose, and a ready-made sauce or soup
    in the place of the flour that thickens (common practice, no source)."""
    found: dict[tuple[str, int], list[int]] = {}
    listed_at = {at: number for number, one in enumerate(taken.listed) for at in one.rows}
    for item, called in sorted(choices.swap.items()):
        try:
            at, number = _rows_of_choice(lineup, taken, listed_at, item, called)
        except FamilyError:
            if item in asked:
                raise
            continue  # an earlier edition's choice that has nothing to stand in for any more
        found.setdefault((called, at), []).append(number)
    for at in taken.out:
        for called, cell in lineup.rows[at].cells.items():
            if (called, at) in found or part_in_dish(cell.ingredient.item) != "soup or sauce":
                continue
            for number, one in enumerate(taken.listed):
                if "flour" in thing(one.line.item).split() and not _has(lineup, called, one.rows):
                    found[(called, at)] = [number]
    return found


def swaps_together(swaps: Iterable[FoundSwap]) -> list[FoundSwap]:
    """Swaps of several versions that say the same in one line, with all their names."""
    kept: dict[tuple[str, str], list[FoundSwap]] = {}
    for one in swaps:
        kept.setdefault((thing(one.swap.item), thing(one.swap.instead)), []).append(one)
    result = []
    for alike_ones in kept.values():
        by_words: dict[tuple[str | None, str | None], list[FoundSwap]] = {}
        for one in alike_ones:
            by_words.setdefault((one.swap.how, one.swap.effect), []).append(one)
        for ones in by_words.values():
            who = ", ".join(sorted({one.swap.who for one in ones if one.swap.who}))
            paths = tuple(sorted({path for one in ones for path in one.paths}))
            result.append(FoundSwap(replace(ones[0].swap, who=who or None), paths))
    return result


def _rows_of_choice(lineup: LineUp, taken: Taken, listed_at: dict[int, int], item: str, called: str) -> tuple[int, int]:
    """For --swap ITEM=NAME: NAME's row, and the listed line it stands in for. ITEM may be either of the two."""
    name = lineup.cards[called].name
    spare = [at for at in taken.out if called in lineup.rows[at].cells]
    lacked = [number for number, one in enumerate(taken.listed) if not _has(lineup, called, one.rows)]
    for at in rows_for(lineup, item):
        if at in listed_at:
            if called in lineup.rows[at].cells:
                return at, listed_at[at]
            other = _likest(lineup, spare, taken, [listed_at[at]])
            if other:
                return other
            raise FamilyError(f"{item}: {name}'s card has nothing left over that could stand in for it")
        if at in spare:
            other = _likest(lineup, [at], taken, lacked)
            if other:
                return other
    raise FamilyError(f"{item}: nothing in the recipe is lacking in {name}'s card for it to stand in for")


def _likest(lineup: LineUp, rows: Sequence[int], taken: Taken, numbers: Sequence[int]) -> tuple[int, int] | None:
    pairs = [
        (part_in_dish(lineup.rows[at].item) != part_in_dish(taken.listed[number].line.item), at, number)
        for at in rows
        for number in numbers
    ]
    return min(pairs)[1:] if pairs else None


def _has(lineup: LineUp, called: str, rows: Iterable[int]) -> bool:
    return any(called in lineup.rows[at].cells for at in rows)


def _bare(line: Ingredient) -> str:
    """The item without its size: a swap of onions for leeks is of onions, large or small."""
    return re.sub(r"^(?:(?:extra )?(?:large|small|medium|big)(?:-sized)?\s+)+", "", plain_item(line))


def _measured(item: Ingredient, instead: Ingredient) -> str:
    one, other = footing(item), footing(instead)
    if "ml" in one.direct and "ml" in other.direct:
        return "amount"
    if one.grams is not None and other.grams is not None:
        return "weight"
    return "amount" if one.ml is not None and other.ml is not None else "number"


def _amount(line: Ingredient, factor: Fraction) -> str | None:
    if line.amount is None or line.amount.low <= 0:
        return None
    if part_of(line):
        return f"the {part_of(line)} of {kitchen(line.amount.low / factor, None, line.item).text} {line.item}"
    written = _as_written(line) if factor == 1 else None
    if written:
        return written
    low = kitchen(line.amount.low / factor, line.unit, line.item).text
    if line.amount.high != line.amount.low:
        low += f" to {kitchen(line.amount.high / factor, line.unit, line.item).text}"
    if line.container is not None:
        low += f" ({kitchen(line.container.amount.low, line.container.unit, line.item).text})"
    return low


def _as_written(line: Ingredient) -> str | None:
    """The amount in the card's own words: "4 tablespoons", "1 can (10.5 oz)"."""
    read = read_amount(line.text)
    if read is None or read[0] != line.amount or line.plus or line.also:
        return None
    amount, rest = line.text[: read[1]].strip(), line.text[read[1] :]
    if line.unit is None:
        return amount if line.container is None else None
    unit = read_unit(rest.strip())
    if unit is None or unit[0] != line.unit:
        return None
    glued = "" if rest[:1].strip() else " "
    words = rest.strip()[: unit[1]].strip()
    words = words.lower() if len(words) > 2 and words.isupper() else words
    size = re.match(r"\s*\([^)]*\)", rest.strip()[unit[1] :]) if line.container else None
    if line.container and not size:
        return None
    return f"{amount}{glued}{words}{' ' + size.group().strip() if size else ''}"
