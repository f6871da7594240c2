"""Features of a large box of made-up dishes, and what grouping it costs.

    python tests/bench/boxful.py [CARDS]

A dish is 6 to 14 things out of some 3,000, common ones commoner (by the shipped table), in 1 to 8 versions on their own
batches, each with 0 to 3 changes; its method has 25 words out of 4,000. A quarter of all cards stand alone.
"""

import random
import resource
import sys
import time
from pathlib import Path

from recipebox.cards.sayings import Sayings
from recipebox.cards.things import part_in_dish
from recipebox.dishes import Features, group
from recipebox.dishes.telling import telling_thing, telling_word
from recipebox.dishes.titles import forms
from recipebox.tables import rows

FORMS = ("bake", "soup", "pie", "cake", "salad", "stew", "bread", "cookie")
VERSIONS = (1, 1, 1, 1, 2, 3, 5, 8)
FACTORS = (1, 1, 1, 1, 2, 0.5, 1.5, 3)


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    known = boxful(count)
    before = _peak()
    began, cpu = time.perf_counter(), time.process_time()
    found = group(known, Sayings())
    print(
        f"{count} cards, {before} MB: grouped in {time.perf_counter() - began:.1f} s "
        f"({time.process_time() - cpu:.1f} s of one core), {len(found.dishes)} dishes, peak {_peak()} MB"
    )


def boxful(count: int, seed: int = 1) -> dict[str, Features]:
    """The features of `count` cards, by what they are called."""
    chance = random.Random(seed)
    names = [row["name"] for row in rows("telling") if row["kind"] == "thing"]
    names += [
        f"{a}{b}" for a in ("mar", "tel", "quin", "sor", "bal", "fen", "ost", "ruv") for b in _endings(chance, 280)
    ]
    common = [1000 / (20 + telling_thing(name)) for name in names]
    parts = {name: part for name in names if (part := part_in_dish(name))}
    method = [row["name"] for row in rows("telling") if row["kind"] == "method"]
    method += [f"{a}{b}" for a in ("gu", "wo", "ti", "ze") for b in _endings(chance, 900)]
    known: dict[str, Features] = {}
    while len(known) < count:
        things = list(dict.fromkeys(chance.choices(names, common, k=chance.randint(6, 14))))
        sizes = {name: 25.0 * chance.randint(1, 40) for name in things}
        title = [*chance.sample(things, 2), chance.choice(FORMS)]
        words = chance.choices(method, k=25)
        for _ in range(min(chance.choice(VERSIONS), count - len(known))):
            mine = dict(sizes)
            for _ in range(chance.randint(0, 3)):
                del mine[chance.choice(list(mine))]
                mine[chance.choices(names, common)[0]] = 25.0 * chance.randint(1, 40)
            factor = chance.choice(FACTORS)
            called = f"{chance.randrange(16**10):010x}.txt"
            said = title if chance.random() < 0.8 else [chance.choice(list(mine)), title[2]]
            told = [*chance.sample(words, 18), *chance.choices(method, k=7)]
            known[called] = Features(
                called=called,
                title=" ".join(said),
                things={name: telling_thing(name) for name in mine},
                parts={name: parts[name] for name in mine if name in parts},
                sizes={name: (("g", size * factor),) for name, size in mine.items()},
                title_words={word: telling_thing(word) for word in said},
                words={word: telling_word(word) for word in told},
                forms=tuple(sorted(forms(" ".join(said)))),
                baked=title[2] in ("bake", "pie", "cake", "bread", "cookie"),
            )
    return known


def _endings(chance: random.Random, count: int) -> list[str]:
    return ["".join(chance.choices("aeioulnrst", k=4)) for _ in range(count)]


def _peak() -> int:
    """The most memory used so far, in MB."""
    status = Path("/proc/self/status")
    if status.exists():  # what getrusage says of a forked child begins at its parent's peak
        told = next(line for line in status.read_text(encoding="ascii").splitlines() if line.startswith("VmHWM"))
        return int(told.split()[1]) // 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


if __name__ == "__main__":
    main()
