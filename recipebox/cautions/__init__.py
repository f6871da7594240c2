"""Published food-safety guidance and allergens, matched to a card. It informs; it never says that anything is safe."""

from recipebox.cautions.allergens import allergen_change, allergens
from recipebox.cautions.freezing import freezing_cautions
from recipebox.cautions.guidance import NOTICE, Caution, cautions_for
from recipebox.cautions.measuring import measuring_cautions
from recipebox.cautions.rules import Keeping
from recipebox.cautions.sizing import SizeCaution, sizing_cautions
from recipebox.cautions.storage import keeping, keeping_for

__all__ = [
    "NOTICE",
    "Caution",
    "Keeping",
    "SizeCaution",
    "allergen_change",
    "allergens",
    "cautions_for",
    "freezing_cautions",
    "keeping",
    "keeping_for",
    "measuring_cautions",
    "sizing_cautions",
]
