"""The shipped tables and their loader."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from recipebox.tables.load import TableError, rows

PUBLISHED = {
    "can_sizes": ("can_name", "avg_net_weight_oz", "avg_net_weight_g"),
    "cold_storage": ("food_group", "keywords", "not_keywords"),
    "household_weights": ("ingredient", "measure", "amount", "grams"),
    "kitchen_safety_rules": ("rule_id", "keywords", "caution", "url"),
    "kitchen_units": ("unit", "aliases", "dimension", "value", "value_unit"),
    "major_allergens": ("allergen", "keywords", "not_keywords"),
    "oven_marks": ("fahrenheit", "celsius", "gas_mark", "words"),
    "pan_volumes": ("shape", "volume_cups", "volume_ml"),
    "safe_temperatures": ("food_group", "min_internal_F", "min_internal_C", "rest_minutes"),
    "substitutions": ("item", "instead", "introduces_allergen", "removes_allergen"),
    "worked_examples": ("topic", "given", "expected", "tolerance"),
}
SHARED = Path(__file__).resolve().parents[3] / "shared" / "tables"


@pytest.mark.parametrize("name", PUBLISHED)
def test_every_row_names_its_source_and_how_it_was_known(name: str) -> None:
    """Each row of a published table has its columns, a source, and a basis of seen, checked or memory."""
    found = rows(name)
    assert found
    for row in found:
        assert set(PUBLISHED[name]) <= set(row)
        assert None not in row, "a row has more cells than columns"
        assert row["source"]
        assert row["basis"] in {"seen", "checked", "memory"}


@pytest.mark.parametrize("name", PUBLISHED)
def test_rows_are_the_published_ones(name: str) -> None:
    """A shipped table has exactly the rows it was copied from."""
    original = SHARED / f"{name}.csv"
    if not original.exists():
        pytest.skip("the published tables are not beside this project")
    with original.open(encoding="utf-8", newline="") as file:
        assert list(rows(name)) == list(csv.DictReader(file))


@pytest.mark.parametrize(
    ("name", "columns"),
    [
        ("household_weights", ("amount", "grams")),
        ("kitchen_units", ("value",)),
        ("safe_temperatures", ("min_internal_F", "min_internal_C")),
        ("pan_volumes", ("volume_ml",)),
        ("can_sizes", ("avg_net_weight_g",)),
    ],
)
def test_figures_are_exact_numbers_above_nothing(name: str, columns: tuple[str, ...]) -> None:
    """Every figure is a number, or a range a-b that rises, and above 0."""
    for row in rows(name):
        for column in columns:
            ends = [Fraction(end) for end in row[column].split("-")]
            assert ends[0] > 0
            assert ends == sorted(ends)
            assert len(ends) <= 2


def test_fahrenheit_and_celsius_of_a_row_are_one_heat() -> None:
    """Inner temperatures in both scales are within 1 C of one another by (F - 32) x 5/9."""
    for row in rows("safe_temperatures"):
        exact = (Fraction(row["min_internal_F"]) - 32) * 5 / 9
        assert abs(exact - Fraction(row["min_internal_C"])) <= 1


def test_no_abbreviation_stands_for_two_units() -> None:
    """An alias of kitchen_units.csv belongs to one unit only, case told apart."""
    owner: dict[str, str] = {}
    for row in rows("kitchen_units"):
        for alias in set(filter(None, row["aliases"].split(";"))):
            assert owner.setdefault(alias, row["unit"]) == row["unit"]


def test_a_table_is_read_once() -> None:
    """The loader hands out the same rows each time, so that no caller pays twice."""
    assert rows("oven_marks") is rows("oven_marks")


def test_an_unknown_table_is_named() -> None:
    """Asking for a table that is not shipped says which one, in one line."""
    with pytest.raises(TableError, match="no table named soup_spoons is shipped"):
        rows("soup_spoons")
