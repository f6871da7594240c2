"""Many versions of a dish to a family recipe: proposal, swaps, provenance, renewal, editions, settling."""

from recipebox.family.agree import Outcome, merge_dish
from recipebox.family.asking import Answers, OpenRow, answers_so_far, keep_answers, open_rows
from recipebox.family.choosing import contradiction
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
    "Answers",
    "Choices",
    "FamilyError",
    "OpenRow",
    "Outcome",
    "Proposal",
    "answers_so_far",
    "contradiction",
    "history_data",
    "keep_answers",
    "merge_dish",
    "open_entries",
    "open_rows",
    "proposal_data",
    "propose_new",
    "published_swaps",
    "renew",
    "say_of_dishes",
    "settle_entry",
]
