"""What is on hand, and what can be cooked from it tonight."""

from recipebox.pantry.asking import allergens_named, minutes_in
from recipebox.pantry.choosing import worth_a_look
from recipebox.pantry.errors import PantryError
from recipebox.pantry.following import by_title, followed
from recipebox.pantry.kitchen import add_on_hand, on_hand_data, read_kitchen, set_kitchen, use_on_hand
from recipebox.pantry.matching import judge
from recipebox.pantry.tonight import Tonight, tonight, tonight_data

__all__ = [
    "PantryError",
    "Tonight",
    "add_on_hand",
    "allergens_named",
    "by_title",
    "followed",
    "judge",
    "minutes_in",
    "on_hand_data",
    "read_kitchen",
    "set_kitchen",
    "tonight",
    "tonight_data",
    "use_on_hand",
    "worth_a_look",
]
