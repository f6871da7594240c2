"""Whose each wording of a quarrel is, across laptops that meet."""

from dataclasses import dataclass
from pathlib import Path

import pytest

from recipebox.box import Box, create
from recipebox.family import open_entries, settle_entry
from recipebox.history import open_history
from recipebox.index import open_index
from recipebox.sync import meet, take_box

_POT = "Onion Pot\n\n800 g onions, sliced\n50 g butter\n10 g salt\n\nFry the onions in the butter with the salt.\n"
_RYE = "Rye Bread\n\n500 g rye flour\n400 ml water\n10 g salt\n\nMix the flour, water and salt. Bake.\n"


@dataclass
class _Laptops:
    boxes: list[Box]
    stick: str

    def meet(self, times: int = 2) -> None:
        for _ in range(times):
            for box in self.boxes:
                meet(box, self.stick, yes=True)

    def edit(self, at: int, path: str, old: str, new: str) -> None:
        file = self.boxes[at].root / path
        file.write_text(file.read_text("utf-8").replace(old, new), "utf-8")

    def entries(self, at: int) -> dict[str, dict[str, list[str]]]:
        box = self.boxes[at]
        with open_index(box) as index:
            index.refresh()
            data = open_entries(box, index, open_history(box))
        return {one["about"]: {w["text"]: w["laptops"] for w in one["wordings"]} for one in data["undecided"]}

    def short(self, at: int) -> str:
        return self.boxes[at].laptop_id[:4]


@pytest.fixture
def laptops(tmp_path: Path) -> _Laptops:
    """Three laptops that have met: two called pc, one called attic."""
    (tmp_path / "stick").mkdir()
    stick = str(tmp_path / "stick")
    first = create(tmp_path / "a", "pc")
    (first.root / "pot.txt").write_text(_POT)
    (first.root / "rye.txt").write_text(_RYE)
    meet(first, stick, yes=True)
    others = [take_box(tmp_path / name, stick, laptop=laptop) for name, laptop in (("b", "pc"), ("c", "attic"))]
    family = _Laptops([first, *others], stick)
    family.meet()
    return family


def test_each_wording_names_who_wrote_it_and_nobody_who_settles(laptops: _Laptops) -> None:
    """Of three amounts each has its laptop, two of one name by their ids; choosing makes nobody an author."""
    laptops.edit(0, "pot.txt", "800 g onions, sliced", "700 g onions, sliced")
    laptops.edit(1, "pot.txt", "800 g onions, sliced", "1 kg onions, sliced")
    laptops.edit(2, "pot.txt", "800 g onions, sliced", "900 g onions, chopped")
    laptops.meet()
    expected = {
        "700 g onions, chopped": [f"pc ({laptops.short(0)})"],
        "1 kg onions, chopped": [f"pc ({laptops.short(1)})"],
        "900 g onions, chopped": ["attic"],
    }
    assert [laptops.entries(at)["onions"] for at in range(3)] == [expected] * 3
    box = laptops.boxes[2]
    with open_index(box) as index:
        index.refresh()
        settle_entry(box, index, open_history(box), "pot.txt", "onions", take="1")
        settle_entry(box, index, open_history(box), "pot.txt", "onions", again=True)
    laptops.meet()
    assert [laptops.entries(at)["onions"] for at in range(3)] == [expected] * 3


def test_who_took_a_card_or_a_line_away_is_named(laptops: _Laptops) -> None:
    """ "Leave out" has the laptop that deleted, "keep" the one that edited meanwhile."""
    (laptops.boxes[1].root / "rye.txt").unlink()
    laptops.edit(2, "rye.txt", "400 ml", "420 ml")
    laptops.edit(1, "pot.txt", "50 g butter\n", "")
    laptops.edit(0, "pot.txt", "50 g butter", "60 g butter")
    laptops.meet()
    found = laptops.entries(0)
    assert found["this card"] == {"keep": ["attic"], "leave out": [f"pc ({laptops.short(1)})"]}
    assert found["butter"] == {"60 g butter": [f"pc ({laptops.short(0)})"], "leave out": [f"pc ({laptops.short(1)})"]}
