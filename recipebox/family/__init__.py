"""Many versions of a dish to a family recipe: proposal, swaps, provenance, renewal, editions, settling."""

from recipebox.family.agree import Outcome, merge_dish
from recipebox.family.editions import Answer, history_data
from recipebox.family.model import Choices, FamilyError, Proposal, proposal_data
from recipebox.family.propose import propose_new
from recipebox.family.published import published_swaps
from recipebox.family.renew import renew
from recipebox.family.saying import say_of_dishes
from recipebox.family.settling import open_entries, settle_entry
from recipebox.family.swaps import ALWAYS_READ

__all__ = [
    "ALWAYS_READ",
    "Answer",
    "Choices",
    "FamilyError",
    "Outcome",
    "Proposal",
    "history_data",
    "merge_dish",
    "open_entries",
    "proposal_data",
    "propose_new",
    "published_swaps",
    "renew",
    "say_of_dishes",
    "settle_entry",
]
