"""What finding the dishes of a large box costs, and what is found of them without looking at all pairs."""

import json
import os
import random
import subprocess
import sys
import time
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import pytest

from recipebox.box import create
from recipebox.cards.sayings import Sayings
from recipebox.dishes import Features, candidates, features_data, group, keys, likeness
from recipebox.index.database import changing, connect
from recipebox.index.grouping import regroup
from recipebox.index.rows import CARD, CardRow, Taken
from recipebox.index.storing import Storage, Touched

HERE = Path(__file__).parent
LONG = os.environ.get("RECIPEBOX_LONG") == "1"
SMALL = 10_000 if LONG else 500
TEN_TIMES = 10 * SMALL
ADDED = 100


@pytest.fixture(scope="module")
def box_of() -> Any:
    """Features of so many made-up cards."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "path", [str(HERE), *sys.path])
        from boxful import boxful

        return boxful


def seconds(known: Mapping[str, Features]) -> float:
    """Of one core, for grouping a box from scratch."""
    began = time.process_time()
    group(known, Sayings())
    return time.process_time() - began


def test_ten_times_the_cards_cost_at_most_fifteen_times(benchmark: Any, box_of: Any) -> None:
    """Grouping grows with the cards, not with the pairs of cards."""
    small, large = box_of(SMALL), box_of(TEN_TIMES)
    benchmark.pedantic(group, (small, Sayings()), rounds=1)
    times = seconds(large) / min(seconds(small) for _ in range(3))
    benchmark.extra_info["times as long"] = round(times, 1)
    print(f"\n{TEN_TIMES} cards take {times:.1f} times as long as {SMALL}")
    assert times <= 15


def test_candidates_hold_nearly_all_that_is_alike(box_of: Any) -> None:
    """Of the pairs that all pairs of a sample with the whole box would give, candidates hold 99 in 100."""
    known = box_of(SMALL if not LONG else 4_000)
    sample = set(random.Random(3).sample(sorted(known), 100))
    met = {frozenset(pair) for pair in candidates(known)}
    alike = {frozenset((a, b)) for a in sample for b in known if a != b and likeness(known[a], known[b]).same}
    assert len(alike) > 50
    assert len(alike & met) >= 0.99 * len(alike)


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="fills two boxes: RECIPEBOX_LONG=1")
def test_one_card_more_costs_the_same_in_a_box_ten_times_as_large(benchmark: Any, box_of: Any, tmp_path: Path) -> None:
    """A card added to the index and put in its dish: its slow cases (p95) take at most three times as long."""
    fresh = list(box_of(ADDED, seed=9).values())
    slow = {}
    for size in (SMALL, TEN_TIMES):
        connection = connect(create(tmp_path / str(size), "bench"))
        kept = Storage(connection)
        add(kept, box_of(size).values())
        took = sorted(added_in(kept, one) for one in fresh)
        slow[size] = took[int(0.95 * len(took))]
        connection.close()
    benchmark.extra_info["ms, p95"] = {size: round(1000 * took, 1) for size, took in slow.items()}
    benchmark.pedantic(lambda: None, rounds=1)
    print(f"\none card more, p95: {', '.join(f'{1000 * took:.1f} ms among {size}' for size, took in slow.items())}")
    assert slow[TEN_TIMES] <= 3 * slow[SMALL]


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="takes a minute and more: RECIPEBOX_LONG=1")
def test_a_hundred_thousand_cards_stay_within_memory() -> None:
    """Features and grouping of 100,000 cards: a peak under 600 MB, in a process of its own."""
    done = subprocess.run(
        [sys.executable, str(HERE / "boxful.py"), "100000"], capture_output=True, text=True, check=True, timeout=600
    )
    print(done.stdout)
    assert int(done.stdout.split("peak ")[1].split(" MB")[0]) < 600


def added_in(kept: Storage, one: Features) -> float:
    """Seconds of one core for adding one card."""
    began = time.process_time()
    add(kept, [one])
    return time.process_time() - began


def add(kept: Storage, cards: Iterable[Features]) -> None:
    """Put cards into the index, as the look at a changed box does, all but reading them."""
    touched = Touched()
    with changing(kept.connection):
        kept.put_in([(one.called, one.called, Taken(CARD, (row(one),))) for one in cards], touched)
        regroup(kept, touched, b"")


def row(known: Features) -> CardRow:
    """The row of a version with these features."""
    return CardRow(
        called=known.called,
        path=known.called,
        kind="version",
        title=known.title,
        name=known.title,
        sender=None,
        tags="[]",
        data="{}",
        features=json.dumps(features_data(known)),
        keys=keys(known),
        things=tuple(sorted(known.things)),
        words=(known.title, "\n".join(known.things), " ".join(known.words), ""),
    )
