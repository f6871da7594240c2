"""Taking in many files beside one another."""

import subprocess

import pytest

from recipebox.box import Box
from recipebox.index import workers


@pytest.fixture
def jobs(box: Box, put) -> list[workers.Job]:  # type: ignore[no-untyped-def]
    """Files of every kind: cards, texts that are none, and one that is gone."""
    found = []
    for number in range(12):
        text = f"Fig Tart {number}\n\nIngredients\n{number + 1} figs\n1 cup flour\n\nMethod\n1. Mix.\n2. Bake.\n"
        put(f"{number:02}.txt", text if number % 3 else "")
        found.append((f"{number:02}.txt", "as scanned"))
    return [*found, ("gone.txt", "as scanned"), ("photo.jpg", "as scanned")]


def one_by_one(box: Box, jobs: list[workers.Job]) -> list[workers.Done]:
    return [workers.take_in_file(box, *job) for job in jobs]


def test_helpers_take_in_alike_and_in_order(box: Box, jobs: list[workers.Job], monkeypatch: pytest.MonkeyPatch) -> None:
    """Many files taken in by helpers give what one after the other gives, in the same order."""
    monkeypatch.setattr(workers, "_MANY", 1)
    monkeypatch.setattr(workers, "_CHUNK", 3)
    monkeypatch.setattr("os.cpu_count", lambda: 2)
    started: list[subprocess.Popen[bytes]] = []
    really = subprocess.Popen

    def start(*args, **named):  # type: ignore[no-untyped-def]
        started.append(really(*args, **named))
        return started[-1]

    monkeypatch.setattr("subprocess.Popen", start)
    done = [one for several in workers.take_in_all(box, jobs) for one in several]
    assert done == one_by_one(box, jobs)
    assert len(started) == 2
    assert all(process.returncode is not None for process in started)


def test_broken_helpers_are_done_without(box: Box, jobs: list[workers.Job], monkeypatch: pytest.MonkeyPatch) -> None:
    """If helpers die or cannot start, their files are taken in all the same."""
    monkeypatch.setattr(workers, "_MANY", 1)
    monkeypatch.setattr(workers, "_CHUNK", 3)
    monkeypatch.setattr("os.cpu_count", lambda: 2)
    for python in ("/bin/false", "/no/such/python"):
        monkeypatch.setattr("sys.executable", python)
        done = [one for several in workers.take_in_all(box, jobs) for one in several]
        assert done == one_by_one(box, jobs)
