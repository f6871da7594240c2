"""Pans and cans against the published lists in pan_volumes.csv, can_sizes.csv and household_weights.csv."""

from dataclasses import replace
from fractions import Fraction

import pytest

from recipebox.cards.model import Amount, Ingredient, Measure, Pan
from recipebox.measures import can_sizes, convert, footing, pan_area, pan_fit, pan_volume_ml
from recipebox.tables.load import rows

SHAPES = {
    "rectangle": "rectangle",
    "square": "rectangle",
    "sheet": "rectangle",
    "loaf": "loaf",
    "round": "round",
    "springform": "round",
    "pie": "round",
    "tart": "round",
    "tube": "tube",
    "fluted tube": "tube",
    "ring mold": "tube",
    "muffin": "muffin",
}
PANS = [row for row in rows("pan_volumes") if row["shape"] in SHAPES]


def middle(cell: str) -> Fraction:
    """The middle of "96-117" or "12-13 2/3"."""
    ends = [sum(map(Fraction, end.split()), Fraction(0)) for end in cell.split("-")]
    return sum(ends, Fraction(0)) / len(ends)


def pan_of(row: dict[str, str], unit: str = "inch", per: Fraction = Fraction(1)) -> Pan:
    """The pan a row describes, in inches or in another unit of which `per` make an inch."""
    cells = [row["diameter_in"]] if row["diameter_in"] else [row["length_in"], row["width_in"]]
    sides = tuple(Fraction(cell) * per for cell in cells)
    depth = Fraction(row["depth_in"]) * per if row["depth_in"] else None
    return Pan(f"{row['common_name']} {row['shape']}", 1, SHAPES[row["shape"]], sides, depth, unit)


def published(row: dict[str, str]) -> list[Fraction]:
    """Every volume in ml that any source gives for a pan of this shape, size and depth."""
    same = [
        other
        for other in PANS
        if SHAPES[other["shape"]] == SHAPES[row["shape"]]
        and all(other[key] == row[key] for key in ("length_in", "width_in", "diameter_in"))
        and (other["depth_in"] == row["depth_in"] or not row["depth_in"])
    ]
    return [Fraction(end) for other in same for end in other["volume_ml"].split("-")]


@pytest.mark.parametrize("row", PANS, ids=lambda row: f"{row['common_name']}, {row['source'][:12]}")
def test_a_pan_holds_what_some_source_says(row: dict[str, str]) -> None:
    """The volume of every listed pan lies within what the sources say of that pan, in inches and in centimetres."""
    figures = published(row)
    for pan in (pan_of(row), pan_of(row, "centimetre", Fraction("2.54"))):
        found = pan_volume_ml(pan)
        assert found is not None
        assert min(figures) - 1 < found < max(figures) + 1  # printed to whole ml


@pytest.mark.parametrize("row", PANS, ids=lambda row: f"{row['common_name']}, {row['source'][:12]}")
def test_of_sources_that_disagree_the_first_read_one_stands(row: dict[str, str]) -> None:
    """Sources differ on one pan by up to half; the first row of its shape, size and depth read in its source is used.

    A row recalled and not retrieved stands only where no other is. Which figure was taken, and whose, `pan_fit` says.
    """
    if not row["depth_in"]:
        return  # without a depth the pan is any of its size: the test above holds it to their span
    keys = ("shape", "length_in", "width_in", "diameter_in", "depth_in")
    rivals = [other for other in PANS if all(other[key] == row[key] for key in keys)]
    used = next((other for other in rivals if other["basis"] != "memory"), rivals[0])
    ends = [Fraction(end) for end in used["volume_ml"].split("-")]
    named = replace(pan_of(row), text=row["shape"])
    found = pan_volume_ml(named)
    assert found == middle(used["volume_cups"]) * convert(Fraction(1), "cup", "ml")
    assert abs(found - sum(ends, Fraction(0)) / len(ends)) < 1  # printed to whole ml
    quarts = Pan("2 quart", volume=Measure(Amount(Fraction(2), Fraction(2)), "quart"))
    assert used["source"] in pan_fit(named, quarts).why


@pytest.mark.parametrize("row", [row for row in PANS if row["depth_in"] and row["shape"] in ("rectangle", "square")])
def test_no_listed_pan_holds_much_more_than_its_brim(row: dict[str, str]) -> None:
    """Plane geometry, length x width x depth, is an upper bound for straight pans (8 % for rounding and flare)."""
    pan = pan_of(row)
    area, held = pan_area(pan), pan_volume_ml(pan)
    assert area is not None
    assert held is not None
    assert held <= area * Fraction(row["depth_in"]) * Fraction("2.54") * Fraction(108, 100)


