"""`same`, `compare`, `merge`, `history`, `settle` and `undo` at the terminal, in their published shapes."""

import json
from pathlib import Path

from tests.cli.conftest import Type, valid

DISH = "Harbour Fish and Leek Bake"
FAMILY = "family/harbour-fish-and-leek-bake.txt"
NEAR_MISSES = {
    "pies/brigid-fish-pie.txt",
    "pies/ines-leek-tart.md",
    "sides/nuala-leek-potato-gratin.txt",
    "soups/tomasz-fish-soup.txt",
    "weeknight/carol-ann-fishcakes.txt",
}
DISHES = {DISH: 11, "Seeded Soda Bread": 4, "Oat and Berry Breakfast Bake": 3, "Red Lentil and Root Soup": 4}


def test_same_finds_the_dishes_and_leaves_the_near_misses_alone(recipebox: Type, box: Path) -> None:
    """The casserole's eleven versions are one dish, four more dishes are found, near-misses stand alone."""
    data = valid(recipebox("same", "--json").data, "same")
    sizes = sorted(len(dish["cards"]) for dish in data["dishes"])
    assert sizes == [3, 3, 4, 4, 11]
    assert set(data["singles"]) >= NEAR_MISSES
    largest = max(data["dishes"], key=lambda dish: len(dish["cards"]))
    assert {card["path"] for card in largest["cards"]} >= {
        "letters/tomasz.txt",
        "versions/pete-fish-bake-with-soup.txt",
    }
    assert all(card["why"] for card in largest["cards"])


def test_the_familys_own_say_wins_and_can_be_taken_back(recipebox: Type, box: Path) -> None:
    """`--no` takes a card out of its dish, stands in dishes.txt as text, and `--forget` puts things back."""
    before = recipebox("same", "--json").out
    out = valid(recipebox("same", "letters/wanda.txt", "--no", "versions/brigid-fish-bake.txt", "--json").data, "same")
    assert "letters/wanda.txt" not in [c["path"] for d in out["dishes"] for c in d["cards"] if len(d["cards"]) > 4]
    assert "different: letters/wanda.txt | versions/brigid-fish-bake.txt" in (box / "dishes.txt").read_text("utf-8")
    recipebox("same", "letters/wanda.txt", "--forget", "versions/brigid-fish-bake.txt")
    assert recipebox("same", "--json").out == before
    named = recipebox("same", "versions/brigid-fish-bake.txt", "--name", "The Friday bake", "--json").data
    assert [dish["dish"] for dish in named["dishes"]] == ["The Friday bake"]


def test_compare_puts_a_double_batch_on_one_footing(recipebox: Type, box: Path) -> None:
    """Brigid's card is twice Tomasz's; flour, milk and tomatoes are then the same, leeks and onions stand in."""
    answer = recipebox("compare", "letters/tomasz.txt", "versions/brigid-fish-bake.txt", "--json")
    data = valid(answer.data, "compare")
    assert data["same_dish"] is True
    assert data["batch"] == {"letters/tomasz.txt": "1", "versions/brigid-fish-bake.txt": "2"}
    kinds = {row["item"]: row["kind"] for row in data["ingredients"]}
    assert [kinds[item] for item in ("flour", "milk")] == ["same", "same"]
    assert "stands-in" in kinds.values()
    assert data["oven"]["kind"] == "differs"


def test_compare_of_unlike_cards_says_so_and_compares_anyway(recipebox: Type, box: Path) -> None:
    """Two different dishes are compared all the same, and a whole dish at once fits 80 columns."""
    unlike = recipebox("compare", "pies/brigid-fish-pie.txt", "basics/white-sauce.txt", "--json")
    assert (unlike.code, unlike.data["same_dish"]) == (0, False)
    whole = recipebox("compare", DISH)
    assert whole.code == 0, whole.err
    assert max(map(len, whole.out.splitlines())) <= 80


def test_merge_asks_first_and_writes_only_when_told(recipebox: Type, box: Path) -> None:
    """Off a terminal `merge` shows and exits 3; with --yes it writes one file; again there is nothing new."""
    versions = {
        path: path.read_bytes() for path in box.rglob("*.*") if path.is_file() and ".recipebox" not in path.parts
    }
    shown = recipebox("merge", DISH, "--json")
    assert shown.code == 3
    assert valid(shown.data, "merge")["written"] is False
    assert not (box / FAMILY).exists()
    written = recipebox("merge", DISH, "--yes", "--why", "agreed at Easter", "--json")
    assert written.code in (0, 3), written.err
    assert valid(written.data, "merge")["written"] is True
    assert {path: path.read_bytes() for path in versions} == versions
    again = recipebox("merge", DISH, "--yes", "--json")
    assert (again.code, again.data["written"]) == (written.code, False)
    past = valid(recipebox("history", DISH, "--json").data, "history")
    assert [(entry["edition"], entry["why"]) for entry in past["entries"]] == [("1", "agreed at Easter")]


