"""Oven heats against NIST, The Metric Kitchen, and UK cooker tables, as oven_marks.csv copies them."""

from fractions import Fraction

import pytest

from recipebox.cards.model import Amount, Bake, Heat
from recipebox.measures import bake_fahrenheit, celsius, fahrenheit, kitchen_celsius
from recipebox.tables.load import rows

NIST = [row for row in rows("oven_marks") if row["source"].startswith("NIST")]
GAS = [row for row in rows("oven_marks") if row["gas_mark"]]


def heat(scale: str, value: str, fan: bool = False) -> Heat:
    """One figure on one scale."""
    return Heat(scale, Amount(Fraction(value), Fraction(value)), fan)


@pytest.mark.parametrize("row", NIST, ids=lambda row: row["words"])
def test_nist_metric_kitchen(row: dict[str, str]) -> None:
    """NIST, The Metric Kitchen: each Fahrenheit figure is its Celsius figure on an oven's dial, within 5 C."""
    for f, c in zip(row["fahrenheit"].split("-"), row["celsius"].split("-"), strict=True):
        assert kitchen_celsius(Fraction(f)) == int(c)
        exact = celsius(heat("F", f))
        assert exact is not None
        assert abs(exact - int(c)) <= 5


@pytest.mark.parametrize("row", NIST, ids=lambda row: row["words"])
def test_words_lie_where_nist_puts_them(row: dict[str, str]) -> None:
    """A word for an oven's heat is read inside the range that NIST, The Metric Kitchen gives it."""
    found = fahrenheit(Heat("words", words=f"a {row['words']} oven"))
    ends = [Fraction(end) for end in row["fahrenheit"].split("-")]
    assert found is not None
    assert ends[0] <= found <= ends[-1]


@pytest.mark.parametrize("row", GAS, ids=lambda row: f"{row['gas_mark']} {row['source'][:9]}")
def test_gas_marks(row: dict[str, str]) -> None:
    """Each gas mark is the Fahrenheit of both UK tables, and within 8 C of their Celsius.

    They print 160 and 170 C for one mark and round to 10.
    """
    mark = heat("gas", row["gas_mark"])
    found, in_celsius = fahrenheit(mark), celsius(mark)
    assert found == Fraction(row["fahrenheit"])
    assert in_celsius is not None
    assert any(abs(in_celsius - Fraction(end)) <= 8 for end in row["celsius"].split("-"))


OTHERS = [row for row in rows("oven_marks") if row["words"] and row not in NIST and row["fahrenheit"]]


@pytest.mark.parametrize("row", OTHERS, ids=lambda row: f"{row['words'][:20]} {row['fahrenheit']}")
def test_words_that_sources_disagree_on_go_by_nist(row: dict[str, str]) -> None:
    """UK gas tables and a 1935 range booklet put other heats to the same words: NIST's table is used, a standards body.

    What is used lies within 50 F of theirs, so that no other figure stands for the word.
    """
    word = row["words"].split(" (")[0]
    if word.startswith("adjustment"):
        return  # differences, not heats: the tests below
    nist = next(other for other in NIST if other["words"] == word)
    ends = [Fraction(end) for end in nist["fahrenheit"].split("-")]
    found = fahrenheit(Heat("words", words=f"{word} oven"))
    assert found == sum(ends) / len(ends)
    theirs = [Fraction(end) for end in row["fahrenheit"].split("-")]
    assert theirs[0] - 50 <= found <= theirs[-1] + 50


@pytest.mark.parametrize("row", rows("oven_marks"), ids=lambda row: f"{row['words'][:20]} {row['fahrenheit']}")
def test_both_scales_of_a_row_are_one_heat(row: dict[str, str]) -> None:
    """C = (F - 32) x 5/9: the row's Fahrenheit, converted, is its Celsius within the 8 C that ovens' dials round by."""
    if row["words"].startswith("adjustment"):
        return
    for f in row["fahrenheit"].split("-"):
        exact = celsius(heat("F", f))
        assert exact is not None
        assert any(abs(exact - Fraction(c)) <= 8 for c in row["celsius"].split("-"))


def test_fan_ovens_stay_within_the_published_differences() -> None:
    """A fan oven's figure goes up by what the rows beginning `adjustment:` allow, in both scales."""
    spans: dict[str, list[int]] = {"F": [], "C": []}
    for row in rows("oven_marks"):
        if row["words"].startswith(("adjustment: fan", "adjustment: convection")):
            for scale, cell in (("F", row["fahrenheit"]), ("C", row["celsius"])):
                spans[scale] += [-int(end) for end in cell.replace(" to ", " ").split()]
    f = fahrenheit(heat("F", "350", fan=True))
    c = celsius(heat("C", "160", fan=True))
    assert f is not None
    assert c is not None
    assert min(spans["F"]) <= f - 350 <= max(spans["F"])
    assert min(spans["C"]) <= c - 160 <= max(spans["C"])


def test_one_heat_said_three_ways_is_one_heat() -> None:
    """180 C, 160 C fan and gas 4 on one line differ by no more than 10 F."""
    ways = [heat("C", "180"), heat("C", "160", fan=True), heat("gas", "4")]
    found = [degrees for way in ways if (degrees := fahrenheit(way)) is not None]
    assert len(found) == 3
    assert max(found) - min(found) <= 10
    assert bake_fahrenheit(Bake("180C/160C fan/gas 4", 1, tuple(reversed(ways)))) == 356
