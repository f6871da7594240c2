"""Keeping the index current while files change.

What the system reports only tells when to look; what happened is told by comparing files. So a rename, an editor's
save by rename and a save in place are each one event, and nothing that happened while nobody watched is missed.
"""

import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from recipebox.box import Box, BoxError
from recipebox.box.errors import why
from recipebox.index.beat import beating
from recipebox.index.database import Say
from recipebox.index.index import Index, open_index
from recipebox.index.refreshing import Refreshed

_QUIET = 0.15  # seconds without a report after which a file counts as wholly written
_LATEST = 0.6  # seconds after which other files no longer wait for one that is still being written
_ANYWAY = 30.0  # seconds after which we look without a report: network disks send none

Tell = Callable[[dict[str, Any]], None]


def watch(box: Box, on_change: Tell, stop: threading.Event | None = None, say: Say = lambda line: None) -> None:
    """Keep the index current until `stop` is set, or SIGTERM or Ctrl-C comes.

    `on_change` gets {"what": "ready"}, then {"what": "added/changed/moved/gone", "path", "was"} for each card file,
    once it can be found. Raises BoxError: another watcher is at work, or the system cannot watch so many folders.
    """
    stop = stop or threading.Event()
    reports = _Reports(box.root)
    with _signals(stop), _observing(box, reports), open_index(box, say) as index:
        index.refresh()
        with beating(box):
            # Once more: a change between the look and the lock was left to us by other commands.
            late = index.refresh()
            on_change({"what": "ready"})
            _tell(late, on_change)
            while not stop.is_set():
                if reports.wait(stop):
                    _look(index, reports, on_change)


def _look(index: Index, reports: "_Reports", on_change: Tell) -> None:
    _tell(index.refresh(leave=reports.taken()), on_change)


def _tell(refreshed: Refreshed, on_change: Tell) -> None:
    for event in refreshed.events:
        on_change({"what": event.what, "path": event.path, "was": event.was})


class _Reports:
    """When which file was last reported, by path from the root."""

    def __init__(self, root: Path) -> None:
        self._root = root
        self._changed = threading.Condition()
        self._last: dict[str, float] = {}
        self._first = 0.0
        self._looked = time.monotonic()

    def dispatch(self, event: Any) -> None:
        """Take a report; what watchdog calls a handler's method."""
        if event.event_type in ("opened", "closed_no_write"):
            return
        for raw in (event.src_path, getattr(event, "dest_path", "")):
            path = self._path(raw)
            if path:
                with self._changed:
                    if not self._last:
                        self._first = time.monotonic()
                    self._last[path] = time.monotonic()
                    self._changed.notify()

    def wait(self, stop: threading.Event) -> bool:
        """Wait until it is time to look; False if it is not yet and `stop` should be asked."""
        with self._changed:
            if not self._last:
                self._changed.wait(0.2)
                if not self._last:
                    return time.monotonic() - self._looked > _ANYWAY
            now = time.monotonic()
            rest = min(max(self._last.values()) + _QUIET, self._first + _LATEST) - now
            if rest > 0:
                self._changed.wait(min(rest, 0.2))
                return False
        return not stop.is_set()

    def taken(self) -> tuple[str, ...]:
        """Take the reports, for a look now; gives the files still being written, which keep theirs."""
        with self._changed:
            now = time.monotonic()
            self._looked = now
            self._last = {path: at for path, at in self._last.items() if now - at < _QUIET}
            self._first = now
            return tuple(self._last)

    def _path(self, raw: str | bytes) -> str:
        if not raw:
            return ""
        with suppress(ValueError, UnicodeDecodeError):
            path = Path(raw if isinstance(raw, str) else raw.decode()).relative_to(self._root).as_posix()
            return "" if any(name.startswith(".") for name in path.split("/")) else path
        return ""


@contextmanager
def _observing(box: Box, reports: _Reports) -> Iterator[None]:
    import logging

    from watchdog.observers import Observer

    # Its threads report on their own end as an error.
    logging.getLogger("watchdog").addHandler(logging.NullHandler())
    observer = Observer()
    observer.schedule(reports, str(box.root), recursive=True)  # type: ignore[arg-type]  # has what it calls
    try:
        observer.start()
    except OSError as error:
        what, do = why(error)
        raise BoxError(f"cannot be watched: {what}", str(box.root), do) from error
    try:
        yield
    finally:
        observer.stop()
        observer.join(2)


@contextmanager
def _signals(stop: threading.Event) -> Iterator[None]:
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    numbers = (signal.SIGINT, signal.SIGTERM)
    before = {number: signal.signal(number, lambda *_: stop.set()) for number in numbers}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
