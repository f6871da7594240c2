"""Units, household weights, cans, pans, ovens, scaling and kitchen rounding, all in exact fractions."""

from recipebox.measures.footing import Footing, footing
from recipebox.measures.kitchen import kitchen, kitchen_range
from recipebox.measures.lines import awkward, shown_line
from recipebox.measures.ovens import bake_fahrenheit, celsius, fahrenheit, kitchen_celsius
from recipebox.measures.pans import pan_area, pan_factor, pan_volume_ml
from recipebox.measures.ratio import Ratio, compare_amounts
from recipebox.measures.scaling import scale_card, scale_ingredient
from recipebox.measures.shown import Shown
from recipebox.measures.units import MeasureError, Measures, Unit, convert, measures_named, unit

__all__ = [
    "Footing",
    "MeasureError",
    "Measures",
    "Ratio",
    "Shown",
    "Unit",
    "awkward",
    "bake_fahrenheit",
    "celsius",
    "compare_amounts",
    "convert",
    "fahrenheit",
    "footing",
    "kitchen",
    "kitchen_celsius",
    "kitchen_range",
    "measures_named",
    "pan_area",
    "pan_factor",
    "pan_volume_ml",
    "scale_card",
    "scale_ingredient",
    "shown_line",
    "unit",
]
