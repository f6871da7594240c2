"""Whole boxes: moves, deletions, copies, twins, and texts that name cards."""

from collections.abc import Mapping
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.reader import read_cards
from recipebox.cards.sayings import read_sayings
from recipebox.merge import Blob, MergedBox, Side, merge_boxes

PIE = (
    b"Leek Pie\n\nIngredients\n  2 cups flour\n  1 lb leeks\n  1 tsp salt\n\n"
    b"Method\n  1. Mix the flour and leeks.\n  2. Bake.\n"
)
RICE = (
    b"Rice Pudding\n\nIngredients\n  1 cup rice\n  4 cups milk\n\nMethod\n  1. Simmer the rice in milk.\n  2. Chill.\n"
)
SOUP = b"Bean Soup\n\nIngredients\n  2 cans beans\n  1 onion\n\nMethod\n  1. Fry the onion.\n  2. Add the beans.\n"


def tree(files: Mapping[str, bytes]) -> dict[str, Blob]:
    """A state of a box."""
    return {path: Blob.of(data) for path, data in files.items()}


def side(files: Mapping[str, bytes], moves: Mapping[str, str] | None = None) -> Side:
    """A laptop's state."""
    return Side(tree(files), moves or {})


def merged(base: Mapping[str, bytes], *sides: Side) -> dict[str, bytes]:
    """The merged box, which is the same in whatever order the sides come."""
    whole = _merge(base, sides)
    files = {path: blob.read() for path, blob in whole.tree.items()}
    for order in permutations(sides):
        other = _merge(base, order)
        assert {path: blob.id for path, blob in other.tree.items()} == {
            path: blob.id for path, blob in whole.tree.items()
        }
        assert other.new_undecided == whole.new_undecided
    return files


def _merge(base: Mapping[str, bytes], sides: tuple[Side, ...]) -> MergedBox:
    return merge_boxes(tree(base), sides)


def asked(data: bytes, path: str) -> dict[str, list[str]]:
    """The open questions of a card."""
    return {e.about: [w.text for w in e.wordings] for e in read_cards(data, path)[0].undecided}


MORE = PIE.replace(b"2 cups", b"3 cups")


def test_moved_here_and_edited_there() -> None:
    """Both: the new name has the new words, the old name is gone."""
    found = merged({"a.txt": PIE}, side({"pies/a.txt": PIE}, {"a.txt": "pies/a.txt"}), side({"a.txt": MORE}))
    assert found == {"pies/a.txt": MORE}


def test_moved_to_two_places() -> None:
    """One file under the name that sorts first, with the question in it."""
    found = merged(
        {"a.txt": PIE}, side({"x.txt": PIE}, {"a.txt": "x.txt"}), side({"b/y.txt": MORE}, {"a.txt": "b/y.txt"})
    )
    assert set(found) == {"b/y.txt"}
    assert asked(found["b/y.txt"], "b/y.txt") == {"file name": ["b/y.txt", "x.txt"]}
    assert b"3 cups" in found["b/y.txt"]


def test_deleted_here_and_edited_there() -> None:
    """The card stays, and asks about itself; untouched it goes; the question is one however often they meet."""
    base = {"a.txt": PIE, "b.txt": RICE}
    found = merged(base, side({"b.txt": RICE}), side({"a.txt": MORE, "b.txt": RICE}))
    assert asked(found["a.txt"], "a.txt") == {"this card": ["keep", "leave out"]}
    again = merged(base, side(found), side({"b.txt": RICE}))
    assert again == found
    assert merged(base, side({"b.txt": RICE}), side(base)) == {"b.txt": RICE}


def test_new_questions_are_named() -> None:
    """What no side asked before is listed, and only that."""
    a, b = side({"a.txt": MORE}), side({"a.txt": PIE.replace(b"2 cups", b"4 cups")})
    result = merge_boxes(tree({"a.txt": PIE}), [a, b])
    assert result.new_undecided == (("a.txt", "flour"),)
    known = Side(result.tree)
    assert merge_boxes(tree({"a.txt": PIE}), [known, a]).new_undecided == ()


def test_one_name_for_two_new_files() -> None:
    """The same dish becomes one card; different dishes are kept apart under names from their content."""
    one = merged({}, side({"new.txt": PIE}), side({"new.txt": MORE}))
    assert set(one) == {"new.txt"}
    assert asked(one["new.txt"], "new.txt") == {"flour": ["2 cups flour", "3 cups flour"]}
    two = merged({}, side({"new.txt": PIE}), side({"new.txt": RICE}), side({"new.txt": SOUP}))
    assert sorted(two.values()) == sorted([PIE, RICE, SOUP])
    assert "new.txt" in two


