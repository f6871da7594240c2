"""What reading costs: ingredient lines against one compiled split of the same, whole cards in cards a second."""

import json
import re
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.kinds import NotACardError
from recipebox.cards.reader import read_cards

LINES = Path(__file__).parents[2].parent / "shared" / "datasets" / "ingredient-lines" / "dev.jsonl"
BOX = Path(__file__).parents[2] / "sample_box"
MOST = 20  # the bound: how many plain splits reading a line may cost


def cost(work: Callable[[Any], object], things: Sequence[Any]) -> float:
    """Seconds of this process for all of them, once."""
    start = time.process_time()
    for thing in things:
        work(thing)
    return time.process_time() - start


@pytest.mark.skipif(not LINES.exists(), reason="the labelled lines do not lie beside the project")
def test_reading_lines_costs_few_plain_splits(benchmark: Any) -> None:
    """Reading all labelled lines takes at most 20 times as long as splitting each with one compiled expression."""
    texts = [json.loads(line)["text"] for line in LINES.read_text(encoding="utf-8").splitlines() if line.strip()]
    split = re.compile(r"[\s,;()/]+|\b(?:or|and|plus)\b").split
    benchmark(cost, read_ingredient, texts)
    # by turns, so that what else this computer does weighs on both
    rounds = [(cost(read_ingredient, texts), cost(split, texts)) for _ in range(12)]
    ratio = min(reading for reading, _ in rounds) / min(splitting for _, splitting in rounds)
    benchmark.extra_info["splits a line"] = round(ratio, 1)
    print(f"\nreading a line costs {ratio:.1f} splits")
    assert ratio <= MOST


def test_whole_cards_are_read_quickly(benchmark: Any) -> None:
    """The cards of the sample box are read at 100 a second or more; how many is reported."""
    cards = [(file.read_bytes(), file.name) for file in sorted(BOX.rglob("*")) if file.suffix in (".txt", ".md")]

    def read(card: tuple[bytes, str]) -> None:
        try:
            read_cards(*card)
        except NotACardError:
            return

    benchmark(cost, read, cards)
    rate = len(cards) / min(cost(read, cards) for _ in range(5))
    benchmark.extra_info["cards a second"] = round(rate)
    print(f"\n{rate:.0f} cards a second")
    assert rate > 100


@pytest.mark.parametrize(
    "piece",
    [
        "1 cup flour, ",
        "(",
        "1 ",
        "a",
        "½",
        "| ",
        "- ",
        "**",
        "1/",
        "or ",
        "salt and ",
        ", chopped",
        " ",
        "'",
        "A, ",
        "Need: a, ",
    ],
)
def test_no_long_line_is_read_slowly(piece: str) -> None:
    """A line of 100,000 letters takes at most 5 ms for each 1,000 of them, alone and as a card's only line."""
    text = (piece * 100_000)[:100_000]
    allowed = 100 * 0.005
    assert min(cost(read_ingredient, [text]) for _ in range(2)) <= allowed

    def read(data: bytes) -> None:
        try:
            read_cards(data, "a.md")
        except NotACardError:
            return

    for card in ("Cake\n\n2 eggs\n%s\n", "# %s\n\n- 2 eggs\n", "---\ntitle: Cake\ningredients: %s\n---\n- 2 eggs\n"):
        data = (card % text).encode()
        assert min(cost(read, [data]) for _ in range(2)) <= allowed
