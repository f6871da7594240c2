"""A progress bar on a terminal, and nothing when piped."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

Step = Callable[[int, int], None]


@contextmanager
def progress(what: str) -> Iterator[Step]:
    """Give a function to call with (done, of). It draws on stderr once there are 200 things or more to do."""
    if not sys.stderr.isatty():
        yield lambda done, of: None
        return
    drawn = False

    def step(done: int, of: int) -> None:
        nonlocal drawn
        if of < 200:
            return
        drawn = True
        filled = 30 * done // of
        sys.stderr.write(f"\r{what} {'#' * filled}{'.' * (30 - filled)} {done} of {of}")
        sys.stderr.flush()

    try:
        yield step
    finally:
        if drawn:
            sys.stderr.write("\r" + " " * 79 + "\r")
            sys.stderr.flush()
