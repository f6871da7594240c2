"""Meeting other laptops: the planner, meeting places, and carrying out a plan."""

from recipebox.sync.address import NotThereError, PersonNeededError, PlaceError
from recipebox.sync.back import undo_last
from recipebox.sync.boxes import SeveralBoxesError, boxes_in, take_box
from recipebox.sync.boxthere import BoxThere
from recipebox.sync.changed import Change
from recipebox.sync.meeting import last_met, meet
from recipebox.sync.memory import last_stop
from recipebox.sync.outcome import Outcome, PlaceOutcome, outcome_data
from recipebox.sync.removal import Stopped

__all__ = [
    "BoxThere",
    "Change",
    "NotThereError",
    "Outcome",
    "PersonNeededError",
    "PlaceError",
    "PlaceOutcome",
    "SeveralBoxesError",
    "Stopped",
    "boxes_in",
    "last_met",
    "last_stop",
    "meet",
    "outcome_data",
    "take_box",
    "undo_last",
]
