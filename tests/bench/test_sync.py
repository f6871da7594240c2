"""What a sync costs, as ratios to the plain way of doing the same: a look at the files, and stock git's own commands.

2,000 cards by default, 10,000 with RECIPEBOX_LONG=1. Both sides of a ratio are measured in turn in the same run.
"""

import os
import random
import shutil
import subprocess
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from recipebox.box import Box, create, scan
from recipebox.index import open_index
from recipebox.sync import meet, take_box

LONG = os.environ.get("RECIPEBOX_LONG") == "1"
CARDS = 10_000 if LONG else 2_000
ROUNDS = 7 if LONG else 5
needs_git = pytest.mark.skipif(shutil.which("git") is None, reason="no git command to measure against")


def seconds(work: Callable[[], object], before: Callable[[], object] = lambda: None) -> float:
    before()
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def fastest(*works: Callable[[], float]) -> list[float]:
    """The least time of each, measured in turn: what else the computer does is in all of them alike."""
    rounds = [[work() for work in works] for _ in range(ROUNDS)]
    return [min(times) for times in zip(*rounds, strict=True)]


def write_cards(root: Path, count: int) -> None:
    """Cards of 1.2 KB with nine lines in ten unlike, a hundred in each folder."""
    chance = random.Random(7)

    def word() -> str:
        return "".join(chance.choices("abcdefghijklmnopqrstuvwxyz", k=chance.randint(4, 9)))

    for number in range(count):
        lines = [f"{word().title()} {word()} {number}", f"from: {word().title()}", "serves: 6", "", "Ingredients"]
        lines += [f"  {chance.randint(1, 9)} cups {word()} {word()}" for _ in range(9)]
        lines += ["", "Method"]
        lines += [f"  {n}. {' '.join(word() for _ in range(11))}." for n in range(1, 9)]
        file = root / f"{number // 100:03d}" / f"card{number:05d}.txt"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("\n".join(lines) + "\n")


def look(root: Path) -> int:
    """scandir and stat of everything."""
    count = 0
    todo = [str(root)]
    while todo:
        with os.scandir(todo.pop()) as entries:
            for entry in entries:
                entry.stat(follow_symlinks=False)
                count += 1
                if entry.is_dir(follow_symlinks=False) and entry.name != ".recipebox":
                    todo.append(entry.path)
    return count


class Family:
    """A box of many cards on two laptops that meet at a folder, and the same cards in two clones with git."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.place = folder / "stick"
        self.place.mkdir()
        self.first = create(folder / "first", "first")
        write_cards(self.first.root, CARDS)
        shutil.copytree(self.first.root, folder / "git1", ignore=shutil.ignore_patterns(".recipebox"))
        meet(self.first, str(self.place))
        self.second = take_box(folder / "second", str(self.place), laptop="second")
        meet(self.second, str(self.place))

    def git(self, where: str, *words: str) -> None:
        settings = [
            "-c",
            "user.name=x",
            "-c",
            "user.email=x@example.org",
            "-c",
            "gc.auto=0",
            "-c",
            "core.autocrlf=false",
        ]
        environment = {**os.environ, "GIT_CONFIG_NOSYSTEM": "1", "GIT_CONFIG_GLOBAL": os.devnull}
        command = ["git", *settings, "-C", str(self.folder / where), *words]
        subprocess.run(command, check=True, capture_output=True, env=environment)

    def with_git(self) -> None:
        """The same cards in a repository, its server, and a second clone."""
        self.git(".", "init", "-q", "--bare", "-b", "main", "server.git")
        self.git("git1", "init", "-q", "-b", "main")
        self.git("git1", "add", "-A")
        self.git("git1", "commit", "-qm", "all")
        self.git("git1", "remote", "add", "origin", "../server.git")
        self.git("git1", "push", "-q", "-u", "origin", "main")
        self.git(".", "clone", "-q", "server.git", "git2")


@pytest.fixture(scope="module")
def family(tmp_path_factory: pytest.TempPathFactory) -> Family:
    """Made once: every test leaves both laptops alike."""
    return Family(tmp_path_factory.mktemp("family"))


def settled(box: Box) -> None:
    """Until the files' times are old enough to be trusted, and what is known of them is kept."""
    time.sleep(2.1)
    meet(box)
    meet(box)


def test_a_sync_with_nothing_new_costs_little_more_than_a_look(family: Family, benchmark: Any) -> None:
    """With nothing new a sync takes at most 3 times as long as scandir and stat of the box."""
    settled(family.first)
    plain, ours = fastest(lambda: seconds(lambda: look(family.first.root)), lambda: seconds(lambda: meet(family.first)))
    benchmark.extra_info["ratio"] = ours / plain
    benchmark(lambda: meet(family.first))
    assert ours <= 3 * plain


