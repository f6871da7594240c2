"""Moved files, found by their bytes and by likeness."""

from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.blobs import blob_id
from recipebox.merge import moves

PIE = (
    b"Leek Pie\n\nIngredients\n  2 cups flour\n  1 lb leeks\n  1 tsp salt\n  1 egg\n\n"
    b"Method\n  1. Mix the flour and leeks with the salt.\n  2. Bake until brown.\n"
)
RICE = (
    b"Rice Pudding\n\nIngredients\n  1 cup rice\n  4 cups milk\n\nMethod\n  1. Simmer the rice in milk.\n  2. Chill.\n"
)


def found(before: dict[str, bytes], after: dict[str, bytes]) -> list[tuple[str, str]]:
    """The moves between two states of a box."""
    texts = {blob_id(data): data for data in (*before.values(), *after.values())}
    ids = [{path: blob_id(data) for path, data in state.items()} for state in (before, after)]
    return moves(*ids, texts.__getitem__)


def test_the_same_bytes_elsewhere_are_a_move() -> None:
    """Of two copies the one with the same name counts; a copy beside the original is no move."""
    assert found({"a.txt": PIE}, {"b/a.txt": PIE, "c.txt": PIE}) == [("a.txt", "b/a.txt")]
    assert found({"a.txt": PIE}, {"a.txt": PIE, "b.txt": PIE}) == []


def test_a_card_rewritten_and_renamed() -> None:
    """A moved card is known by its ingredients and steps; another dish in a new place is not it."""
    rewritten = PIE.replace(b"1 tsp salt", b"2 tsp salt").replace(b"Bake until brown", b"Bake until golden brown")
    assert found({"a.txt": PIE}, {"pies/leek.txt": rewritten}) == [("a.txt", "pies/leek.txt")]
    assert found({"a.txt": PIE}, {"pies/leek.txt": RICE}) == []


def test_one_to_one_best_first() -> None:
    """Two gone, two new: each goes to the one it is most like."""
    changed = PIE.replace(b"1 egg", b"2 eggs")
    before = {"a.txt": PIE, "b.txt": RICE}
    after = {"x.txt": RICE.replace(b"4 cups", b"5 cups"), "y.txt": changed}
    assert found(before, after) == [("a.txt", "y.txt"), ("b.txt", "x.txt")]


@given(st.dictionaries(st.sampled_from("abcdef"), st.sampled_from([PIE, RICE, b"milk\n"]), max_size=5),
       st.dictionaries(st.sampled_from("defghi"), st.sampled_from([PIE, RICE, b"milk\n"]), max_size=5))  # fmt: skip
def test_moves_are_one_to_one(before: dict[str, bytes], after: dict[str, bytes]) -> None:
    """From what is gone to what is new, each once, whatever order the states are listed in."""
    result = found({f"{k}.txt": v for k, v in before.items()}, {f"{k}.txt": v for k, v in after.items()})
    assert {old for old, _ in result} <= {f"{k}.txt" for k in before.keys() - after.keys()}
    assert {new for _, new in result} <= {f"{k}.txt" for k in after.keys() - before.keys()}
    assert len({old for old, _ in result}) == len({new for _, new in result}) == len(result)
    for order in list(permutations(after.items()))[:6]:
        assert found({f"{k}.txt": v for k, v in before.items()}, {f"{k}.txt": v for k, v in order}) == result
