"""The algebra of entries: flips against a base, joined by union."""

from itertools import permutations, product

from hypothesis import given
from hypothesis import strategies as st

from recipebox.merge.algebra import Choice, joined_orders, merged_choice, merged_set, merged_value

_SETS = st.frozensets(st.integers(0, 5))


@given(_SETS, _SETS, _SETS, _SETS)
def test_sets_join_in_any_order_and_grouping(
    base: frozenset[int], a: frozenset[int], b: frozenset[int], c: frozenset[int]
) -> None:
    """n at once, in any order, or two and then the third: the same; once more changes nothing."""
    whole = merged_set(base, [a, b, c])
    assert all(merged_set(base, order) == whole for order in permutations([a, b, c]))
    assert merged_set(base, [merged_set(base, [a, b]), c]) == whole
    assert merged_set(base, [whole, a]) == whole
    assert merged_set(base, [a, base]) == a


@given(st.integers(), st.lists(st.integers(), max_size=4))
def test_a_value_is_never_lost(base: int, sides: list[int]) -> None:
    """What stands is the base if nobody changed it, else exactly the changed values."""
    assert merged_value(base, sides) == (frozenset(side for side in sides if side != base) or {base})


def _choices() -> list[Choice]:
    states = product((0, 1, 2), repeat=3)
    return [Choice(_where(state, 1, 2), _where(state, 2), bool(_where(state, 2))) for state in states if any(state)]


def _where(state: tuple[int, ...], *wanted: int) -> frozenset[str]:
    return frozenset(word for word, how in zip("xyz", state, strict=True) if how in wanted)


def test_entries_of_three_sides_never_depend_on_order() -> None:
    """All triples of entries over three wordings whose sides kept the base's: order and grouping change nothing."""
    every = _choices()
    tried = 0
    for base in every:
        sides = [side for side in every if base.wordings <= side.wordings]
        for a, b, c in product(sides, repeat=3):
            whole = merged_choice(base, [a, b, c])
            assert whole == merged_choice(base, [c, a, b]) == merged_choice(base, [b, c, a])
            assert whole == merged_choice(base, [merged_choice(base, [a, b]), c])
            assert merged_choice(base, [whole, a]) == whole
            tried += 1
    assert tried > 40_000


def test_two_choices_bring_the_question_back() -> None:
    """Chosen differently on two laptops: both marked, not settled; chosen alike: one choice."""
    words = frozenset("xy")
    base, x, y = Choice(words), Choice(words, frozenset("x"), True), Choice(words, frozenset("y"), True)
    assert merged_choice(base, [x, y]).settled is None
    assert merged_choice(base, [x, y]).chosen == {"x", "y"}
    assert merged_choice(base, [x, x]).settled == "x"


def test_a_choice_does_not_decide_over_what_it_had_not_seen() -> None:
    """One settles between two wordings while another brings a third: the question comes back."""
    base = Choice(frozenset("xy"))
    settled, third = Choice(frozenset("xy"), frozenset("x"), True), Choice(frozenset("xyz"))
    assert merged_choice(base, [settled, third]).settled is None


@given(st.lists(st.lists(st.integers(0, 8), unique=True), max_size=4))
def test_orders_join_whole(sequences: list[list[int]]) -> None:
    """Every element once, whatever the order of the sequences; agreeing sequences keep their order."""
    ranks = {n: (0, bytes([n])) for n in range(9)}
    joined = joined_orders(sequences, ranks)
    assert sorted(joined) == sorted({n for sequence in sequences for n in sequence})
    assert joined == joined_orders(sequences[::-1], ranks)
    if len(sequences) == 1:
        assert joined == sequences[0]
