"""Where a plain line merge is clean, the card merge agrees with it in content.

Sources: the `merge3` package (a three-way line merge used by a version control system) and `git merge-file` (git's
own documentation, git-merge-file), two implementations that are not ours.
"""

import shutil
import subprocess
import tempfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import merge3
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.data import card_data
from recipebox.cards.reader import read_cards
from recipebox.merge import merge_card
from tests.merge.sides import Made, cards, edited

PATH = "versions/bake.txt"


def _content(data: bytes) -> dict[str, Any]:
    (card,) = read_cards(data, PATH)
    found = card_data(card)
    lines = [
        [found["title"], found["serves"]],
        sorted(found["tags"]),
        sorted((str({k: v for k, v in i.items() if k != "line"})) for i in found["ingredients"]),
        [step["text"] for step in found["steps"]],
        sorted(word for note in found["notes"] for word in note["text"].split()),
    ]
    return {"lines": lines, "undecided": found["undecided"]}


def _plain_merge(base: bytes, a: bytes, b: bytes) -> bytes | None:
    """The line merge, None where it is not clean."""
    merger = merge3.Merge3(*(text.splitlines(True) for text in (base, a, b)))
    if any(group[0] == "conflict" for group in merger.merge_groups()):
        return None
    return b"".join(merger.merge_lines())


def _git_merge(base: bytes, a: bytes, b: bytes) -> bytes | None:
    """git's own merge of three files, None where it is not clean."""
    with tempfile.TemporaryDirectory() as folder:
        files = [Path(folder) / name for name in ("a", "base", "b")]
        for file, text in zip(files, (a, base, b), strict=True):
            file.write_bytes(text)
        done = subprocess.run(["git", "merge-file", "-p", *map(str, files)], capture_output=True, check=False)
    return done.stdout if done.returncode == 0 else None


def _moved(base: bytes, side: bytes) -> bool:
    old, new = base.splitlines(), side.splitlines()
    return [line for line in old if line in new] != [line for line in new if line in old]


def _doubled(merged: bytes, sources: tuple[bytes, ...]) -> bool:
    """Whether a line stands more often in the merged text than in any text it was merged from."""
    most = [Counter(line.strip() for line in source.splitlines()) for source in sources]
    return any(
        line and number > max(counts[line] for counts in most)
        for line, number in Counter(line.strip() for line in merged.splitlines()).items()
    )


def _numberless(made: Made) -> bytes:
    """Steps as paragraphs: a number is layout to the card merge, and a word to the line merge."""
    text = made.text()
    for n in range(1, 9):
        text = text.replace(f"  {n}. ".encode(), b"\n")
    return text


@st.composite
def _meetings(draw: st.DrawFn) -> tuple[bytes, bytes, bytes]:
    base = draw(cards())
    return (_numberless(base), _numberless(draw(edited(base))), _numberless(draw(edited(base))))


seen = {"clean": 0, "all": 0}


@settings(max_examples=150)
@given(_meetings())
def test_a_clean_line_merge_says_the_same(meeting: tuple[bytes, bytes, bytes]) -> None:
    """Clean lines, and a result that reads without a doubled thing: the same title, headers, lines, steps and notes."""
    _agrees(meeting, _plain_merge)


@pytest.mark.skipif(shutil.which("git") is None, reason="there is no git here")
@settings(max_examples=30)
@given(_meetings())
def test_a_clean_merge_by_git_says_the_same(meeting: tuple[bytes, bytes, bytes]) -> None:
    """So with git's own merge of three files."""
    _agrees(meeting, _git_merge)


def _agrees(meeting: tuple[bytes, bytes, bytes], line_merge: Callable[[bytes, bytes, bytes], bytes | None]) -> None:
    base, a, b = meeting
    seen["all"] += 1
    plain = line_merge(base, a, b)
    if plain is None or _moved(base, a) or _moved(base, b):
        return  # to a line merge a moved line is one taken away and another put in: it comes back where one deleted it
    wanted = _content(plain)
    items = [line.split("'item': ")[1].split(",")[0] for line in wanted["lines"][2]]
    steps = wanted["lines"][3]
    if len(items) != len(set(items)) or len(steps) != len(set(steps)):
        return  # the line merge doubled an ingredient or a step silently: what the card merge is there to catch
    if _doubled(plain, (base, a, b)):
        return  # and so with any other line, a note that both added at unlike places
    seen["clean"] += 1
    found = _content(merge_card(base, [a, b], PATH))
    assert found["lines"] == wanted["lines"] or found["undecided"]
    if not found["undecided"]:
        assert found == wanted


def test_enough_merges_were_clean() -> None:
    """The comparison above is no empty one: a good part of the meetings are clean line merges."""
    assert seen["all"] == 0 or seen["clean"] * 5 > seen["all"]
