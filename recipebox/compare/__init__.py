"""Several versions side by side: ingredients and steps aligned, the batch factor, what truly differs."""

from recipebox.compare.batch import batch_factor
from recipebox.compare.ingredients import align_ingredients
from recipebox.compare.model import Cell, Comparison, Kind, OvenRow, PanRow, Row, StepRow
from recipebox.compare.naming import step_names
from recipebox.compare.steps import align_steps
from recipebox.compare.whole import compare, comparison_data

__all__ = [
    "Cell",
    "Comparison",
    "Kind",
    "OvenRow",
    "PanRow",
    "Row",
    "StepRow",
    "align_ingredients",
    "align_steps",
    "batch_factor",
    "compare",
    "comparison_data",
    "step_names",
]
