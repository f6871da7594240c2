"""Published guidance for pans that go into the freezer. It informs; it never says that anything is safe."""

from recipebox.cards.model import Card
from recipebox.cautions.guidance import Caution
from recipebox.cautions.rules import kitchen_rules
from recipebox.cautions.storage import keeping_or_leftovers

_RULES = ("cool_shallow", "freezer_quality_vs_safety", "thaw_safely", "reheat_165")
_GLASS = "glass_thermal_shock"


def freezing_cautions(card: Card, pan_words: str = "") -> tuple[Caution, ...]:
    """How long such a dish keeps by cold_storage.csv, and how to cool, thaw and reheat it, each with its source.

    A dish that no row names is given the row for leftovers. With glass in the card's pan or `pan_words`, also what is
    published on glass between freezer and oven.
    """
    rule, words = keeping_or_leftovers(card)
    wanted = list(_RULES)
    if "glass" in f"{pan_words} {card.pan.text if card.pan else ''}".lower():
        wanted.append(_GLASS)
    by_key = {one.key: one for one in kitchen_rules()}
    found = [rule, *(by_key[key] for key in wanted if key in by_key)]
    return tuple(Caution(one.key, one.text, one.source, one.url, one.basis, 1, words) for one in found)
