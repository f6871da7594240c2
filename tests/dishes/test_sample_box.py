"""The sample box groups as its family means it."""

from pathlib import Path

import pytest

from recipebox.cards.reader import read_cards
from recipebox.cards.sayings import Sayings
from recipebox.dishes import Dishes, features, group
from tests.sample import DISHES

NEAR_MISSES = (
    "pies/brigid-fish-pie.txt",
    "pies/ines-leek-tart.md",
    "sides/nuala-leek-potato-gratin.txt",
    "soups/tomasz-fish-soup.txt",
    "weeknight/carol-ann-fishcakes.txt",
)


@pytest.fixture(scope="module")
def found(sample_box: Path) -> Dishes:
    """The dishes of all versions in the sample box."""
    known = {}
    for path in sorted(sample_box.rglob("*")):
        called = path.relative_to(sample_box).as_posix()
        if path.suffix in (".txt", ".md") and path.name != "on-hand.txt" and not called.startswith("family/"):
            known |= {card.called: features(card) for card in read_cards(path.read_bytes(), called)}
    return group(known, Sayings())


def test_each_dish_has_its_versions_and_no_other(found: Dishes) -> None:
    """Eleven fish bakes, four breads, three oat bakes, four soups and three dumplings, whatever each is titled."""
    grouped = [{member.called for member in dish.cards} for dish in found.dishes]
    assert sorted(map(sorted, grouped)) == sorted(map(sorted, DISHES.values()))


def test_near_misses_stand_alone(found: Dishes) -> None:
    """A fish pie, a fish soup, fishcakes, a leek tart and a gratin are no fish and leek bake."""
    assert set(NEAR_MISSES) <= set(found.singles)


def test_batches_are_seen_through_units(found: Dishes) -> None:
    """Against Brigid's two pans in grams, Carol-Ann's card in cups is half a batch and Maeve's a quarter."""
    bake = next(dish for dish in found.dishes if len(dish.cards) == len(DISHES["Harbour Fish and Leek Bake"]))
    batch = {member.called: member.batch for member in bake.cards}
    brigid = batch["versions/brigid-fish-bake.txt"]
    assert batch["versions/carol-ann-fish-bake.txt"] == brigid / 2
    assert batch["versions/maeve-small-fish-bake.txt"] == brigid / 4
