"""What edits of several laptops come to."""

import itertools
from collections.abc import Sequence

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipebox.box import create
from recipebox.history import History, open_history
from recipebox.history.view import follow
from recipebox.merge import Blob, Side, merge_boxes


def edit(history: History, parent: str | None, files: dict[str, str], laptop: str = "a" * 8, moves: object = ()) -> str:
    """An edit of a laptop upon a state, holding exactly these files."""
    tree = history.store.put_tree({path: history.store.put_blob(text.encode()) for path, text in files.items()})
    facts = {"laptop": {"id": laptop, "name": laptop}, "rule": 1, "moves": moves}
    return history.store.put_commit(tree, () if parent is None else (parent,), "Edited", facts, laptop, laptop, 7)


def texts(history: History, commit_id: str) -> dict[str, str]:
    return {path: blob.read().decode() for path, blob in history.tree(commit_id).items()}


def notes(card: str, *lines: str) -> str:
    return card + "\nNotes\n" + "".join(f"  {line}\n" for line in lines)


def test_a_view_is_the_same_commit_for_everybody(history: History, card: str) -> None:
    """Two laptops that know the same edits compute the very same commit, in whatever order they learnt of them."""
    base = edit(history, None, {"a.txt": card})
    tips = [edit(history, base, {"a.txt": card, f"{n}.txt": card}, f"laptop{n}") for n in range(3)]
    views = {history.views.view(order) for order in itertools.permutations(tips)}
    assert len(views) == 1
    other = open_history(history.box)
    assert other.views.view(tips) == views.pop()
    view = history.commit(history.views.view(tips))
    assert view.parents == tuple(sorted(tips))
    assert view.step == 1 + max(history.commit(tip).step for tip in tips)
    assert texts(history, view.id).keys() == {"a.txt", "0.txt", "1.txt", "2.txt"}


def test_one_edit_is_its_own_view(history: History, card: str) -> None:
    """Edits that came before another add nothing: no merge is made."""
    base = edit(history, None, {"a.txt": card})
    tip = edit(history, base, {"a.txt": card, "b.txt": card})
    assert history.views.view([base, tip]) == tip


def test_a_line_taken_out_does_not_come_back_over_several_bases(history: History, card: str) -> None:
    """Where edits cross, the base is the merge of all shared states: no removed line returns, no line is doubled."""
    base = edit(history, None, {"a.txt": notes(card, "one", "two")})
    left = edit(history, base, {"a.txt": notes(card, "one")}, "left")
    right = edit(history, base, {"a.txt": notes(card, "one", "two", "three")}, "right")
    tree = texts(history, history.views.view([left, right]))
    crossed = []
    for laptop, word in (("left", "four"), ("right", "five")):
        view = history.store.put_tree({"a.txt": history.store.put_blob(tree["a.txt"].encode())})
        made = history.store.put_commit(view, (left, right), laptop, {"laptop": {"id": laptop}}, laptop, laptop, 1)
        text = tree["a.txt"].replace("  one\n", f"  one\n  {word}\n")
        crossed.append(edit(history, made, {"a.txt": text}, laptop))
    last = texts(history, history.views.view(crossed))["a.txt"]
    assert "two" not in last
    assert all(last.count(f"  {word}\n") == 1 for word in ("one", "three", "four", "five"))


def test_what_two_share_counts_once_beside_a_third(history: History, card: str) -> None:
    """One laptop's use of the pantry, known to two edits and not to a third, is taken off once."""
    base = edit(history, None, {"on-hand.txt": "Pantry\n  9 cans tomatoes\n", "a.txt": card})
    used = edit(history, base, {"on-hand.txt": "Pantry\n  7 cans tomatoes\n", "a.txt": card})
    first = edit(history, used, {"on-hand.txt": "Pantry\n  7 cans tomatoes\n", "a.txt": card, "b.txt": card}, "first")
    second = edit(history, used, {"on-hand.txt": "Pantry\n  6 cans tomatoes\n", "a.txt": card}, "second")
    third = edit(history, base, {"on-hand.txt": "Pantry\n  8 cans tomatoes\n", "a.txt": card}, "third")
    assert "5 cans tomatoes" in texts(history, history.views.view([first, second, third]))["on-hand.txt"]


def test_moves_are_followed_through_history(history: History, card: str) -> None:
    """A move recorded two edits ago still leads other people's edits to the new name."""
    base = edit(history, None, {"a.txt": card})
    moved = edit(history, base, {"b.txt": card}, "left", [["a.txt", "b.txt"]])
    again = edit(history, moved, {"c/b.txt": card}, "left", [["b.txt", "c/b.txt"]])
    other = edit(history, base, {"a.txt": card.replace("3 eggs", "4 eggs")}, "right")
    view = history.views.view([again, other])
    assert texts(history, view) == {"c/b.txt": card.replace("3 eggs", "4 eggs")}
    assert history.commit(view).message.moves == {"a.txt": "c/b.txt"}
    history.store.set_ref("refs/heads/main", view)
    assert [entry.id for entry in history.log("c/b.txt")] == [other, base]


