"""Files that are no cards."""

from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from recipebox.merge import merge_sayings, merge_text

_SIDES = st.lists(st.binary(max_size=4), min_size=1, max_size=4)


@given(st.none() | st.binary(max_size=4), _SIDES)
def test_every_text_is_kept(base: bytes | None, sides: list[bytes]) -> None:
    """What several changed stands whole, each once, whatever the order; one of them under the old name."""
    merged = merge_text(base, sides, "photos/x.jpg")
    assert all(merge_text(base, order, "photos/x.jpg") == merged for order in permutations(sides))
    changed = {side for side in sides if side != base}
    assert set(merged.values()) == (changed or ({base} if base is not None else set()))
    assert len(merged) == len(changed or ({base} if base is not None else set()))
    assert "photos/x.jpg" in merged


@given(st.binary(max_size=4), _SIDES)
def test_meeting_again_makes_no_more_copies(base: bytes, sides: list[bytes]) -> None:
    """The file that kept the name meets the others again: the same keeps it."""
    merged = merge_text(base, sides, "x.txt")
    for side in sides:
        assert merge_text(base, [merged["x.txt"], side], "x.txt")["x.txt"] == merged["x.txt"]


_LINES = st.lists(
    st.sampled_from(["same: a | b", "same: b|a", "different: a | c", "name: Pie | a", "odd words", "# note"])
)


@given(_LINES, st.lists(_LINES, min_size=1, max_size=3))
def test_dishes_merge_as_a_set_of_lines(base: list[str], sides: list[list[str]]) -> None:
    """A line stands if base and all sides have it, or some side added it; no line twice; any order gives the same."""

    def text(lines: list[str]) -> bytes:
        return "".join(f"{line}\n" for line in lines).encode()

    def key(line: str) -> str:
        return "same: a | b" if line.startswith("same") else line

    results = {merge_sayings(text(base), [text(side) for side in order]) for order in permutations(sides)}
    assert len(results) == 1
    if len({text(side) for side in sides} - {text(base)}) > 1:
        have = [key(line) for line in results.pop().decode().splitlines()]
        before = {key(line) for line in base}
        changed = [{key(line) for line in side} for side in sides if text(side) != text(base)]
        flips = set().union(*(before ^ side for side in changed))
        assert sorted(have) == sorted(before ^ flips)
