"""`onhand` and `tonight` at the terminal."""

from pathlib import Path

from tests.cli.conftest import Type, valid


def test_onhand_lists_writes_and_uses(recipebox: Type, box: Path) -> None:
    """A line is added and used again by its words, and every other line of the list keeps its bytes."""
    before = (box / "on-hand.txt").read_bytes()
    entries = valid(recipebox("onhand", "--json").data, "onhand")["entries"]
    assert {entry["place"].lower() for entry in entries} == {"pantry", "fridge", "freezer"}
    leeks = next(entry for entry in entries if "leek" in entry["item"])
    assert (leeks["amount"], leeks["use_by"]) == ({"low": "2", "high": "2"}, "2026-12-01")
    assert recipebox("onhand", "add", "fridge", "3 quinces,", "use", "by", "2026-12-24").code == 0
    after = (box / "on-hand.txt").read_bytes()
    assert set(before.splitlines()) < set(after.splitlines())
    used = recipebox("onhand", "used", "2", "quinces")
    assert used.out.splitlines()[0] == "fridge: 1 quince, use by 2026-12-24  (was 3 quinces, use by 2026-12-24)"
    quinces = next(e for e in recipebox("onhand", "--json").data["entries"] if "quince" in e["item"])
    assert quinces["amount"] == {"low": "1", "high": "1"}
    assert recipebox("onhand", "add", "cellar", "wine").code == 2


def test_tonight_names_what_is_there_and_what_is_missing(recipebox: Type, box: Path) -> None:
    """Every dish accounts for each of its things once: there, swapped or missing; what goes soon comes first."""
    data = valid(recipebox("tonight", "--json").data, "tonight")
    assert data["dishes"]
    for dish in data["dishes"]:
        swapped = {swap["item"] for swap in dish["swaps"]}
        assert not swapped & {one["item"] for one in dish["missing"]}
    assert data["dishes"][0]["use_soon"]
    leeks = recipebox("tonight", "--use", "leeks", "--json").data["dishes"]
    assert leeks
    assert all(any("leek" in one["item"] for one in dish["have"]) for dish in leeks)


def test_names_are_judged_for_scripts(recipebox: Type, tmp_path: Path) -> None:
    """A pair a line: the same thing, a known stand-in, or different."""
    pairs = tmp_path / "pairs.tsv"
    pairs.write_text("spring onions\tscallions\nbuttermilk\tmilk\nbutter\tbutter beans\n", encoding="utf-8")
    answer = recipebox("onhand", "--match", str(pairs))
    verdicts = [valid(line, "match")["verdict"] for line in answer.lines]
    assert verdicts == ["same", "stands-for", "different"]


def test_used_in_another_measure(recipebox: Type, box: Path) -> None:
    """What was counted by a table or rounded is said above the list; what is used up is not "use first" any more."""
    (box / "on-hand.txt").write_text("Pantry\n  2 kg flour\nFridge\n  2 eggs, use by 2026-11-30\n")
    told = recipebox("onhand", "used", "2 cups flour")
    assert told.code == 0
    assert "1 cup all-purpose flour = 125 g" in " ".join(told.out.split())
    assert "Use first" not in recipebox("onhand", "used", "2 eggs").out
    assert "0 eggs" in (box / "on-hand.txt").read_text()
    before = (box / "on-hand.txt").read_bytes()
    refused = recipebox("onhand", "used", "9 slices flour")
    assert refused.code == 1
    assert "nothing is changed" in refused.err
    assert (box / "on-hand.txt").read_bytes() == before
    refused = recipebox("onhand", "add", "fridge", "use by someday")
    assert (refused.code, len(refused.err.strip().splitlines())) == (1, 1)
    assert "write the date as" in refused.err
