"""Measure how well cards are grouped into dishes, and where the two cuts should lie.

    python tests/bench/same_dish.py [--curve] [--dishes N] [--singles N] [--seeds N]

The full size is --dishes 1000 --singles 5000 --seeds 1 --first 30.
"""

import argparse
import json
import time
from collections import defaultdict
from collections.abc import Iterable, Mapping
from itertools import combinations
from pathlib import Path

from kitchens import kitchen
from writing import DATASETS, lists

from recipebox.cards.model import Card, Passage
from recipebox.cards.sayings import Sayings
from recipebox.dishes import Features, candidates, features, group, likeness
from recipebox.dishes.likeness import CUT, CUT_METHOD

WAY = ("titles", "steps", "near misses", "look-alikes")
WAYS = (
    (True, True, False, False),
    (True, False, False, False),
    (False, False, False, False),
    (True, True, True, False),
    (True, True, False, True),
)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--curve", action="store_true")
    parser.add_argument("--dishes", type=int, default=100)
    parser.add_argument("--singles", type=int, default=300)
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--first", type=int, default=0, help="the first seed; tune.py has seen 10 to 20")
    parser.add_argument("--least", type=int, default=6, help="lines of a list")
    options = parser.parse_args()
    for way in WAYS:
        told = ", ".join(f"{'' if there else 'no '}{name}" for name, there in zip(WAY, way, strict=True))
        for seed in range(options.first, options.first + options.seeds):
            titles, steps, near, alike = way
            made = kitchen(options.dishes, options.singles, seed, titles, steps, near, options.least, alike)
            known = {card.called: features(card) for card in made.cards}
            report(f"made up, seed {seed}, {told}", known, made.dish, options.curve)
    known, dish = methods()
    report("methods alone (ARA dev)", known, dish, options.curve)
    for number, lines in enumerate(lists()):
        called = f"list/{number}.txt"
        known[called] = features(Card(path=called, title="", ingredients=lines))
        dish[called] = f"list {number}"
    report("methods alone among real lists", known, dish, False)


def methods() -> tuple[dict[str, Features], dict[str, object]]:
    """The 44 methods of datasets/same-dish, a step a line, no title."""
    known: dict[str, Features] = {}
    dish: dict[str, object] = {}
    for path in sorted((DATASETS / "same-dish").glob("*/*.txt")):
        steps = tuple(Passage(line, n) for n, line in enumerate(path.read_text("utf-8").splitlines(), 1))
        called = f"{path.parent.name}/{path.name}"
        known[called] = features(Card(path=called, title=steps[0].text, steps=steps))
        dish[called] = path.parent.name
    return known, dish


def report(what: str, known: Mapping[str, Features], dish: Mapping[str, object], curve: bool) -> None:
    """Print precision, recall and F1 over pairs; with `curve`, of single pairs at several cuts too."""
    began = time.perf_counter()
    found = group(known, Sayings(), ())
    took = time.perf_counter() - began
    together = {pair for one in found.dishes for pair in combinations(sorted(m.called for m in one.cards), 2)}
    gold = gold_pairs(dish)
    print(f"{what}: {len(known)} cards, {figures(gold, together)}, {took:.2f} s")
    if not curve:
        return
    met = {tuple(sorted(pair)) for pair in candidates(known)}
    print(f"  candidates: {len(met)}, of the gold pairs {len(gold & met)}/{len(gold)}")
    scored = {(a, b): likeness(known[a], known[b]).score for a, b in combinations(sorted(known), 2)}
    for cut in (c / 100 for c in range(10, 80, 5)):
        print(f"  cut {cut:.2f}: {figures(gold, {pair for pair, score in scored.items() if score >= cut})}")


def gold_pairs(dish: Mapping[str, object]) -> set[tuple[str, str]]:
    """All pairs of one dish."""
    members = defaultdict(list)
    for called, number in dish.items():
        members[number].append(called)
    return {pair for several in members.values() for pair in combinations(sorted(several), 2)}


def figures(gold: set[tuple[str, str]], said: Iterable[tuple[str, str]]) -> str:
    """Precision, recall and F1 of pairs."""
    told = set(said)
    right = len(gold & told)
    precision, recall = right / (len(told) or 1), right / (len(gold) or 1)
    return f"P {precision:.3f} R {recall:.3f} F1 {2 * precision * recall / (precision + recall or 1):.3f}"


if __name__ == "__main__":
    print(json.dumps({"cut": CUT, "cut, steps alone": CUT_METHOD, "data": Path(DATASETS).name}))
    main()
