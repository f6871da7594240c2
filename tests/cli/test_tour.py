"""The whole job, start to finish."""

from pathlib import Path

from tests.cli.conftest import Type, valid


def test_the_tour_does_the_whole_job(recipebox: Type, tmp_path: Path) -> None:
    """Two editions, one question settled, two boxes alike byte for byte; every line fits 80 columns."""
    answer = recipebox("tour", "--keep", str(tmp_path / "look"))
    assert answer.code == 0, answer.err
    assert max(map(len, answer.out.splitlines())) <= 80
    family = "family/harbour-fish-and-leek-bake.txt"
    kitchen, study = (tmp_path / "look" / name for name in ("kitchen", "study"))
    assert (kitchen / family).read_bytes() == (study / family).read_bytes()
    history = valid(recipebox("history", family, "--box", str(study), "--json").data, "history")
    assert {"1", "2"} <= {entry["edition"] for entry in history["entries"]}
    settled = valid(recipebox("settle", "--box", str(study), "--json").data, "settle")
    assert settled["undecided"] == []
    assert len(settled["settled"]) == 1


def test_the_tour_counts_its_steps_for_scripts(recipebox: Type) -> None:
    """As JSON the tour lists each command it ran with its exit code, and whether the boxes are alike."""
    data = valid(recipebox("tour", "--json").data, "tour")
    assert data["boxes_alike"] is True
    assert {step["exit"] for step in data["steps"]} <= {0, 3}
    assert {"start", "same", "compare", "merge", "sync", "settle", "tonight"} <= {
        step["command"].split()[1] for step in data["steps"]
    }
