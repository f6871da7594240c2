"""What is on hand, merged: amounts add up."""

from fractions import Fraction
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.onhand import read_on_hand
from recipebox.merge import merge_on_hand

BASE = b"Pantry\n  3 cans (14.5 oz) chopped tomatoes\n  2 lb flour\nFridge\n  6 eggs, use by 2026-12-01\n"


def amounts(data: bytes) -> dict[str, Fraction | None]:
    """Item -> how many."""
    return {entry.item: entry.amount.low if entry.amount else None for entry in read_on_hand(data).entries}


def test_what_each_side_used_adds_up() -> None:
    """3 cans; one used 1, the other 2: none left, and the line stays."""
    a, b = BASE.replace(b"3 cans", b"2 cans"), BASE.replace(b"3 cans", b"1 can")
    merged = merge_on_hand(BASE, [a, b])
    assert merged == merge_on_hand(BASE, [b, a]) == BASE.replace(b"3 cans", b"0 cans")


def test_the_same_use_counts_twice() -> None:
    """Both used one can: two are gone; nothing falls below nothing."""
    a = BASE.replace(b"3 cans", b"2 cans")
    assert amounts(merge_on_hand(BASE, [a, a]))["chopped tomatoes"] == 1
    assert amounts(merge_on_hand(BASE, [a, a, a, a, a]))["chopped tomatoes"] == 0


def test_other_lines_merge_as_in_a_set() -> None:
    """New lines of both stand under their places, a deleted untouched line goes."""
    a = BASE.replace(b"  2 lb flour\n", b"") + b"  1 pint cream\n"
    b = BASE + b"Freezer\n  2 lb fish bake\n"
    merged = merge_on_hand(BASE, [a, b])
    assert set(amounts(merged)) == {"chopped tomatoes", "eggs", "cream", "fish bake"}
    assert {e.place for e in read_on_hand(merged).entries if e.item == "fish bake"} == {"freezer"}


def test_remarks_are_kept() -> None:
    """A line behind "#" that one laptop wrote stands beside the other's; one taken out by either goes."""
    base = b"# old\n" + BASE
    merged = merge_on_hand(
        base, [b"# mine\n" + base, base.replace(b"# old", b"# theirs").replace(b"6 eggs", b"5 eggs")]
    )
    assert [line for line in merged.splitlines() if line.startswith(b"#")] == [b"# mine", b"# theirs"]


@given(st.lists(st.integers(0, 9), min_size=1, max_size=4), st.integers(0, 9))
def test_any_sides_in_any_order(left: list[int], before: int) -> None:
    """Whatever each side leaves, the sum of the changes stands, cut at nothing once, in any order."""
    sides = [b"Pantry\n  %d eggs\n" % n for n in left]
    base = b"Pantry\n  %d eggs\n" % before
    results = {merge_on_hand(base, order) for order in permutations(sides)}
    assert len(results) == 1
    wanted = max(before + sum(n - before for n in left), 0)
    assert list(amounts(results.pop()).values()) == [wanted]