def test_every_line_of_every_version_is_accounted_for_once(recipebox: Type, box: Path) -> None:
    """Each ingredient line and step of each version stands in the family recipe's lines or in not_taken, with a why."""
    data = recipebox("merge", DISH, "--json").data
    taken = [(path, line["part"]) for line in data["lines"] for path in line["from"]]
    assert taken
    not_taken = {(one["path"], one["line"]) for one in data["not_taken"]}
    assert len(not_taken) == len(data["not_taken"])
    assert all(one["why"] for one in data["not_taken"])
    for path in {one["path"] for one in data["not_taken"]}:
        card = recipebox("read", path, "--json").data
        lines = len(card["ingredients"]) + len(card["steps"])
        counted = sum(1 for one in data["not_taken"] if one["path"] == path)
        counted += sum(1 for where, part in taken if where == path and part in ("ingredient", "step"))
        assert counted >= lines, path


def test_history_names_whose_each_line_is_and_brings_back(recipebox: Type, box: Path) -> None:
    """A hand edit is an edition; edition 1 can be read, compared, and made current again."""
    recipebox("merge", DISH, "--yes")
    first = (box / FAMILY).read_bytes()
    (box / FAMILY).write_bytes(first.replace(b"100g fresh breadcrumbs", b"150g fresh breadcrumbs"))
    assert (box / FAMILY).read_bytes() != first
    whose = valid(recipebox("history", DISH, "--whose", "--json").data, "history")
    assert any("versions/nuala-fish-bake.txt" in line["from"] for line in whose["lines"])
    assert recipebox("history", FAMILY, "--bring-back", "1").code == 0
    assert (box / FAMILY).read_bytes() == first
    editions = [e["edition"] for e in recipebox("history", FAMILY, "--json").data["entries"] if e["edition"]]
    assert editions == ["1", "2", "3"]
    shown = valid(recipebox("history", FAMILY, "--edition", "2", "--json").data, "history")
    assert "150g fresh breadcrumbs" in shown["text"]
    valid(recipebox("history", FAMILY, "--compare", "1", "2", "--json").data, "history")


def test_what_could_be_undone_is_listed_in_the_shape_of_undo(recipebox: Type, box: Path) -> None:
    """`undo --list --json` is an object: nothing undone, and what could be, newest first."""
    assert valid(recipebox("undo", "--list", "--json").data, "undo")["undoable"] == []
    assert recipebox("merge", DISH, "--yes", "--json").code in (0, 3)
    listed = valid(recipebox("undo", "--list", "--json").data, "undo")
    assert listed["undone"] is None
    assert [sorted(one) for one in listed["undoable"]] == [["what", "when"]]


def test_undo_takes_the_merge_back(recipebox: Type, box: Path) -> None:
    """Undone, the family recipe is gone and nothing else changed; the list then knows of nothing to take back."""
    recipebox("merge", DISH, "--yes")
    assert recipebox("undo", "--json").code == 3
    assert (box / FAMILY).exists()
    undone = recipebox("undo", "--yes", "--json")
    assert valid(undone.data, "undo")["changed"] == [FAMILY]
    assert not (box / FAMILY).exists()


def test_a_quarrel_between_two_laptops_is_settled_once(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """Two laptops change one line apart: the same question on both, one choice, boxes alike."""
    stick, other = tmp_path / "stick", tmp_path / "other"
    stick.mkdir()
    other.mkdir()
    card = "versions/nuala-fish-bake.txt"
    first = valid(recipebox("sync", str(stick), "--json").data, "sync")
    assert [place["state"] for place in first["places"]] == ["met"]
    assert recipebox("sync", str(stick), "--box", str(other), "--laptop", "study", "--json").code == 0
    assert (other / card).read_bytes() == (box / card).read_bytes()
    for folder, amount in ((box, "60g butter"), (other, "70g butter")):
        path = folder / card
        path.write_text(path.read_text("utf-8").replace("55g butter", amount), "utf-8")
    recipebox("sync")
    came = recipebox("sync", "--box", str(other), "--json")
    assert came.code == 3
    assert [one["about"] for one in valid(came.data, "sync")["undecided"]] == ["butter"]
    assert recipebox("sync", "--json").data["undecided"] == came.data["undecided"]
    asked = valid(recipebox("settle", "--json").data, "settle")
    laptops = {w["text"]: w["laptops"] for w in asked["undecided"][0]["wordings"]}
    assert laptops == {"60g butter": ["kitchen"], "70g butter": ["study"]}
    assert recipebox("settle", card, "butter", "--take", "70g butter").code == 0
    recipebox("sync")
    assert recipebox("sync", "--box", str(other)).code == 0
    assert (other / card).read_bytes() == (box / card).read_bytes()
    assert "70g butter" in recipebox("read", card, "--json").out
    assert json.loads(recipebox("settle", "--json").out)["undecided"] == []


def test_a_pulled_stick_is_named_and_harms_nothing(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """A remembered place that is not there is skipped with exit 1, and nothing is made where it was."""
    stick = tmp_path / "stick"
    stick.mkdir()
    assert recipebox("sync", str(stick)).code == 0
    for path in sorted(stick.rglob("*"), reverse=True):
        path.unlink() if path.is_file() else path.rmdir()
    answer = recipebox("sync", "--json")
    assert (answer.code, [place["state"] for place in answer.data["places"]]) == (1, ["not there"])
    assert list(stick.iterdir()) == []