def edit(root: Path, number: int) -> None:
    file = root / "000" / "card00007.txt"
    lines = file.read_text().split("\n")
    lines[5] = f"  {number} cups brown sugar"
    file.write_text("\n".join(lines))


@needs_git
def test_one_changed_card_costs_no_more_than_twice_what_git_takes(family: Family, benchmark: Any) -> None:
    """One changed card, whole round (scan, snapshot, publish, read, merge, apply, index): at most twice git's round."""
    family.with_git()
    index = open_index(family.second)
    index.refresh()
    settled(family.first)
    settled(family.second)
    numbers = iter(range(2, 10_000))

    def ours() -> None:
        meet(family.first)
        index.refresh(found=meet(family.second).looked)

    def gits() -> None:
        family.git("git1", "add", "-A")
        family.git("git1", "commit", "-qm", "one")
        family.git("git1", "push", "-q")
        family.git("git2", "fetch", "-q")
        family.git("git2", "merge", "-q", "origin/main")

    plain, mine = fastest(
        lambda: seconds(gits, lambda: edit(family.folder / "git1", next(numbers))),
        lambda: seconds(ours, lambda: edit(family.first.root, next(numbers))),
    )
    benchmark.extra_info["ratio"] = mine / plain
    benchmark.pedantic(ours, setup=lambda: edit(family.first.root, next(numbers)), rounds=3)
    index.close()
    for name in ("000/card00007.txt", "001/card00100.txt"):
        assert (family.first.root / name).read_bytes() == (family.second.root / name).read_bytes()
    assert (family.folder / "git2/000/card00007.txt").exists()
    assert mine <= 2 * plain


@needs_git
def test_a_new_laptop_takes_the_box_in_twice_the_time_of_a_clone(family: Family, benchmark: Any) -> None:
    """The first sync of a new laptop takes at most twice as long as `git clone`, plus the first look at all files."""
    if not (family.folder / "server.git").exists():
        family.with_git()
    # A new folder each time: some disks are slow to give out again what was deleted a moment ago.
    numbers = iter(range(10_000))
    taken: list[Box] = []

    def take() -> None:
        taken.append(take_box(family.folder / f"third{next(numbers)}", str(family.place), laptop="third"))
        meet(taken[-1], str(family.place))

    def first_look() -> float:
        (taken[-1].hidden / "stats").unlink(missing_ok=True)
        return seconds(lambda: scan(taken[-1]))

    # Ours waits until its files are on the disk; it should not wait for what git left in memory the moment before.
    clone, ours, looked = fastest(
        lambda: seconds(
            lambda: family.git(".", "clone", "-q", "--no-local", "server.git", f"git{next(numbers) + 3}"), os.sync
        ),
        lambda: seconds(take, os.sync),
        first_look,
    )
    benchmark.extra_info["ratio"] = ours / (2 * clone + looked)
    benchmark.pedantic(take, rounds=1)
    assert len(scan(taken[-1]).files) == CARDS
    assert ours <= 2 * clone + looked


def test_a_place_that_was_met_a_thousand_times_stays_fast(
    tmp_path: Path, benchmark: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After very many syncs a place holds few files, and a sync with nothing new takes at most 3 times what it did."""
    import pygit2

    monkeypatch.setattr(os, "fsync", lambda file: None)  # a thousand syncs are made ready, not measured
    monkeypatch.setattr(type(pygit2.settings), "enable_fsync_gitdir", lambda self, value: None)
    place = tmp_path / "stick"
    place.mkdir()
    first = create(tmp_path / "first", "first")
    write_cards(first.root, 20)
    meet(first, str(place))
    settled(first)
    early = min(seconds(lambda: meet(first)) for _ in range(ROUNDS))
    for number in range(1_000 if LONG else 60):
        edit(first.root, number + 2)
        meet(first)
    settled(first)
    late = min(seconds(lambda: meet(first)) for _ in range(ROUNDS))
    benchmark.extra_info["ratio"] = late / early
    second = take_box(tmp_path / "second", str(place), laptop="second")
    benchmark.pedantic(lambda: meet(second, str(place)), rounds=1)
    assert len(list(place.rglob("*.bundle"))) <= 25
    assert (second.root / "000/card00007.txt").read_bytes() == (first.root / "000/card00007.txt").read_bytes()
    assert late <= 3 * early
