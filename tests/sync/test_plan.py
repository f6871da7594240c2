"""The planner, without a disk."""

from collections.abc import Collection

from recipebox.sync.folder import Left
from recipebox.sync.plan import MOST_BUNDLES, BecomeAnother, Leave, OwnCorner, Remove, Take, plan_leaving, plan_taking


def left(laptop: str, number: int, sha: str) -> Left:
    return Left(laptop, number, sha, 1, f"{number}-{sha}")


def ancestors(commits: Collection[str]) -> set[str]:
    """A straight history: "3" comes after "2" and "1"."""
    return {str(n) for commit in commits for n in range(1, int(commit) + 1)}


def leaving(edits: set[str], own: dict[str, tuple[str, ...]], whole: set[str], present: list[str]) -> list[object]:
    lying = [left("me", at + 1, sha) for at, sha in enumerate(own)]
    return list(plan_leaving("me", edits, lying, whole, OwnCorner(own, len(own)), present, ancestors))


def test_bundles_are_taken_once_and_in_order() -> None:
    """Only what was not taken before, a corner's bundles by number."""
    lying = [left("you", 2, "b"), left("you", 1, "a"), left("her", 1, "c"), left("me", 1, "m")]
    plan = list(plan_taking("me", lying, {"c"}, OwnCorner({"m": ("1",)}, 1)))
    assert plan == [Take(lying[1]), Take(lying[0])]


def test_a_foreign_file_in_our_corner_makes_us_another_laptop() -> None:
    """A hash we never wrote under our id means a cloned disk; its changes are read all the same."""
    lying = [left("me", 1, "m"), left("me", 2, "x")]
    assert list(plan_taking("me", lying, (), OwnCorner({"m": ("1",)}, 1))) == [BecomeAnother(lying[1]), Take(lying[1])]


def test_nothing_new_leaves_nothing() -> None:
    """What the place has, from whomever, is not left again: so laptops do not chase one another."""
    assert leaving({"3"}, {}, set(), ["3"]) == []
    assert leaving({"3"}, {"a": ("2",)}, {"a"}, ["3"]) == []
    assert leaving(set(), {}, set(), []) == []


def test_the_first_bundle_is_full_and_later_ones_build_on_our_own() -> None:
    """An increment builds only on our own corner, also where another laptop has left more."""
    assert leaving({"3"}, {}, set(), ["2"]) == [Leave(1, ())]
    assert leaving({"5"}, {"a": ("2",)}, {"a"}, ["2", "4"]) == [Leave(2, ("2",))]


def test_damage_is_healed_with_a_full_bundle() -> None:
    """A file of ours that is damaged or gone makes us leave all again, then remove what that replaces."""
    plan = leaving({"3"}, {"a": ("2",), "b": ("3",)}, {"a"}, ["2"])
    assert plan == [Leave(3, ()), Remove(left("me", 1, "a")), Remove(left("me", 2, "b"))]


def test_many_bundles_are_folded() -> None:
    """At the limit the next bundle is a full one in place of all."""
    own = {f"sha{n}": (str(n),) for n in range(1, MOST_BUNDLES + 1)}
    plan = leaving({"99"}, own, set(own), ["24"])
    assert plan[0] == Leave(MOST_BUNDLES + 1, ())
    assert len(plan) == 1 + MOST_BUNDLES
