"""Snapshots, moves, editions and undo, on git objects in the box's hidden folder."""

from recipebox.history.commits import State, read_state
from recipebox.history.editions import Edition, Entry
from recipebox.history.graph import Graph
from recipebox.history.history import History, Snapshot, open_history
from recipebox.history.laptops import laptop_names, said_names, with_letters
from recipebox.history.message import Message, read_message
from recipebox.history.objects import written
from recipebox.history.packing import Packed, keep_pack, object_name, pack_index, pack_of_few
from recipebox.history.past import Gone, Written
from recipebox.history.snapshot import SetAside
from recipebox.history.store import Commit, HistoryError, TooBigError, parse_tree
from recipebox.history.tidy import tidy
from recipebox.history.trees import DEEPEST, MOST_FILES
from recipebox.history.undo import (
    CannotUndoError,
    Deed,
    NothingToUndoError,
    Undone,
    laid_aside,
    lay_aside,
    note_sync,
)

__all__ = [
    "DEEPEST",
    "MOST_FILES",
    "CannotUndoError",
    "Commit",
    "Deed",
    "Edition",
    "Entry",
    "Gone",
    "Graph",
    "History",
    "HistoryError",
    "Message",
    "NothingToUndoError",
    "Packed",
    "SetAside",
    "Snapshot",
    "State",
    "TooBigError",
    "Undone",
    "Written",
    "keep_pack",
    "laid_aside",
    "laptop_names",
    "lay_aside",
    "note_sync",
    "object_name",
    "open_history",
    "pack_index",
    "pack_of_few",
    "parse_tree",
    "read_message",
    "read_state",
    "said_names",
    "tidy",
    "with_letters",
    "written",
]
