"""Make recipebox/tables/telling.csv: how telling a word is for which dish a card is.

    python tests/bench/make_telling.py [FOLDER OF DATASETS]

Kinds of rows:
  thing   a food by its common name: in how many of the 506 lists of datasets/ingredient-lines (dev) it stands
  word    a word of foods' names, counted likewise: for names that no row has whole
  method  a word of methods: in how many of the four dishes of datasets/same-dish (dev) it stands, two or more; a word
          of one dish alone has no row, so that the table knows nothing about those four dishes
and, of each kind and for titles, everyday ones from everyday.csv as common practice. Telling is
1 - log(count) / log(lists), from 0 (in every list) to 1 (in one or none, so no row). Figures are thousandths, so that
each computer reads the same.

Names of makers that the lists hold are taken out of the result by hand: no brand stands in our tables.
"""

import csv
import json
import math
import sys
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from recipebox.cards.things import thing
from recipebox.compare.words import content_words, stems

ROOT = Path(__file__).parents[2]
LINES = "TASTEset 2.0 (dev half), A. Wróblewska et al., 2022, arXiv:2204.07775, MIT License: counted"
METHODS = "ARA 1.1 (dev dishes), L. Donatelli et al., EMNLP 2021, CC BY 4.0: counted"


def main() -> None:
    datasets = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT.parent / "shared" / "datasets"
    rows = {**_things(datasets / "ingredient-lines" / "dev.jsonl"), **in_methods(datasets / "same-dish")}
    with (Path(__file__).parent / "everyday.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            key = row["kind"], thing(row["name"]) if row["kind"] == "thing" else stem_of(row["name"])
            if key not in rows or rows[key][0] > int(row["telling"]):
                rows[key] = int(row["telling"]), "", row["source"]
    with (ROOT / "recipebox" / "tables" / "telling.csv").open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(("name", "kind", "telling", "count", "source", "basis"))
        for (kind, name), (telling, count, source) in sorted(rows.items()):
            out.writerow((name, kind, telling, count, source, "checked" if count else source))


def _things(path: Path) -> dict[tuple[str, str], tuple[int, str, str]]:
    lists: dict[int, set[str]] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        row = json.loads(line)
        found = lists.setdefault(row["recipe"], set())
        found |= {thing(food) for food in row["food"].split(" | ") if food.strip()} - {""}
    rows = {}
    words = [{word for name in found for word in stems(name)} for found in lists.values()]
    for kind, sets in (("thing", lists.values()), ("word", words)):
        rows |= {(kind, name): (_telling(n, len(lists)), str(n), LINES) for name, n in _counted(sets) if n > 1}
    return rows


def in_methods(folder: Path) -> dict[tuple[str, str], tuple[int, str, str]]:
    """How telling the words of methods are, by the dishes of a folder."""
    dishes = [
        {word for text in dish.glob("*.txt") for word in content_words(text.read_text(encoding="utf-8"))}
        for dish in sorted(folder.iterdir())
        if dish.is_dir()
    ]
    # Between words of two, three and all four dishes: 0.35, 0.15, 0.05 of the weight of an unknown word.
    telling = {2: 350, 3: 150, 4: 50}
    return {("method", word): (telling[n], str(n), METHODS) for word, n in _counted(dishes) if n > 1}


def _counted(sets: Iterable[set[str]]) -> list[tuple[str, int]]:
    return sorted(Counter(name for found in sets for name in found).items())


def _telling(count: int, lists: int) -> int:
    return round(1000 * max(0.03, 1 - math.log(count) / math.log(lists)))


def stem_of(word: str) -> str:
    """The stem by which a word in a method is known."""
    return (content_words(word) or stems(word))[0]


if __name__ == "__main__":
    main()