def test_names_follow_moves() -> None:
    """dishes.txt and the Versions of a family recipe name the card by its new path."""
    family = PIE + b"\nVersions\n  Ines: a.txt | double batch\n"
    base = {"a.txt": PIE, "b.txt": RICE, "dishes.txt": b"same: a.txt | b.txt\n", "family/pie.txt": family}
    moved = {**{path: data for path, data in base.items() if path != "a.txt"}, "z/a.txt": PIE}
    other = {**base, "dishes.txt": b"same: a.txt | b.txt\ndifferent: a.txt | c.txt\n"}
    found = merged(base, side(moved, {"a.txt": "z/a.txt"}), side(other))
    assert read_sayings(found["dishes.txt"]).same == {("b.txt", "z/a.txt")}
    assert read_sayings(found["dishes.txt"]).different == {("c.txt", "z/a.txt")}
    assert b"Ines: z/a.txt | double batch" in found["family/pie.txt"]


def test_hostile_and_twin_names() -> None:
    """What may not be carried is left out and named; case twins and names a system cannot hold stand apart."""
    whole = merge_boxes(
        {}, [side({"../x.txt": PIE, ".git/config": b"x", "Pie.txt": PIE}), side({"pie.txt": RICE, "CON.txt": SOUP})]
    )
    assert whole.left_out == ("../x.txt", ".git/config")
    names = [path.casefold() for path in whole.tree]
    assert len(names) == len(set(names)) == 3
    assert not any(name.startswith("con") for name in names)
    assert set(whole.renamed) == {"pie.txt", "CON.txt"}


def test_both_kitchens_use_the_same_can() -> None:
    """Two laptops with the same change to what is on hand: both count."""
    base, used = {"on-hand.txt": b"Pantry\n  3 cans beans\n"}, {"on-hand.txt": b"Pantry\n  2 cans beans\n"}
    assert merged(base, side(used), side(used)) == {"on-hand.txt": b"Pantry\n  1 can beans\n"}


_FILES = st.dictionaries(
    st.sampled_from(["a.txt", "b.txt", "pies/c.txt", "n.dat", "dishes.txt"]),
    st.sampled_from([PIE, MORE, RICE, SOUP, b"milk\n", b"\x00\x01", b"same: a.txt | b.txt\n"]),
    max_size=4,
)


@given(_FILES, st.lists(_FILES, min_size=2, max_size=3))
def test_boxes_join_in_any_order(base: dict[str, bytes], sides: list[dict[str, bytes]]) -> None:
    """Any files in any order give the same box; a side alone gives its own; no new line is lost."""
    found = merged(base, *map(side, sides))
    assert merged(base, side(sides[0]), side(base)) == sides[0]
    told = b"\n".join(found.values())
    for path, data in ((path, data) for files in sides for path, data in files.items()):
        if base.get(path) != data:
            new = set(data.splitlines()) - set(base.get(path, b"").splitlines())
            assert all(line.strip(b" 123456789.") in told for line in new)


_FAMILY = b"""Supper
serves: 4

Ingredients
  1 cup rice
  2 cups milk

Method
  1. Boil the rice in the milk.

Versions
  Ada: a.txt
  Bo: versions/b.txt | double batch
"""


def test_a_version_that_goes_is_marked_gone() -> None:
    """One laptop deletes a version, another edits: the family recipe says so, until it is back."""
    cards = {"a.txt": _FAMILY.partition(b"\nVersions")[0], "versions/b.txt": _FAMILY.partition(b"\nVersions")[0]}
    base = {path: Blob.of(data) for path, data in {**cards, "family/supper.txt": _FAMILY, "c.txt": b"to do\n"}.items()}
    deleted = {path: blob for path, blob in base.items() if path != "versions/b.txt"}
    other = {**base, "c.txt": Blob.of(b"to do: nothing\n")}
    merged = merge_boxes(base, [Side(deleted), Side(other)]).tree
    said = merged["family/supper.txt"].read()
    assert b"  Bo: versions/b.txt | double batch | gone\n" in said
    assert b"  Ada: a.txt\n" in said
    assert merge_boxes(base, [Side(other), Side(deleted)]).tree["family/supper.txt"].read() == said
    back = merge_boxes(merged, [Side({**merged, "versions/b.txt": base["versions/b.txt"]}), Side(merged)]).tree
    assert back["family/supper.txt"].read() == _FAMILY
