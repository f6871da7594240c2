"""What differs in method, wording aside."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from recipebox.cards.model import Amount, Bake, Card, Heat
from recipebox.compare import Kind, compare

MakeCard = Callable[..., Card]
LINES = ("1 onion", "2 tbsp butter", "2 cups milk", "1 lb cod", "1 cup cheddar cheese")
STEPS = (
    "Heat the oven to 350 F.",
    "Fry the onion in the butter for 5 minutes.",
    "Pour in the milk and simmer until thick.",
    "Put the cod in the dish and pour the sauce over it.",
    "Sprinkle with the cheese and bake for 30 minutes.",
)


def steps_of(make_card: MakeCard, other: list[str]) -> list[tuple[Kind, tuple[str, ...], tuple[str, ...]]]:
    """Kind, added and removed of each row of STEPS against another method."""
    found = compare([make_card("a.txt", LINES, STEPS), make_card("b.txt", LINES, other)])
    return [(row.kind, row.added, row.removed) for row in found.steps]


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (0, "Preheat oven to 350 degrees F."),
        (0, "Set the oven to 180 °C."),
        (1, "In the butter, fry the onion 5 min."),
        (2, "Add milk, simmer it till it thickens."),
        (4, "Cheese on top, then bake half an hour, about 30 to 35 minutes."),
    ],
)
def test_other_words_are_no_difference(make_card: MakeCard, place: int, words: str) -> None:
    """A step said otherwise is the same step."""
    other = list(STEPS)
    other[place] = words
    assert {kind for kind, _, _ in steps_of(make_card, other)} == {Kind.SAME}


@pytest.mark.parametrize(
    ("place", "words", "added", "removed"),
    [
        (0, "Heat the oven to 400 F.", ("400 F",), ("350 F",)),
        (1, "Fry the onion in the butter for 15 minutes.", ("15 minutes",), ("5 minutes",)),
        (2, "Pour in the milk and boil until thick.", ("boil",), ("simmer",)),
    ],
)
def test_planted_changes_are_named(
    make_card: MakeCard, place: int, words: str, added: tuple[str, ...], removed: tuple[str, ...]
) -> None:
    """A changed heat, time or way of cooking is found, said, and is the only one."""
    other = list(STEPS)
    other[place] = words
    found = steps_of(make_card, other)
    assert found.pop(place) == (Kind.CHANGED, added, removed)
    assert {kind for kind, _, _ in found} == {Kind.SAME}


def test_a_left_out_step_is_only(make_card: MakeCard) -> None:
    """A step that one card lacks stands alone; the others are the same."""
    found = steps_of(make_card, [*STEPS[:2], *STEPS[3:]])
    assert [kind for kind, _, _ in found] == [Kind.SAME, Kind.SAME, Kind.ONLY, Kind.SAME, Kind.SAME]


def test_a_step_in_another_place_is_moved(make_card: MakeCard) -> None:
    """Heating the oven last is the same step, moved."""
    kinds = [kind for kind, _, _ in steps_of(make_card, [*STEPS[1:4], STEPS[0], STEPS[4]])]
    assert kinds == [Kind.MOVED, Kind.SAME, Kind.SAME, Kind.SAME, Kind.SAME]


def test_one_step_of_another_stands_beside_each_step_it_is_about(make_card: MakeCard) -> None:
    """Of three cards, one tells all in two steps: the first's steps keep a row each, and no fact is a difference."""
    told = " ".join(STEPS[1:3])
    cards = [make_card("a.txt", LINES, STEPS), make_card("b.txt", LINES, STEPS)]
    cards.append(make_card("c.txt", LINES, [STEPS[0], told, *STEPS[3:]]))
    rows = compare(cards).steps
    assert [row.cells["a.txt"] for row in rows] == [(1,), (2,), (3,), (4,), (5,)]
    assert [row.cells["c.txt"] for row in rows] == [(1,), (2,), (2,), (3,), (4,)]
    assert {row.kind for row in rows} == {Kind.SAME}


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (1, "Cook the onion in the butter for five minutes."),
        (2, "Simmer the milk until thick, stirring with a whisk now and then."),
        (4, "Sprinkle with the cheese, into the oven, and bake for half an hour until brown on top."),
    ],
)
def test_what_is_left_unsaid_or_told_in_words_is_no_difference(make_card: MakeCard, place: int, words: str) -> None:
    """A verb left out, a number spelt out, `brown` as a state."""
    other = list(STEPS)
    other[place] = words
    assert {kind for kind, _, _ in steps_of(make_card, other)} == {Kind.SAME}


def test_an_oven_at_the_top_needs_no_step(make_card: MakeCard) -> None:
    """Who gives the heat at the top of the card and lights no oven in the method does nothing otherwise."""
    heat = Heat("F", Amount(Fraction(350), Fraction(350)))
    bake = Bake("350 F, 30 minutes", 1, (heat,), Amount(Fraction(30), Fraction(30)))
    top = replace(make_card("b.txt", LINES, STEPS[1:]), oven=(bake,))
    assert {row.kind for row in compare([make_card("a.txt", LINES, STEPS), top]).steps} == {Kind.SAME}


def test_a_thing_put_in_elsewhere_is_told(make_card: MakeCard) -> None:
    """The cheese in the sauce instead of on top is a change of both steps."""
    other = list(STEPS)
    other[2], other[4] = "Pour in the milk and the cheese and simmer until thick.", "Bake for 30 minutes."
    found = steps_of(make_card, other)
    assert found[2] == (Kind.CHANGED, ("cheddar cheese",), ())
    assert found[4] == (Kind.CHANGED, (), ("cheddar cheese",))


def test_rows_stay_apart_where_nothing_has_shifted_between_them(make_card: MakeCard) -> None:
    """A thing named once more in the next step does not make one row of two; a time told in the other step does."""
    lines = ["3 leeks", "2 oz butter", "1/4 cup flour", "1 pint milk"]
    first = ["Stew the leeks in the butter for 12 minutes.", "Stir in the flour and the milk and simmer for 5 minutes."]
    again = [
        "Cook the leeks in the butter for 10 minutes.",
        "Sprinkle the flour over the leeks, add milk, simmer 5 minutes.",
    ]
    late = ["Stew the leeks in the butter.", "After 12 minutes stir in flour and milk and simmer for 5 minutes."]
    a, b, c = (make_card(f"{name}.txt", lines, steps) for name, steps in (("a", first), ("b", again), ("c", late)))
    assert [(row.kind, len(row.cells["a.txt"])) for row in compare([a, b]).steps] == [(Kind.CHANGED, 1), (Kind.SAME, 1)]
    assert [(row.kind, len(row.cells["a.txt"])) for row in compare([a, c]).steps] == [(Kind.SAME, 2)]
