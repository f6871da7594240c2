"""SQLite through sqlite-utils: search, features and groups kept current. A cache, made anew from the cards at will."""

from recipebox.index.database import IndexBrokenError, IndexLockedError, IndexNotWrittenError
from recipebox.index.finding import Hit, Hits
from recipebox.index.index import Index, open_index
from recipebox.index.naming import AmbiguousError, NotFoundError, fitting
from recipebox.index.refreshing import Event, Refreshed
from recipebox.index.watching import watch

__all__ = [
    "AmbiguousError",
    "Event",
    "Hit",
    "Hits",
    "Index",
    "IndexBrokenError",
    "IndexLockedError",
    "IndexNotWrittenError",
    "NotFoundError",
    "Refreshed",
    "fitting",
    "open_index",
    "watch",
]
