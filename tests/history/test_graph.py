"""The shape of histories, against networkx."""

import networkx
from hypothesis import given
from hypothesis import strategies as st

from recipebox.history.graph import Graph


@st.composite
def histories(draw: st.DrawFn) -> dict[str, tuple[str, ...]]:
    """A history of up to 14 commits, each with up to three parents among the earlier ones."""
    parents: dict[str, tuple[str, ...]] = {}
    for number in range(draw(st.integers(1, 14))):
        earlier = sorted(parents)
        chosen = draw(st.lists(st.sampled_from(earlier), max_size=3, unique=True)) if earlier else []
        parents[f"{number * 7919 % 100:02d}-{number}"] = tuple(chosen)
    return parents


def as_networkx(parents: dict[str, tuple[str, ...]]) -> "networkx.DiGraph[str]":
    graph: networkx.DiGraph[str] = networkx.DiGraph()
    graph.add_nodes_from(parents)
    graph.add_edges_from((parent, child) for child, its in parents.items() for parent in its)
    return graph


@given(histories(), st.data())
def test_ancestors_and_maximal_agree_with_networkx(parents: dict[str, tuple[str, ...]], data: st.DataObject) -> None:
    """Ancestors and maximal commits are what networkx (an independent implementation) finds."""
    tips = data.draw(st.lists(st.sampled_from(sorted(parents)), min_size=1, unique=True))
    graph, witness = Graph(parents.__getitem__), as_networkx(parents)
    before = {tip: networkx.ancestors(witness, tip) for tip in tips}
    assert graph.ancestors(tips) == set(tips).union(*before.values())
    assert graph.maximal(tips) == tuple(sorted(tip for tip in tips if not any(tip in b for b in before.values())))


@given(histories())
def test_oldest_first_is_an_order_of_time(parents: dict[str, tuple[str, ...]]) -> None:
    """Every commit stands after its parents, and the order does not depend on how the set was built."""
    order = Graph(parents.__getitem__).oldest_first(list(parents))
    place = {commit: at for at, commit in enumerate(order)}
    assert sorted(order) == sorted(parents)
    assert all(place[parent] < place[child] for child, its in parents.items() for parent in its)
    assert order == Graph(parents.__getitem__).oldest_first(sorted(parents, reverse=True))


@given(histories(), st.data())
def test_laying_aside_takes_all_that_builds_on_it(parents: dict[str, tuple[str, ...]], data: st.DataObject) -> None:
    """What is left holds nothing laid aside, nothing that came after it, and everything else."""
    aside = data.draw(st.sets(st.sampled_from(sorted(parents))))
    kept = Graph(parents.__getitem__).without(parents, aside)
    witness = as_networkx(parents)
    gone = aside.union(*(networkx.descendants(witness, commit) for commit in aside))
    assert kept == parents.keys() - gone


@given(histories(), st.data())
def test_shared_is_what_all_have(parents: dict[str, tuple[str, ...]], data: st.DataObject) -> None:
    """Shared commits came before (or are) a tip of every group."""
    groups = data.draw(st.lists(st.lists(st.sampled_from(sorted(parents)), min_size=1), min_size=1, max_size=3))
    witness = as_networkx(parents)
    expected = set.intersection(*({*g}.union(*(networkx.ancestors(witness, tip) for tip in g)) for g in groups))
    assert Graph(parents.__getitem__).shared(groups) == expected
