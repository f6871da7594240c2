"""Real ingredient lines at another batch.

Lines of TASTEset 2.0 (A. Wróblewska et al., "TASTEset: Recipe Dataset and Food Entities Recognition Benchmark", 2022,
arXiv:2204.07775), the development half in datasets/ingredient-lines.
"""

import json
import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest

from recipebox.cards.ingredient import read_ingredient
from recipebox.measures import scale_ingredient, shown_line, unit

LINES = Path(__file__).parents[3] / "shared" / "datasets" / "ingredient-lines" / "dev.jsonl"
WORD = re.compile(r"[A-Za-zÀ-ÿ']{3,}")
# Number words and words of measure, which a batch changes.
NUMBERS = "one two three four five six seven eight nine ten eleven twelve half quarter third couple pair dozen"
AMOUNT_WORDS = frozenset(f"{NUMBERS} about and each plus the for heaped scant".split())
ENDINGS = (("ies", "y"), ("ves", "f"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("xes", "x"), ("s", ""))


def stem(word: str) -> str:
    """A word as for one thing."""
    plain = word.lower().strip("'")
    return next((plain.removesuffix(end) + one for end, one in ENDINGS if plain.endswith(end)), plain)


@pytest.mark.skipif(not LINES.exists(), reason="the data set does not lie beside the project")
def test_hardly_a_line_loses_a_word_when_doubled() -> None:
    """Of real lines with an amount, at most 1 in 100 shown twice as large lacks a word of the line.

    Words of amount and unit aside. What is lost is named when the test fails.
    """
    seen, lost = 0, []
    for row in LINES.read_text(encoding="utf-8").splitlines():
        text = json.loads(row)["text"]
        read = read_ingredient(text)
        if read.kind != "ingredient" or read.amount is None:
            continue
        seen += 1
        shown = shown_line(scale_ingredient(read, Fraction(2))).text
        there = Counter(map(stem, WORD.findall(shown)))
        words = [word for word in WORD.findall(text) if not there[stem(word)]]
        if any(unit(word) is None and unit(stem(word)) is None and stem(word) not in AMOUNT_WORDS for word in words):
            lost.append((text, shown))
    assert seen > 2000
    assert len(lost) * 100 <= seen, lost
