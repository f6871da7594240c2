"""One recipebox at a time."""

import subprocess
import sys
import threading
import time

import pytest

from recipebox.box import Box, LockedError, lock

HOLDER = """
import sys, time
from pathlib import Path
from recipebox.box import Box, lock
root = Path(sys.argv[1])
with lock(Box(root, "b", "l", "n", root / ".recipebox")):
    print("held", flush=True)
    time.sleep(60)
"""


@pytest.fixture
def holder(box: Box):  # type: ignore[no-untyped-def]
    """Another process that holds the box's lock."""
    process = subprocess.Popen([sys.executable, "-c", HOLDER, str(box.root)], stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    assert process.stdout.readline() == "held\n"
    yield process
    process.kill()
    process.wait()
    process.stdout.close()


def test_a_held_box_is_waited_for_then_told(box: Box, holder: subprocess.Popen[str]) -> None:
    """While another process is at work the wait ends after the time given, with its number in one line."""
    start = time.monotonic()
    with pytest.raises(LockedError, match=rf"process {holder.pid}"), lock(box, wait=0.3):
        pass
    assert 0.3 <= time.monotonic() - start < 3


def test_a_dead_process_holds_nothing(box: Box, holder: subprocess.Popen[str]) -> None:
    """Killed without warning, a process leaves the box free at once."""
    holder.kill()
    holder.wait()
    with lock(box, wait=1):
        pass


def test_a_command_may_take_its_own_lock_again(box: Box) -> None:
    """Within one command the lock is taken again without waiting, and is free afterwards, also after an error."""
    with pytest.raises(ZeroDivisionError), lock(box, wait=0):
        with lock(box, wait=0):
            pass
        raise ZeroDivisionError
    failed: list[BaseException] = []

    def other() -> None:
        try:
            with lock(box, wait=0):
                pass
        except LockedError as error:
            failed.append(error)

    thread = threading.Thread(target=other)
    thread.start()
    thread.join()
    assert failed == []


def test_another_thread_waits_its_turn(box: Box) -> None:
    """Two threads of one process do not hold the lock at once."""
    failed: list[BaseException] = []

    def other() -> None:
        try:
            with lock(box, wait=0):
                pass
        except LockedError as error:
            failed.append(error)

    with lock(box):
        thread = threading.Thread(target=other)
        thread.start()
        thread.join()
    assert len(failed) == 1