@given(st.lists(st.dictionaries(st.sampled_from("abcd"), st.sampled_from("abcd"), max_size=3), max_size=5))
def test_moves_put_together_are_one_to_one(steps: Sequence[dict[str, str]]) -> None:
    """Whatever moves a history records, each file goes to one place that is there, and no two to the same."""
    found = follow(steps, {"a": "", "b": ""})
    assert set(found.values()) <= {"a", "b"}
    assert len(set(found.values())) == len(found)
    assert all(old != new for old, new in found.items())


def test_moves_chain_swap_and_return() -> None:
    """a to b to c is a to c; a swap is two moves; there and back is none."""
    assert follow([{"a": "b"}, {"b": "c"}], {"c": ""}) == {"a": "c"}
    assert follow([{"a": "b", "b": "a"}], {"a": "", "b": ""}) == {"a": "b", "b": "a"}
    assert follow([{"a": "b"}, {"b": "a"}], {"a": ""}) == {}
    assert follow([{"a": "x"}, {"a": "y"}], {"x": ""}) == {"a": "x"}


@settings(max_examples=12, suppress_health_check=list(HealthCheck), deadline=None)
@given(plan=st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2), st.booleans()), min_size=3, max_size=9))
def test_a_ledger_of_lines_holds_in_any_criss_cross(
    tmp_path_factory: object, plan: list[tuple[int, int, bool]]
) -> None:
    """Random edits and learning among three laptops: notes written stand once, notes taken out do not come back."""
    card = "Leek Pie\n\nIngredients\n  2 cups leeks\n  3 eggs\n\nMethod\n  1. Bake the leeks with the eggs.\n"
    history = open_history(create(tmp_path_factory.mktemp("box") / "box", "kitchen"))  # type: ignore[attr-defined]
    base = edit(history, None, {"a.txt": notes(card, "first")})
    known: list[set[str]] = [{base}, {base}, {base}]
    written, removed = {"first"}, set()
    for number, (laptop, teacher, takes_out) in enumerate(plan):
        known[laptop] |= known[teacher]
        view = history.views.view(known[laptop])
        text = texts(history, view)["a.txt"]
        there = [word for word in sorted(written) if f"  {word}\n" in text]
        if takes_out and len(there) > 1:
            removed.add(there[0])
            text = text.replace(f"  {there[0]}\n", "")
        else:
            word = f"word{number}"
            written.add(word)
            text = text.replace("Notes\n", f"Notes\n  {word}\n")
        known[laptop].add(edit(history, view, {"a.txt": text}, f"laptop{laptop}"))
    last = texts(history, history.views.view(set.union(*known)))["a.txt"]
    assert all(last.count(f"  {word}\n") == 1 for word in written - removed)
    assert not any(f"  {word}\n" in last for word in removed)


contents = st.sampled_from([b"Pie\n\n1 cup milk\n2 eggs\n", b"Pie\n\n2 cups milk\n2 eggs\n", b"a text\n", b"another\n"])
boxes = st.dictionaries(st.sampled_from(["a.txt", "pies/b.txt", "C.txt", "dishes.txt", "x.jpg"]), contents, max_size=5)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(base=boxes, sides=st.lists(boxes, min_size=2, max_size=3))
def test_looking_only_at_what_differs_gives_the_whole_merge(
    history: History, base: dict[str, bytes], sides: list[dict[str, bytes]]
) -> None:
    """The view of edits is what merging their whole boxes gives, though files alike on all sides are not looked at."""
    store = history.store

    def recorded(box: dict[str, bytes], number: int, *parents: str) -> str:
        tree = store.put_tree({path: store.put_blob(data) for path, data in box.items()})
        facts = {"rule": 1, "laptop": {"id": f"{number:04d}", "name": "x"}, "moves": []}
        return store.put_commit(tree, parents, "x", facts, "x", "x", 1)

    start = recorded(base, 0)
    tips = [recorded(side, number, start) for number, side in enumerate(sides, start=1)]
    whole = merge_boxes(
        {path: Blob.of(data) for path, data in base.items()},
        [Side({path: Blob.of(data) for path, data in side.items()}) for side in sides],
    )
    found = history.tree(history.views.view(tips))
    assert {path: blob.read() for path, blob in found.items()} == {path: b.read() for path, b in whole.tree.items()}
