"""Bringing cards in, as people send them, and giving them out in an open standard's form."""

from recipebox.gather.bring import add_sent
from recipebox.gather.forms import PASTED, form_of, largest
from recipebox.gather.piece import GatherError
from recipebox.gather.sent import Found, Sent, read_sent
from recipebox.gather.taken_back import originals_of, take_along

__all__ = [
    "PASTED",
    "Found",
    "GatherError",
    "Sent",
    "add_sent",
    "form_of",
    "largest",
    "originals_of",
    "read_sent",
    "take_along",
]
