"""Taking in many files: beside one another on all cores where they are many, one after the other where they are few."""

import os
import pickle
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, suppress
from typing import IO

from recipebox.box import MAX_CARD, Box, BoxError, BoxTrouble, MissingError, UnreadableError, blob_id, read_file
from recipebox.cards.kinds import could_be_card
from recipebox.index.rows import OTHER, SAYINGS, Taken
from recipebox.index.taking_in import take_in, too_large

_MANY = 1500  # files; below, starting helpers costs more than they save
_CHUNK = 100
_MOST = 4  # helpers

Job = tuple[str, str]
"""A path, and the id of its bytes as scanned."""
Done = tuple[str, str, Taken]
"""A path, the id of the bytes taken in ("" if it must be looked at again), and what they are."""


def take_in_all(box: Box, jobs: Sequence[Job]) -> Iterator[list[Done]]:
    """Take in files, in order, some at a time. Whatever a file is, it gets an answer."""
    chunks = [list(jobs[at : at + _CHUNK]) for at in range(0, len(jobs), _CHUNK)]
    if len(jobs) < _MANY or (os.cpu_count() or 1) < 2:
        yield from (_take_in_chunk(box, chunk) for chunk in chunks)
        return
    with ExitStack() as stack:
        helpers = [_Helper(box, stack) for _ in range(min(os.cpu_count() or 1, _MOST))]
        ahead = len(helpers)
        for at, chunk in enumerate(chunks[:ahead]):
            helpers[at].ask(chunk)
        for at, chunk in enumerate(chunks):
            helper = helpers[at % len(helpers)]
            done = helper.answer()
            if at + ahead < len(chunks):
                helper.ask(chunks[at + ahead])
            yield _take_in_chunk(box, chunk) if done is None else done


def take_in_file(box: Box, path: str, scanned: str) -> Done:
    """Take in one file as it lies on the disk now."""
    if path != SAYINGS and not could_be_card(path):
        return path, scanned, Taken(OTHER)
    try:
        data = read_file(box, path, MAX_CARD)
    except MissingError:
        return path, "", Taken(OTHER)  # gone since the look: the next one will say so
    except UnreadableError as error:
        return path, scanned, too_large(path) if "larger" in error.what else _unread(path, error)
    except BoxError as error:
        return path, "", _unread(path, error)
    return path, blob_id(data), take_in(path, data)


def _take_in_chunk(box: Box, chunk: Sequence[Job]) -> list[Done]:
    return [take_in_file(box, path, scanned) for path, scanned in chunk]


def _unread(path: str, error: BoxError) -> Taken:
    return Taken(OTHER, trouble=(BoxTrouble(path, 0, error.what),))


class _Helper:
    """Another Python that takes in files for us. It ends when we do, since its standard input then ends."""

    def __init__(self, box: Box, stack: ExitStack) -> None:
        self._broken = False
        try:
            self._process = subprocess.Popen(
                [sys.executable, "-m", __name__],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            )
        except OSError:
            self._broken = True
            return
        stack.callback(self._end)
        self._send(box)

    def ask(self, chunk: Sequence[Job]) -> None:
        """Give it work."""
        self._send(chunk)

    def answer(self) -> list[Done] | None:
        """Its answer to the oldest question, None if it broke down."""
        if self._broken or self._process.stdout is None:
            return None
        try:
            done: list[Done] = pickle.load(self._process.stdout)
        except (EOFError, OSError, pickle.UnpicklingError):
            self._broken = True
            return None
        return done

    def _send(self, thing: object) -> None:
        if self._broken or self._process.stdin is None:
            return
        try:
            pickle.dump(thing, self._process.stdin)
            self._process.stdin.flush()
        except OSError:
            self._broken = True

    def _end(self) -> None:
        self._process.kill()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                with suppress(OSError):
                    pipe.close()
        self._process.wait()


def _help(questions: IO[bytes], answers: IO[bytes]) -> None:
    box = pickle.load(questions)
    while True:
        try:
            chunk = pickle.load(questions)
        except EOFError:
            return
        pickle.dump(_take_in_chunk(box, chunk), answers)
        answers.flush()


if __name__ == "__main__":
    with suppress(BrokenPipeError, KeyboardInterrupt):
        _help(sys.stdin.buffer, sys.stdout.buffer)
