"""The algebra of versions: many sides of cards, other texts and whole boxes joined, the same on every laptop."""

from recipebox.merge.box import merge_boxes
from recipebox.merge.card import merge_card
from recipebox.merge.errors import SettleError, UnmergeableError
from recipebox.merge.following import followed
from recipebox.merge.moves import moves
from recipebox.merge.names import apart, carried, folded, safe_name, twins
from recipebox.merge.others import merge_sayings, merge_text
from recipebox.merge.settling import asks_of_the_box, settle, unsettle
from recipebox.merge.stock import merge_on_hand
from recipebox.merge.torn import torn
from recipebox.merge.tree import Blob, MergedBox, Side, Tree

RULE = 1
"""The number of the merge rule: any change to what merging gives, the reader included, raises it."""

__all__ = [
    "RULE",
    "Blob",
    "MergedBox",
    "SettleError",
    "Side",
    "Tree",
    "UnmergeableError",
    "apart",
    "asks_of_the_box",
    "carried",
    "folded",
    "followed",
    "merge_boxes",
    "merge_card",
    "merge_on_hand",
    "merge_sayings",
    "merge_text",
    "moves",
    "safe_name",
    "settle",
    "torn",
    "twins",
    "unsettle",
]
