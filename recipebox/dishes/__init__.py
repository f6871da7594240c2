"""Which cards are versions of the same dish: features, likeness with reasons, groups, the family's own say."""

from recipebox.dishes.candidates import SHARED, candidates, keys, neighbours
from recipebox.dishes.features import Features, features, features_data, features_from_data
from recipebox.dishes.groups import Dish, Dishes, Member, group
from recipebox.dishes.likeness import Likeness, likeness, same_dish
from recipebox.dishes.telling import telling

__all__ = [
    "SHARED",
    "Dish",
    "Dishes",
    "Features",
    "Likeness",
    "Member",
    "candidates",
    "features",
    "features_data",
    "features_from_data",
    "group",
    "keys",
    "likeness",
    "neighbours",
    "same_dish",
    "telling",
]
