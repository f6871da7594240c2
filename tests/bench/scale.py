"""Measure grouping at size: features alone, of made-up dishes over a large kitchen's vocabulary.

    python tests/bench/scale.py [CARDS]

A dish is 6 to 14 things, common ones commoner (by the shipped table), with 1 to 8 versions, each with 0 to 3 changes.
"""

import random
import resource
import sys
import time

from recipebox.cards.sayings import Sayings
from recipebox.dishes import Features, candidates, group
from recipebox.dishes.likeness import likeness
from recipebox.dishes.telling import telling_thing
from recipebox.tables.load import rows

FORMS = ("bake", "soup", "pie", "cake", "salad", "stew", "bread", "cookie")


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    known = made_up(count)
    began = time.perf_counter()
    pairs = list(candidates(known))
    met = time.perf_counter()
    same = sum(likeness(known[a], known[b]).same for a, b in pairs)
    judged = time.perf_counter()
    found = group(known, Sayings())
    done = time.perf_counter()
    print(
        f"{count} cards: {len(pairs)} candidates in {met - began:.1f} s, {same} alike, "
        f"{1e6 * (judged - met) / len(pairs):.1f} us each; whole grouping {done - judged:.1f} s, "
        f"{len(found.dishes)} dishes, {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB"
    )


def made_up(count: int, seed: int = 1) -> dict[str, Features]:
    """`count` cards' features."""
    chance = random.Random(seed)
    names = [row["name"] for row in rows("telling") if row["kind"] == "thing"]
    names += [f"{a}{b}" for a in ("mar", "tel", "quin", "sor", "bal", "fen", "ost", "ruv") for b in _endings(chance)]
    weight = [1000 / (20 + telling_thing(name)) for name in names]
    known: dict[str, Features] = {}
    while len(known) < count:
        things = list(dict.fromkeys(chance.choices(names, weight, k=chance.randint(6, 14))))
        title = [*chance.sample(things, 2), chance.choice(FORMS)]
        for _ in range(chance.choice((1, 1, 1, 1, 2, 3, 5, 8))):
            mine = list(things)
            for _ in range(chance.randint(0, 3)):
                mine[chance.randrange(len(mine))] = chance.choices(names, weight)[0]
            called = f"{len(known):06}.txt"
            known[called] = Features(
                called=called,
                title=" ".join(title),
                things={name: telling_thing(name) for name in mine},
                parts={},
                sizes={name: (("g", 50.0 * chance.randint(1, 20)),) for name in mine},
                title_words={word: telling_thing(word) for word in title},
                words={},
            )
    return dict(list(known.items())[:count])


def _endings(chance: random.Random) -> list[str]:
    return ["".join(chance.choices("aeioulnrst", k=4)) for _ in range(250)]


if __name__ == "__main__":
    main()
