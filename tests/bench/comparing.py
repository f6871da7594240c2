"""Measure comparisons on one mixed set of made-up pairs: pure re-expressions, and pairs with planted changes.

    python tests/bench/comparing.py [PAIRS] [--worst N]

Half of the pairs have no change, the others one to three: an ingredient more or less, another amount, a swap, another
oven, another time, a step more. Each pair stands on its own batch, in its own units, words and order. A reported
difference is an ingredient row, a step row or the oven that is not `same`; it is right when it is about something that
was planted, a planted change is found when some reported difference is about it.
"""

import argparse
import random
from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction

from changing import OF_A_COMPARISON, Planted, changed
from writing import FACTORS, lists, recipe, scaled, written

from recipebox.cards.model import Card
from recipebox.cards.things import thing
from recipebox.compare import Comparison, Kind, compare


@dataclass
class Figures:
    """Counts over pairs; shares by property."""

    pairs: int = 0
    batch_right: int = 0
    pure: int = 0
    pure_same: int = 0
    planted: int = 0
    found: int = 0
    reported: int = 0
    right: int = 0
    wrong: list[str] = field(default_factory=list)
    by_kind: Counter[str] = field(default_factory=Counter)

    def shares(self) -> dict[str, float]:
        """Batch factor right, pure re-expressions without a difference, recall and precision of planted changes."""
        return {
            "batch": self.batch_right / (self.pairs or 1),
            "pure": self.pure_same / (self.pure or 1),
            "recall": self.found / (self.planted or 1),
            "precision": self.right / (self.reported or 1),
        }


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("pairs", nargs="?", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--worst", type=int, default=0)
    options = parser.parse_args()
    found = measured(options.pairs, options.seed)
    print({name: round(share, 4) for name, share in found.shares().items()}, f"{found.planted} planted")
    print(dict(found.by_kind))
    for line in found.wrong[: options.worst]:
        print(line)


def measured(pairs: int, seed: int) -> Figures:
    """Compare so many pairs and count."""
    chance = random.Random(seed)
    figures = Figures()
    for number in range(pairs):
        base = recipe(chance.choice(lists()), chance)
        other, planted = changed(base, chance.randint(1, 3), chance, OF_A_COMPARISON) if number % 2 else (base, [])
        factor = chance.choice(FACTORS)
        a = written(base, "a.txt", chance)
        b = written(scaled(other, factor), "b.txt", chance)
        _count(figures, a, b, factor, planted)
    return figures


def _count(figures: Figures, a: Card, b: Card, factor: Fraction, planted: list[Planted]) -> None:
    found = compare([a, b])
    told = reported(found)
    figures.pairs += 1
    figures.batch_right += found.batch["b.txt"] == factor
    if not planted:
        figures.pure += 1
        figures.pure_same += not told
    figures.planted += len(planted)
    figures.reported += len(told)
    hit = [one for one in planted if any(_about(one, difference) for difference in told)]
    true = [difference for difference in told if any(_about(one, difference) for one in planted)]
    figures.found += len(hit)
    figures.right += len(true)
    notes = [f"missed {one.kind} {set(one.about)}" for one in planted if one not in hit]
    notes += [f"false {kind} {what} {set(about)}" for kind, what, about in told if (kind, what, about) not in true]
    if found.batch["b.txt"] != factor:
        notes.append(f"batch {found.batch['b.txt']} not {factor}")
    figures.by_kind.update(" ".join(note.split()[: 3 if note.startswith("false") else 2]) for note in notes)
    if notes:
        figures.wrong += ["", *notes]
        for card in (a, b):
            figures.wrong += ["  " + "; ".join(line.text for line in card.ingredients)]
            figures.wrong += ["    " + " / ".join(step.text for step in card.steps)]


def reported(found: Comparison) -> list[tuple[str, str, frozenset[str]]]:
    """The differences a comparison reports: where, how, and the things, times or heats they are about."""
    told = [
        ("ingredient", row.kind.value, frozenset(cell.thing for cell in row.cells.values()))
        for row in found.ingredients
        if row.kind is not Kind.SAME
    ]
    for steps in found.steps:
        if steps.kind is not Kind.SAME:
            words = (*steps.added, *steps.removed)
            about = {_fact(word) for word in words} | {thing(word) for word in words}
            told.append(("step", steps.kind.value, frozenset(about)))
    if found.oven.kind is not Kind.SAME:
        told.append(("oven", found.oven.kind.value, frozenset(["oven"])))
    return told


def _fact(words: str) -> str:
    """ "10 minutes" is "step 10", "350 F" is "oven"; anything else is itself."""
    figure, _, unit = words.partition(" ")
    if unit in ("minute", "minutes"):
        return f"step {figure}"
    if unit in ("hour", "hours"):
        return f"step {round(float(figure) * 60)}"
    return "oven" if unit == "F" else words


def _about(one: Planted, difference: tuple[str, str, frozenset[str]]) -> bool:
    where, _, about = difference
    if one.kind in ("time", "step") and where == "oven":
        return True  # a changed baking time shows in the oven row
    return bool(one.about & about)


if __name__ == "__main__":
    main()
