"""dishes.txt: said, contradicted, forgotten, moved; other lines stay."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.sayings import HEADING, follow, forget, quarrels, read_sayings, say

_PATHS = st.sampled_from(["a.txt", "b/c.txt", "Crème.md", "z z.txt"])


def test_a_first_line_gets_the_heading() -> None:
    """An empty file begins with the line that explains it, the paths in byte order."""
    assert say(b"", "same", "b.txt", "a.txt") == f"{HEADING}\nsame: a.txt | b.txt\n".encode()


@given(st.sampled_from(["same", "different"]), _PATHS, _PATHS)
def test_said_is_read_and_saying_again_changes_nothing(kind: str, a: str, b: str) -> None:
    """What is said is read back; said again, from either end, the bytes stay."""
    if a == b:
        with pytest.raises(ValueError, match="same dish as itself"):
            say(b"", kind, a, b)
        return
    once = say(b"# ours\r\nodd line\r\n", kind, a, b)
    assert say(once, kind, b, a) == once
    assert (min(a, b, key=str.encode), max(a, b, key=str.encode)) in getattr(read_sayings(once), kind)
    assert once.startswith(b"# ours\r\nodd line\r\n")
    assert forget(once, b, a) == b"# ours\r\nodd line\r\n"


def test_the_other_word_replaces() -> None:
    """Saying `different` of what was `same` takes the old line out."""
    said = say(say(b"", "same", "a.txt", "b.txt"), "different", "b.txt", "a.txt")
    assert read_sayings(said).same == frozenset()
    assert read_sayings(said).different == {("a.txt", "b.txt")}


def test_quarrels_count_as_unsaid() -> None:
    """Both words for one pair, or two names for one dish: unsaid, listed, and settled by saying it again."""
    both = b"same: a.txt | b.txt\ndifferent: a.txt | b.txt\n"
    assert read_sayings(both).same == read_sayings(both).different == frozenset()
    assert [q.paths for q in quarrels(read_sayings(both))] == [("a.txt", "b.txt")]
    assert read_sayings(say(both, "same", "a.txt", "b.txt")).same == {("a.txt", "b.txt")}
    names = b"same: a.txt | b.txt\nname: Pie | a.txt\nname: Tart | b.txt\n"
    assert read_sayings(names).names == {}
    assert [q.kind for q in quarrels(read_sayings(names))] == ["name"]
    assert read_sayings(say(names, "name", "Tart", "a.txt")).names == {"a.txt": "Tart", "b.txt": "Tart"}


def test_a_name_may_hold_anything_but_the_bar() -> None:
    """Colons and commas in a dish's name are its own; a bar or a line break is refused."""
    assert read_sayings(say(b"", "name", "Pie: the good one", "a.txt")).names == {"a.txt": "Pie: the good one"}
    for bad in ("a|b", "a\nb", " "):
        with pytest.raises(ValueError, match="cannot stand"):
            say(b"", "name", bad, "a.txt")


def test_lines_follow_moves() -> None:
    """A moved card's old path is written as the new one, the pair in byte order, all else as it was."""
    data = b"# x\nsame: a.txt | b.txt\nwhat is this\nname: Pie | a.txt\n"
    assert follow(data, {"a.txt": "z.txt"}) == b"# x\nsame: b.txt | z.txt\nwhat is this\nname: Pie | z.txt\n"


@given(
    st.binary(max_size=60).filter(lambda data: b"\0" not in data and not data.startswith((b"\xff\xfe", b"\xfe\xff")))
)
def test_any_text_is_read(data: bytes) -> None:
    """No text raises; what is not understood stays as it is when something is said."""
    before = read_sayings(data)
    said = say(data, "same", "a.txt", "b.txt")
    assert set(before.other) <= set(read_sayings(said).other)
