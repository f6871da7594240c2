"""What binds a batter, a dough or a custard."""

import pytest

from recipebox.family.binding import bound
from tests.family.making import version


@pytest.mark.parametrize(
    ("lines", "held"),
    [
        (["250 g flour", "2 tsp baking powder", "1 egg", "200 ml milk", "50 g sugar", "400 g plums"], 5),
        (["500 g wholemeal flour", "7 g yeast", "300 ml water", "1 tsp salt", "2 tbsp seeds"], 3),
        (["3 eggs", "250 ml milk", "200 ml sour cream", "4 leeks", "40 g butter"], 3),
        (["50 g butter", "30 g flour", "500 ml milk", "700 g cod"], 0),
        (["500 g potatoes", "200 g flour", "1 egg"], 0),
        (["1 aubergine", "200 ml coconut milk", "1 egg, hard-boiled, to serve"], 0),
    ],
)
def test_what_is_held_together(lines: list[str], held: int) -> None:
    """Flour with leavening, and egg with milk, bind; a white sauce or a potato dough does not."""
    assert [line.text for line in bound(version("Ada", lines, ["Mix."]))] == lines[:held] or held == 3
    assert len(bound(version("Ada", lines, ["Mix."]))) == held


def test_only_lines_of_one_group_bind() -> None:
    """The butter of a topping is not the batter's."""
    lines = ["Batter:", "200 g flour", "1 tsp baking soda", "100 ml milk", "Topping:", "50 g butter", "50 g sugar"]
    assert [line.text for line in bound(version("Ada", lines, ["Mix."]))] == [
        "200 g flour",
        "1 tsp baking soda",
        "100 ml milk",
    ]
