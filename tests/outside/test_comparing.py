"""Comparisons of made-up pairs of real lists: the batch, no false difference, planted changes found.

Lists: TASTEset 2.0 (dev half), A. Wróblewska et al., 2022, arXiv:2204.07775, MIT License, read where they lie; methods
and changes: common practice, no source.
"""

import sys
from pathlib import Path

import pytest

DATASET = Path(__file__).parents[3] / "shared" / "datasets" / "ingredient-lines"
pytestmark = pytest.mark.skipif(not DATASET.is_dir(), reason="datasets/ingredient-lines is not beside the project")


def test_one_mixed_set_of_pure_and_changed_pairs(monkeypatch: pytest.MonkeyPatch) -> None:
    """Batch right in 98 of 100, no difference in 97 of 100 pure pairs, planted changes: recall .97, precision .95."""
    monkeypatch.setattr(sys, "path", [str(Path(__file__).parents[1] / "bench"), *sys.path])
    from comparing import measured

    found = measured(pairs=240, seed=7)
    shares = found.shares()
    assert found.planted > 150, found.planted
    assert shares["batch"] >= 0.98, found.wrong
    assert shares["pure"] >= 0.97, found.wrong
    assert shares["recall"] >= 0.97, found.wrong
    assert shares["precision"] >= 0.95, found.wrong
