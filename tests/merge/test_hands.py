"""Cards of many layouts, edited line by line as in an editor: nothing outside the known structure is lost or moved."""

import os
import re
from collections import Counter
from itertools import permutations
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from recipebox.cards.kinds import NotACardError
from recipebox.merge import UnmergeableError, merge_card
from tests.merge.hands import BASES, base_of, edited

LONG = os.environ.get("RECIPEBOX_LONG") == "1"
_NUMBERED = re.compile(rb"\s*\**\d+[.)]\**\s*")
Meeting = tuple[bytes, list[bytes], str]
seen = {"all": 0, "refused": 0}


@st.composite
def meetings(draw: st.DrawFn) -> Meeting:
    """Somebody's card, what two or three people made of it, and where it lies."""
    chance = Random(draw(st.integers(0, 1 << 32)))
    base = base_of(chance)
    path = "family/a.md" if b"Versions" in base else "a.md"
    try:
        return base, [edited(chance, base, who, path) for who in "ABC"[: draw(st.integers(2, 3))]], path
    except NotACardError:
        assume(False)
        raise


def met(meeting: Meeting) -> bytes:
    """The merge; where it is refused both texts are kept, which another test looks at."""
    base, sides, path = meeting
    seen["all"] += 1
    try:
        return merge_card(base, sides, path)
    except UnmergeableError:
        seen["refused"] += 1
        assume(False)
        raise


@settings(max_examples=3000 if LONG else 40)
@given(meetings())
def test_what_anybody_wrote_stands(meeting: Meeting) -> None:
    """Every word that a side put in stands in the merged text, once for each side's own words."""
    merged = met(meeting).decode()
    for side in meeting[1]:
        for word in re.findall(r"[ABC]\d+q", side.decode()):
            assert word in merged


@settings(max_examples=3000 if LONG else 40)
@given(meetings())
def test_what_nobody_touched_stands_where_it_stood(meeting: Meeting) -> None:
    """Lines that all sides left alone are there as often as before, and in their order if nobody moved them."""
    base, sides, _ = meeting
    merged = _lines(met(meeting))
    counts, now = Counter(_lines(base)), Counter(merged)
    left = {line: n for line, n in counts.items() if all(Counter(_lines(side))[line] >= n for side in sides)}
    asked = set(_lines(base.partition(b"Undecided")[2])) | {b"Undecided", b"Settled"}  # a choice may take these away
    assert [line for line, n in left.items() if line not in asked and now[line] < n] == []
    once = [line for line in _lines(base) if counts[line] == 1 and line in left and line not in asked]
    if all([line for line in _lines(side) if line in once] == once for side in sides):
        assert list(dict.fromkeys(line for line in merged if line in once)) == once


@settings(max_examples=1000 if LONG else 15)
@given(meetings())
def test_sides_of_any_layout_commute(meeting: Meeting) -> None:
    """In whatever order the sides come: the same bytes; met again by a side, the same words."""
    base, sides, path = meeting
    merged = met(meeting)
    assert {merge_card(base, list(order), path) for order in permutations(sides)} == {merged}
    for side in sides:
        assert Counter(merge_card(base, [merged, side], path).split()) == Counter(merged.split())


def test_few_meetings_are_refused() -> None:
    """At most one meeting in fifty of the tests above ends with both texts kept instead of one merged."""
    assert seen["refused"] * 50 <= seen["all"]


@pytest.mark.parametrize("base", BASES)
def test_new_sections_of_two_people_stay_apart(base: str) -> None:
    """One person's first note and another's first "some add" come under their own headings, on any card."""
    if "Notes" in base or "Comments" in base:
        return
    data = base.encode()
    sides = [data + b"\nNotes\n  Liked by all.\n", data + b"\nSome add\n  1 tsp mace | Rui\n"]
    merged = merge_card(data, sides, "a.md").decode()
    assert re.search(r"Notes\n\s*Liked by all\.", merged)
    assert re.search(r"Some add\n\s*1 tsp mace \| Rui", merged)


def _lines(text: bytes) -> list[bytes]:
    """Lines without their numbers and indents."""
    return [_NUMBERED.sub(b"", line).strip() for line in text.split(b"\n") if line.strip()]
