"""Amounts as real measures make them."""

import re
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.measures import MeasureError, convert, kitchen, kitchen_range, measures_named, unit

NUMBER = r"\d+ \d+/\d+|\d+/\d+|\d*\.?\d+"
# What is written for each measure, in ml or g; a pinch 1/16 tsp, a smidgen 1/32 (kitchen_units.csv).
TEASPOON = convert(Fraction(1), "teaspoon", "ml")
UNITS = [
    "teaspoon",
    "tablespoon",
    "cup",
    "pint",
    "quart",
    "gallon",
    "fluid ounce",
    "ounce",
    "pound",
    "gram",
    "kilogram",
]
UNITS += ["millilitre", "litre"]
AMOUNTS = st.fractions(min_value=Fraction(1, 64), max_value=3000, max_denominator=64)


def measured(text: str) -> Fraction:
    """What a person would measure out, reading the text afresh, in ml or g."""
    total = Fraction(0)
    for part in re.split(r" \+ |(?<=lb) ", re.sub(r"^(?:about|scant|generous) ", "", text)):
        if part.removeprefix("a ") in ("pinch", "smidgen"):
            total += TEASPOON / (16 if part.endswith("pinch") else 32)
            continue
        match = re.fullmatch(rf"({NUMBER}) (.+)", part)
        assert match is not None, part
        known = unit(match[2])
        assert known is not None, part
        total += sum(map(Fraction, match[1].split())) * known.size
    return total


@given(AMOUNTS, st.sampled_from(UNITS))
def test_what_is_written_is_what_is_claimed(amount: Fraction, name: str) -> None:
    """The text, read afresh, makes exactly `amount` of `unit`, and `error` is exactly how far that is off."""
    shown = kitchen(amount, name, "flour")
    known = unit(name)
    assert known is not None
    assert shown.unit == name
    assert shown.error == shown.amount / amount - 1
    if shown.text != "less than a pinch":
        assert measured(shown.text) == shown.amount * known.size


@given(AMOUNTS, st.sampled_from([*UNITS, "clove", "can", None, "Esslöffel", "metric cup", "handful"]))
def test_an_error_over_5_per_cent_is_said(amount: Fraction, name: str | None) -> None:
    """Where real measures come no nearer than 5 %, the text says scant, generous, about or less than."""
    shown = kitchen(amount, name, "flour")
    said = shown.text.split()[0] in ("about", "scant", "generous", "less")
    assert said == (abs(shown.error) > Fraction(1, 20))


COOKS_WRITE = [
    *((Fraction(n, 8), "teaspoon") for n in (1, 2, 4, 6, 8, 12, 16, 20)),
    *((Fraction(n, 2), "tablespoon") for n in (2, 3, 4, 6, 8)),
    *(
        (Fraction(n), "cup")
        for n in [
            "1/4",
            "1/3",
            "1/2",
            "2/3",
            "3/4",
            "1",
            "5/4",
            "4/3",
            "3/2",
            "5/3",
            "7/4",
            "2",
            "9/4",
            "5/2",
            "3",
            "7/2",
            "4",
            "5",
            "6",
            "8",
        ]
    ),
]
FACTORS = [
    Fraction(n)
    for n in [
        "1/4",
        "1/3",
        "1/2",
        "3/5",
        "2/3",
        "3/4",
        "5/6",
        "6/5",
        "5/4",
        "4/3",
        "7/5",
        "3/2",
        "5/3",
        "2",
        "5/2",
        "3",
        "4",
    ]
]


def test_hardly_any_real_batch_is_shown_over_5_per_cent_off() -> None:
    """Of the amounts cooks write, at the batches people make, at most 1 in 50 is shown over 5 % off.

    From 1/8 tsp to 8 cups; below 1/8 tsp aside.
    """
    known = {name: convert(Fraction(1), name, "teaspoon") for name in ("teaspoon", "tablespoon", "cup")}
    batches = [(amount * times, name) for (amount, name), times in product(COOKS_WRITE, FACTORS)]
    inside = [(amount, name) for amount, name in batches if Fraction(1, 8) <= amount * known[name] <= 384]
    off = [(amount, name) for amount, name in inside if abs(kitchen(amount, name, "salt").error) > Fraction(1, 20)]
    assert len(inside) > 400
    assert len(off) * 50 <= len(inside), off


