"""What merging gives does not change unnoticed: laptops of one rule number must merge alike."""

import hashlib
import random
from dataclasses import replace

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.merge import RULE, Blob, Side, UnmergeableError, merge_boxes, merge_card
from tests.merge.sides import AMOUNTS, ITEMS, NOTES, PREPARATIONS, STEPS, TAGS, UNITS, Made

HASHES = {1: "80823d8221366e150911ed8d9091f3a6da02fd27daf4ae8984cc8f29ce97aa25"}
"""Rule number -> hash of all merges below. Another hash under the same number means: raise RULE, add a line here."""


def test_merges_are_what_their_rule_number_says() -> None:
    """Two hundred merges of cards and boxes give the bytes recorded for this rule."""
    chance = random.Random(2611)
    digest = hashlib.sha256()
    for _ in range(200):
        base = _card(chance)
        sides = [_edited(chance, base).text(chance.choice(("  ", "- "))) for _ in range(chance.choice((2, 2, 3)))]
        if chance.random() < 0.3:
            sides[0] = _grown(base, chance.choice((2, 3))).text()
        try:
            digest.update(merge_card(base.text(), sides, "a.txt"))
        except UnmergeableError as error:
            digest.update(str(error).encode())
        trees = [{"a.txt": Blob.of(side), f"{n}.txt": Blob.of(base.text())} for n, side in enumerate(sides)]
        merged = merge_boxes({"a.txt": Blob.of(base.text())}, [Side(tree) for tree in trees])
        digest.update(repr(sorted((path, blob.id) for path, blob in merged.tree.items())).encode())
    assert digest.hexdigest() == HASHES[RULE]


def _card(chance: random.Random) -> Made:
    items = chance.sample(ITEMS, chance.randint(2, 5))
    return Made(
        lines=tuple(_line(chance, item) for item in items),
        steps=tuple(chance.sample(STEPS, chance.randint(2, 4))),
        notes=tuple(chance.sample(NOTES, chance.randint(0, 2))),
    )


def _line(chance: random.Random, item: str) -> tuple[str, str, str, str]:
    return chance.choice(AMOUNTS), chance.choice(UNITS), item, chance.choice(PREPARATIONS)


def _grown(made: Made, times: int) -> Made:
    lines = []
    for amount, *rest in made.lines:
        read = read_amount(amount)
        assert read is not None
        lines.append((write_amount(read[0].low * times), *rest))
    return replace(made, lines=tuple(lines), serves=str(6 * times))


def _edited(chance: random.Random, made: Made) -> Made:
    lines = [line if chance.random() < 0.6 else _line(chance, line[2]) for line in made.lines]
    if chance.random() < 0.3:
        lines.pop(chance.randrange(len(lines)))
    if chance.random() < 0.3:
        lines.insert(0, _line(chance, chance.choice([item for item in ITEMS if item not in {x[2] for x in lines}])))
    steps = [step if chance.random() < 0.7 else step.rstrip(".") + ", slowly." for step in made.steps]
    if chance.random() < 0.2:
        steps = [*steps, chance.choice([step for step in STEPS if step not in made.steps])]
    return replace(
        made,
        lines=tuple(lines),
        steps=tuple(steps),
        notes=tuple(chance.sample(NOTES, chance.randint(0, 3))) if chance.random() < 0.4 else made.notes,
        tags=tuple(chance.sample(TAGS, chance.randint(0, 3))) if chance.random() < 0.4 else made.tags,
        serves=chance.choice(("6", "8")) if chance.random() < 0.3 else made.serves,
    )
