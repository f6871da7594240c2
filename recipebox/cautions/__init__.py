"""Published food-safety guidance and allergens, matched to a card. It informs; it never says that anything is safe."""

from recipebox.cautions.allergens import allergen_change, allergens
from recipebox.cautions.guidance import NOTICE, Caution, cautions_for
from recipebox.cautions.rules import Keeping
from recipebox.cautions.storage import keeping, keeping_for

__all__ = ["NOTICE", "Caution", "Keeping", "allergen_change", "allergens", "cautions_for", "keeping", "keeping_for"]