@pytest.mark.parametrize("row", [row for row in rows("pan_volumes") if row["shape"] == "casserole"])
def test_casseroles_are_their_printed_volume(row: dict[str, str]) -> None:
    """NIST SP 430, Table 1: 1 quart = 4 cups; a casserole of n quarts holds that (ml rounded to whole ones)."""
    quarts = Fraction(row["volume_cups"]) / 4
    pan = Pan(row["common_name"], volume=Measure(Amount(quarts, quarts), "quart"))
    found = pan_volume_ml(pan)
    assert found is not None
    assert abs(found - Fraction(row["volume_ml"])) < 1


@pytest.mark.parametrize("row", rows("can_sizes"), ids=lambda row: f"{row['can_name']}, {row['source'][:12]}")
def test_each_row_of_can_sizes_is_listed_with_its_source(row: dict[str, str]) -> None:
    """Every row is given by `can_sizes` under its name: the middle of its grams and cups, and who published it.

    Sources differ (a No. 10 can holds 105 oz or 96 to 117): the first row read in its source stands first and is used,
    rows recalled and not retrieved come last.
    """
    listed = can_sizes(row["can_name"])
    grams = middle(row["avg_net_weight_g"])
    ml = middle(row["volume_cups"]) * convert(Fraction(1), "cup", "ml") if row["volume_cups"] else None
    assert (grams, ml, row["source"]) in [(can.grams, can.ml, can.source) for can in listed]
    assert [can.basis == "memory" for can in listed] == sorted(can.basis == "memory" for can in listed)
    if row["can_name"].startswith("No. "):
        line = Ingredient(f"1 {row['can_name']} can of quinces", amount=Amount(Fraction(1), Fraction(1)), unit="can",
                          item="quinces")  # fmt: skip
        found = footing(line)
        assert (found.grams, found.why) == (listed[0].grams, listed[0].source)


# A broth can is sold by 14.5 fluid ounces; SR26 weighs what is in it.
FLUID_CANS = {"broth can"}


@pytest.mark.parametrize("row", rows("can_sizes"), ids=lambda row: f"{row['can_name']}, {row['source'][:12]}")
def test_ounces_and_grams_of_a_can_are_one_weight(row: dict[str, str]) -> None:
    """1 oz = 28.349523125 g (NIST Handbook 44): each row's ounces are its grams, to the gram or two it prints."""
    ounces = middle(row["avg_net_weight_oz"])
    grams = convert(ounces, "fl oz", "ml") if row["can_name"] in FLUID_CANS else convert(ounces, "oz", "g")
    slack = Fraction(2, 100) * grams if row["can_name"] in FLUID_CANS else Fraction(3, 2)
    assert abs(grams - middle(row["avg_net_weight_g"])) <= slack


# Drained foods weigh less than their can says, and SR26 has evaporated milk in a can size that is no longer sold.
CANS = [
    row
    for row in rows("household_weights")
    if row["measure"] == "can" and row["note"].endswith(" oz")
    if "drained" not in row["ingredient"] and row["ingredient"] != "evaporated milk"
]


@pytest.mark.parametrize("row", CANS, ids=lambda row: row["ingredient"])
def test_a_printed_can_weighs_what_usda_weighed(row: dict[str, str]) -> None:
    """USDA SR26: a can with so many ounces printed weighs what our reading of its printed size gives, within 3 %."""
    ounces = Fraction(row["note"].removesuffix(" oz"))
    one, size = Amount(Fraction(1), Fraction(1)), Amount(ounces, ounces)
    line = Ingredient(f"1 can {row['ingredient']}", amount=one, unit="can", container=Measure(size, "ounce"),
                      item=row["ingredient"])  # fmt: skip
    found = footing(line).grams
    assert found is not None
    assert abs(found - Fraction(row["grams"])) <= Fraction(row["grams"]) * 3 / 100


def test_numbered_cans_by_trade_size() -> None:
    """Kansas State and can-maker lists: a No. 303 can is 16 oz, a No. 2 can 20 oz, when no size is printed."""
    for number, grams in (("303", 454), ("2", 567)):
        line = Ingredient(f"2 No. {number} cans peas", amount=Amount(Fraction(2), Fraction(2)), unit="can", item="peas")
        assert footing(line).grams == 2 * grams
