"""The brake before big removals."""

from hypothesis import given
from hypothesis import strategies as st

from recipebox.sync.removal import big_removal

BOX = {f"{'sweet' if n % 4 == 0 else 'soup'}/{n}.txt": n for n in range(80)}


def read(path: str) -> bytes:
    tags = "tags: dessert, freezes well" if BOX[path] % 5 == 0 else "tags: quick"
    return f"Card {path}\n{tags}\n\n2 eggs\n1 cup milk\n".encode()


def test_it_says_so_in_cards_and_tags() -> None:
    """The words name how many of how many, and every tag or folder that goes whole."""
    stopped = big_removal(BOX, [path for path in BOX if path.startswith("sweet/")], read)
    assert stopped is not None
    assert stopped.why.startswith("20 of 80 cards, every card in sweet/")
    tagged = [path for path, n in BOX.items() if n % 5 == 0]
    stopped = big_removal(BOX, tagged, read)
    assert stopped is not None
    assert "every dessert" in stopped.why


def test_all_cards_always_stop() -> None:
    """Even a box of one card is not emptied unasked."""
    assert big_removal(["a.txt"], ["a.txt"], read) is not None
    assert big_removal(["a.txt", "b.png"], ["b.png"], read) is None


def test_a_tidy_up_goes_through() -> None:
    """Nine cards, or ten that are a small part of everything they belong to, are a person's business."""
    soups = [path for path in BOX if path.startswith("soup/")]
    assert big_removal(BOX, soups[:9], read) is None
    many = {f"{n}.txt": n for n in range(100)}
    assert big_removal(many, [f"{n}.txt" for n in range(10)], lambda path: b"Soup\n\n2 onions\n1 cup milk\n") is None


@given(st.sets(st.sampled_from(sorted(BOX))))
def test_the_rule_is_the_printed_one(gone: set[str]) -> None:
    """It stops exactly at all, or at ten that are 1 in 5 of the box, a folder or a tag (design.md, guarantee 9)."""
    groups = [set(BOX), {p for p in BOX if p.startswith("sweet/")}, {p for p in BOX if p.startswith("soup/")}]
    groups += [{p for p, n in BOX.items() if (n % 5 == 0) is dessert} for dessert in (True, False)]
    expected = gone == set(BOX) or any(len(g & gone) >= 10 and len(g & gone) * 5 >= len(g) for g in groups)
    assert (big_removal(BOX, gone, read) is not None) == expected
