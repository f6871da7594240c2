"""The folder itself: finding it, the one scan, the lock, and the only writing of files in a box."""

from recipebox.box.bulk import replace_many
from recipebox.box.errors import (
    BoxError,
    ChangedUnderneathError,
    LockedError,
    MissingError,
    NoBoxError,
    NotWrittenError,
    UnreadableError,
    UnsafePathError,
)
from recipebox.box.files import read_file, remove, replace
from recipebox.box.journal import Recovered, Step, carry_out, interrupted, recover, sweep
from recipebox.box.locking import died, lock, mended
from recipebox.box.paths import MAX_CARD, MAX_DEEP, MAX_FILE, MAX_FILES
from recipebox.box.place import HIDDEN, Box, create, find
from recipebox.box.resources import copy_sample_box, sample_box, schema
from recipebox.box.scanning import BoxTrouble, Scan, note_written, scan
from recipebox.box.state import keep, kept
from recipebox.box.stats import Found
from recipebox.cards.blobs import blob_id

__all__ = [
    "HIDDEN",
    "MAX_CARD",
    "MAX_DEEP",
    "MAX_FILE",
    "MAX_FILES",
    "Box",
    "BoxError",
    "BoxTrouble",
    "ChangedUnderneathError",
    "Found",
    "LockedError",
    "MissingError",
    "NoBoxError",
    "NotWrittenError",
    "Recovered",
    "Scan",
    "Step",
    "UnreadableError",
    "UnsafePathError",
    "blob_id",
    "carry_out",
    "copy_sample_box",
    "create",
    "died",
    "find",
    "interrupted",
    "keep",
    "kept",
    "lock",
    "mended",
    "note_written",
    "read_file",
    "recover",
    "remove",
    "replace",
    "replace_many",
    "sample_box",
    "scan",
    "schema",
    "sweep",
]
