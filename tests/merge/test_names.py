"""Names every laptop can hold, and what is not carried at all."""

import re
from unicodedata import normalize

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.merge import apart, carried, folded, safe_name

HOSTILE = (
    "../a.txt", "/etc/x.txt", "a/../../b.txt", ".recipebox/here.txt", ".RecipeBox/x", "x/.git/config", ".GIT/hooks/a",
    "git~1/x", "a//b.txt", "as-sent/mail.txt", "AS-SENT/mail.txt", "", ".", "..", "a/./b", "x\0.txt", "~$card.docx",
    "card.txt~", "card.tmp", "card.part", "card.swp", ".\u200cgit/config", ".hidden.txt", "d/" * 40 + "x.txt",
)  # fmt: skip
UNSAFE = (
    "CON.txt", "con", "pies/AUX.md", "a:b.txt", "trailing./x.txt", "dot.", "space ", "a|b.txt", "q?.txt", 'q".txt',
    "back\\slash.txt", "tab\t.txt", "LPT1.txt", "com¹.txt", "n" * 300 + ".txt", "ü" * 200 + ".md", " lead.txt",
)  # fmt: skip


@pytest.mark.parametrize("path", HOSTILE)
def test_hostile_paths_are_not_carried(path: str) -> None:
    """A way out of the box, a hidden file or an editor's leftover never travels."""
    assert not carried(path)


@pytest.mark.parametrize(
    "path", ["a.txt", "pies/a b.md", "Crème/brûlée.txt", "family/x.txt", "a~b.txt", "photos/x.jpg"]
)
def test_ordinary_paths_travel_under_their_names(path: str) -> None:
    """What all three systems can hold keeps its name."""
    assert carried(path)
    assert safe_name(path) == path


@pytest.mark.parametrize("path", UNSAFE)
def test_unsafe_names_become_safe(path: str) -> None:
    """Reserved characters, device names, dots and spaces at the end, names too long (Microsoft: Naming Files)."""
    safe = safe_name(path)
    assert safe != path
    for name in safe.split("/"):
        assert not set(name) & set('<>:"|?*\\')
        assert name == name.rstrip(". ")
        assert name.split(".")[0].lower() not in {"con", "prn", "aux", "nul", "com1", "lpt1"}
        assert len(name.encode()) <= 255
        assert len(name.encode("utf-16-le")) // 2 <= 255


@given(st.text(min_size=1, max_size=60))
def test_safe_is_safe_once_and_for_all(path: str) -> None:
    """The rule applied to its own result changes nothing."""
    assert safe_name(safe_name(path)) == safe_name(path)


@given(st.sets(st.text(alphabet="aAbB/é. ", min_size=1, max_size=8).filter(carried), max_size=8))
def test_no_two_names_meet_on_any_laptop(paths: set[str]) -> None:
    """However names differ in case, Unicode form or as file and folder, all stand apart, whatever their order."""
    placed = apart(paths)
    assert placed == apart(sorted(paths, reverse=True))
    files = [folded(name) for name in placed.values()]
    assert len(set(files)) == len(paths)
    folders = {folded("/".join(name.split("/")[:n])) for name in placed.values() for n in range(1, name.count("/") + 1)}
    assert not folders & set(files)
    spelled = {"/".join(name.split("/")[:n]) for name in placed.values() for n in range(1, name.count("/") + 1)}
    assert len(spelled) == len(folders)


def test_twins_are_told_apart_by_content_of_their_names() -> None:
    """Case twins and NFC/NFD twins: the first in byte order keeps its name."""
    placed = apart({"Pie.txt", "pie.txt", "cre\u0300me.txt", "cr\u00e8me.txt"})
    assert placed["Pie.txt"] == "Pie.txt"
    assert placed["pie.txt"].startswith("pie (")
    assert len({folded(name) for name in placed.values()}) == 4


near_plain = st.lists(
    st.one_of(
        st.text("abcZ09 ._-()~$:é", min_size=1, max_size=8),
        st.sampled_from(["con", "CON", "nul.txt", "com1", "as-sent", "As-Sent", "a.tmp", "x~", "git~1", "pie", "b "]),
    ),
    min_size=1,
    max_size=4,
).map("/".join)


@given(path=st.one_of(near_plain, near_plain.map(lambda path: f"{path}.txt")))
def test_the_short_way_for_plain_names_gives_the_same(path: str) -> None:
    """What is answered at once for ordinary names is what the rules give when asked in full."""
    quick = carried(path), safe_name(path), folded(path)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("recipebox.merge.names._PLAIN", re.compile(r"(?!)"))
        assert (carried(path), safe_name(path)) == quick[:2]
    assert quick[2] == normalize("NFC", normalize("NFC", path).casefold())


@given(
    paths=st.lists(st.one_of(near_plain, st.sampled_from(["a/b.txt", "A/b.txt", "a/B.txt", "a.txt", "a.txt/c.txt"])))
)
def test_the_short_way_for_boxes_of_plain_names_gives_the_same(paths: list[str]) -> None:
    """Where all names of a box are ordinary, what is answered at once is what the rules give when asked in full."""
    quick = apart(paths)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("recipebox.merge.names._all_plain", lambda paths: False)
        assert apart(paths) == quick


def test_a_name_told_apart_before_is_not_given_twice() -> None:
    """Two laptops bring `pies/new.txt` beside `Pies/New.txt`, one after the other: three files stay three."""
    first = apart(["Pies/New.txt", "pies/new.txt"])
    again = apart([*first.values(), "pies/new.txt"])
    assert len(set(again.values())) == 3
    assert {name: again[name] for name in first.values()} == {name: name for name in first.values()}
