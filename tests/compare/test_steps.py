"""Aligning methods."""

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.compare import align_steps

STEPS = (
    "Heat the oven to 350 F.",
    "Melt the butter and fry the onion until soft.",
    "Stir in the flour, then the milk, and simmer until thick.",
    "Put the fish in a dish and pour the sauce over.",
    "Top with cheese and bake for 30 minutes.",
    "Let it cool and serve.",
    "Chop the parsley.",
)
methods = st.lists(st.sampled_from(STEPS), max_size=6)


def test_a_method_aligns_with_itself() -> None:
    """Each step does what it does."""
    assert align_steps(STEPS, STEPS) == [(i, i) for i in range(len(STEPS))]


def test_reworded_steps_find_each_other() -> None:
    """Other words, and one step told in two, meet their like."""
    other = [
        "Preheat oven to 180 C.",
        "Soften the onions in butter.",
        "Add flour.",
        "Pour in the milk gradually, stirring, and simmer to a thick sauce.",
        "Sprinkle over the cheese and bake 30 min.",
    ]
    one = [STEPS[0], STEPS[1], STEPS[2], STEPS[4]]
    assert {(0, 0), (1, 1), (2, 3), (3, 4)} <= set(align_steps(one, other))


def test_a_step_without_a_like_stands_alone() -> None:
    """What one method lacks is paired with None."""
    found = align_steps(STEPS[:5], [*STEPS[:2], *STEPS[3:5]])
    assert (2, None) in found
    assert (None, 2) not in found


@settings(max_examples=100, deadline=None)
@given(methods, methods)
def test_aligning_is_mirrored_and_whole(a: list[str], b: list[str]) -> None:
    """Swapping the methods swaps each pair, and each step of both is in some pair."""
    there = align_steps(a, b)
    assert {(i, j) for j, i in align_steps(b, a)} == set(there)
    assert {i for i, _ in there if i is not None} == set(range(len(a)))
    assert {j for _, j in there if j is not None} == set(range(len(b)))
