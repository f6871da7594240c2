"""Measure how well methods alone are grouped where the table of telling words has never seen the dish.

    python tests/bench/unseen_dish.py [--seeds N] [--first N]

Each dish of datasets/same-dish in turn is left out of the table (of words in methods), then grouped among the other
three and 300 unrelated methods: real sentences of the other three dishes, drawn from many authors, with the foods of
some other real list in place of theirs. Counted are the pairs that touch the dish left out.
"""

import argparse
import csv
import random
import re
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from itertools import combinations
from pathlib import Path
from unittest import mock

from make_telling import in_methods, stem_of
from same_dish import gold_pairs, methods
from writing import DATASETS, lists

from recipebox.cards.model import Card, Passage
from recipebox.cards.sayings import Sayings
from recipebox.compare.words import plain, stem
from recipebox.dishes import features, group
from recipebox.dishes.telling import UNKNOWN_IN_METHOD
from recipebox.tables import rows

SAME_DISH = DATASETS / "same-dish"
UNRELATED = 300


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=2)
    parser.add_argument("--first", type=int, default=0, help="the first seed; the cut was chosen on 3 to 6")
    options = parser.parse_args()
    reached = []
    for seed in range(options.first, options.first + options.seeds):
        for name in dishes():
            precision, recall, f1 = unseen(name, seed)
            reached.append(f1)
            print(f"{name}, seed {seed}: P {precision:.3f} R {recall:.3f} F1 {f1:.3f}", flush=True)
    print(f"F1 mean {sum(reached) / len(reached):.3f}, worst {min(reached):.3f}")


def dishes() -> list[str]:
    """The dishes of the data set."""
    return sorted(path.name for path in SAME_DISH.iterdir() if path.is_dir())


def unseen(name: str, seed: int, unrelated: int = UNRELATED) -> tuple[float, float, float]:
    """Precision, recall and F1 of the pairs that touch a dish, unknown to the table."""
    with _table_without(name):
        known, dish = methods()
        for card in strangers(name, seed, unrelated):
            known[card.called] = features(card)
            dish[card.called] = card.called
        found = group(known, Sayings())
    together = {pair for one in found.dishes for pair in combinations(sorted(m.called for m in one.cards), 2)}
    gold, said = (
        {pair for pair in pairs if name in map(str, map(dish.get, pair))} for pairs in (gold_pairs(dish), together)
    )
    right = len(gold & said)
    return right / (len(said) or 1), right / len(gold), 2 * right / (len(gold) + len(said))


def strangers(without: str, seed: int, many: int) -> Iterator[Card]:
    """So many methods in the words of the other dishes' authors, about other foods."""
    chance = random.Random(seed)
    texts = [
        path.read_text("utf-8").splitlines()
        for name in dishes()
        if name != without
        for path in sorted((SAME_DISH / name).glob("*.txt"))
    ]
    foods = {row["name"] for row in rows("telling") if row["kind"] == "word"} - {
        stem(w) for w in ("cook", "bake", "mix")
    }
    pool = [word for lines in lists() for line in lines for word in _words(line.item)]
    for number in range(many):
        own = [word for line in chance.choice(lists()) for word in _words(line.item)] + chance.choices(pool, k=6)
        instead: dict[str, str] = {}
        steps = []
        for place in range(1, chance.randint(5, 12) + 1):
            sentence = chance.choice(chance.choice(texts))
            for word in _words(sentence):
                if stem(word) in foods:
                    other = instead.setdefault(stem(word), chance.choice(own))
                    sentence = re.sub(rf"\b{word}\b", other, sentence, flags=re.IGNORECASE)
            steps.append(Passage(sentence, place))
        yield Card(path=f"stranger/{number}.txt", title="", steps=tuple(steps))


@contextmanager
def _table_without(name: str) -> Iterator[None]:
    """While it lasts, the table of words in methods is made from the other dishes."""
    with tempfile.TemporaryDirectory() as folder:
        for other in dishes():
            if other != name:
                shutil.copytree(SAME_DISH / other, Path(folder) / other)
        telling = {word: row[0] for (_, word), row in in_methods(Path(folder)).items()}
    with (Path(__file__).parent / "everyday.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            if row["kind"] == "method":
                word = stem_of(row["name"])
                telling[word] = min(int(row["telling"]), telling.get(word, UNKNOWN_IN_METHOD))
    with mock.patch("recipebox.dishes.features.telling_word", _from(telling)):
        yield


def _from(telling: Mapping[str, int]) -> Callable[[str], int]:
    return lambda word: telling.get(word, UNKNOWN_IN_METHOD)


def _words(text: str) -> list[str]:
    return [word for word in re.findall("[a-z]+", plain(text)) if len(word) > 2]


if __name__ == "__main__":
    main()
