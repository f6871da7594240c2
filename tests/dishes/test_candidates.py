"""Candidates against looking at all pairs."""

from collections.abc import Callable
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.dishes import SHARED, candidates, features, keys, neighbours

FOODS = ("leek", "cod", "barley", "quince", "flour", "butter", "egg", "salt", "plum", "rye flour")


@settings(max_examples=30, deadline=None)
@given(lists=st.lists(st.sets(st.sampled_from(FOODS), min_size=1, max_size=7), min_size=2, max_size=8))
def test_candidates_are_all_pairs_that_share_enough_keys(make_card: Callable[..., Card], lists: list[set[str]]) -> None:
    """Whatever is left out of the counting, each pair that shares SHARED keys is found, once, and no other."""
    cards = [make_card(f"{n}.txt", [f"1 lb {food}" for food in sorted(foods)]) for n, foods in enumerate(lists)]
    known = {card.called: features(card) for card in cards}
    wanted = [{a, b} for a, b in combinations(known, 2) if len({*keys(known[a])} & {*keys(known[b])}) >= SHARED]
    found = sorted(sorted(pair) for pair in candidates(known))
    assert found == sorted(sorted(pair) for pair in wanted)
    for card in known.values():
        near = {other.called for other in neighbours(card, known.values())}
        assert near == {other for pair in wanted if card.called in pair for other in pair - {card.called}}
