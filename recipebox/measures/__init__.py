"""Units, household weights, cans, pans, ovens, scaling and kitchen rounding, all in exact fractions."""

from recipebox.measures.batches import (
    PanShare,
    WrongNumberError,
    number_wanted,
    share_out,
    times_for_pan,
    times_for_serves,
)
from recipebox.measures.cans import CanSize, can_sizes, is_fluid
from recipebox.measures.foodrows import HouseholdRow, weight_rows
from recipebox.measures.footing import Footing, footing
from recipebox.measures.kitchen import kitchen, kitchen_range
from recipebox.measures.leftovers import awkward
from recipebox.measures.lines import shown_line
from recipebox.measures.ovens import bake_fahrenheit, celsius, fahrenheit, kitchen_celsius
from recipebox.measures.pans import PanFit, pan_area, pan_factor, pan_fit, pan_volume_ml, pans_near
from recipebox.measures.ratio import Ratio, compare_amounts
from recipebox.measures.scaling import scale_card, scale_ingredient
from recipebox.measures.shown import Shown
from recipebox.measures.units import MeasureError, Measures, Unit, convert, unit
from recipebox.measures.whose import Whose, in_measures, lines_that_differ, measures_named, whose_measures
from recipebox.measures.yields import Yield, before_cooking, cooked_cups

__all__ = [
    "CanSize",
    "Footing",
    "HouseholdRow",
    "MeasureError",
    "Measures",
    "PanFit",
    "PanShare",
    "Ratio",
    "Shown",
    "Unit",
    "Whose",
    "WrongNumberError",
    "Yield",
    "awkward",
    "bake_fahrenheit",
    "before_cooking",
    "can_sizes",
    "celsius",
    "compare_amounts",
    "convert",
    "cooked_cups",
    "fahrenheit",
    "footing",
    "in_measures",
    "is_fluid",
    "kitchen",
    "kitchen_celsius",
    "kitchen_range",
    "lines_that_differ",
    "measures_named",
    "number_wanted",
    "pan_area",
    "pan_factor",
    "pan_fit",
    "pan_volume_ml",
    "pans_near",
    "scale_card",
    "scale_ingredient",
    "share_out",
    "shown_line",
    "times_for_pan",
    "times_for_serves",
    "unit",
    "weight_rows",
    "whose_measures",
]
