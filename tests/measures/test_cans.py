"""Cans without a printed size, and ounces that are fluid."""

import pytest

from recipebox.measures.cans import is_fluid, numbered_can, usual_can


@pytest.mark.parametrize(
    "item", ["milk", "chicken broth", "heavy cream", "evaporated milk", "orange juice", "olive oil"]
)
def test_what_is_poured_is_sold_by_the_fluid_ounce(item: str) -> None:
    """Common practice, no source: 8 oz of a liquid are fluid ounces."""
    assert is_fluid(item)


@pytest.mark.parametrize(
    "item",
    [
        "cheddar cheese",
        "sour cream",
        "cream cheese",
        "sweetened condensed milk",
        "dry milk",
        "tomato soup",
        "",
        "flour",
    ],
)
def test_what_is_not_poured_is_weighed(item: str) -> None:
    """Common practice, no source: 8 oz of anything else are ounces of weight."""
    assert not is_fluid(item)


def test_a_trade_number_gives_the_size() -> None:
    """A can called by its number has that number's weight, with the row and the source named."""
    found = numbered_can("1 No. 2 1/2 can peaches")
    assert found is not None
    assert 737 <= found.grams <= 850  # Kansas State University Research and Extension, can sizes
    assert "2 1/2" in found.table_row
    assert found.source.startswith("Kansas State")


@pytest.mark.parametrize("text", ["1 can peaches", "2 cans (15 oz) beans", "no. 7777 can", "1 No. 9 can corn"])
def test_no_number_no_size(text: str) -> None:
    """A line without a trade number, or with one no table has, gives no size."""
    assert numbered_can(text) is None


def test_a_row_read_in_its_source_stands_before_a_recalled_one() -> None:
    """Condensed soup goes by USDA's 305 g, not by the recalled present size."""
    found = usual_can("condensed cream of mushroom soup")
    assert found is not None
    assert found.grams == 305
    assert usual_can("dragon fruit") is None