@pytest.mark.parametrize(
    ("amount", "name", "text"),
    [
        ("5/8", "cup", "1/2 cup + 2 Tbsp"),  # Basics at a Glance prints 10 Tbsp
        ("1/6", "cup", "2 Tbsp + 2 tsp"),
        ("4", "tablespoon", "1/4 cup"),
        ("3", "teaspoon", "1 Tbsp"),
        ("7/8", "cup", "3/4 cup + 2 Tbsp"),
        ("1/16", "teaspoon", "a pinch"),
        ("1/100", "teaspoon", "less than a pinch"),
        ("1/2", "quart", "2 cups"),
        ("9/4", "quart", "2 1/4 quarts"),
        ("24", "ounce", "1 1/2 lb"),
        ("1/3", "pound", "1/3 lb"),
        ("226.796185", "gram", "225 g"),
        ("1500", "gram", "1.5 kg"),
        ("113", "gram", "113 g"),
        ("0.125", "litre", "125 ml"),
    ],
)
def test_as_cooks_write_it(amount: str, name: str, text: str) -> None:
    """Common practice, no source: spoons become cups, quarts cups, grams kilograms, where that is handier."""
    assert kitchen(Fraction(amount), name, "flour").text == text


def test_eggs_come_in_halves() -> None:
    """Nobody measures a third of an egg: 4 2/3 eggs are shown as 4 1/2, and 1 1/3 as about 1 1/2."""
    assert kitchen(Fraction(14, 3), None, "eggs").text == "4 1/2"
    assert kitchen(Fraction(4, 3), None, "large eggs").text == "about 1 1/2"


def test_other_peoples_spoons_keep_their_unit() -> None:
    """An Australian tablespoon holds four of its teaspoons, so nothing is changed into anything by US sizes."""
    assert kitchen(Fraction(3), "teaspoon", "salt", measures_named("Australian")).text == "3 tsp"


@pytest.mark.parametrize("amount", [Fraction(0), Fraction(-1, 2)])
def test_nothing_cannot_be_measured(amount: Fraction) -> None:
    """An amount of nothing, or less, is refused in one clear line."""
    with pytest.raises(MeasureError, match="nothing to measure") as caught:
        kitchen(amount, "cup", "flour")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("low", "high", "name", "text"),
    [
        ("1/2", "1", "tablespoon", "1/2 to 1 Tbsp"),
        ("6", "9", "tablespoon", "6 to 9 Tbsp"),
        ("2", "3", "cup", "2 to 3 cups"),
        ("1/2", "1", "cup", "1/2 to 1 cup"),
        ("1", "2", None, "1 to 2"),
        ("500", "750", "gram", "500 to 750 g"),
        ("5/8", "3/4", "pound", "10 to 12 oz"),
        ("1", "2", "inch", "1 to 2 inches"),
    ],
)
def test_a_range_stays_in_one_unit(low: str, high: str, name: str | None, text: str) -> None:
    """Both ends of a range are told in one unit where a kitchen has it."""
    assert kitchen_range(Fraction(low), Fraction(high), name, "flour").text == text


@given(AMOUNTS, AMOUNTS, st.sampled_from([*UNITS, "clove", None]))
def test_a_range_is_no_further_off_than_it_says(low: Fraction, width: Fraction, name: str | None) -> None:
    """The low end shown is `amount`, and lies within the error told."""
    shown = kitchen_range(low, low + width, name, "flour")
    assert abs(shown.amount / low - 1) <= abs(shown.error)


def test_ounces_of_a_liquid_stay_fluid() -> None:
    """60 oz of juice are no pounds."""
    assert kitchen(Fraction(60), "ounce", "orange juice").text == "60 fl oz"
