"""Ingredients of several cards, side by side."""

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.compare import Kind, Row, align_ingredients

MakeCard = Callable[..., Card]
POOL = (
    "2 cups flour",
    "1 cup milk",
    "2 eggs",
    "1/2 cup butter",
    "1/2 cup margarine",
    "salt",
    "1 tsp salt",
    "salt and pepper",
    "1 onion, chopped",
    "2 leeks",
    "1 can (14.5 oz) chopped tomatoes",
    "1 lb cod",
    "1 cup sugar",
    "1/4 cup sugar",
    "butter for greasing",
)


def kinds(*cards: Card) -> dict[str, Kind]:
    """The kind of each row, by item."""
    return {row.item: row.kind for row in align_ingredients(cards)}


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("1/2 cup milk", "0.5 c milk"),
        ("1/2 cup milk", "120 ml milk"),
        ("1 lb flour", "454 g flour"),
        ("3 tsp baking powder", "1 tbsp. baking powder"),
        ("2 cups flour", "250 g flour"),
        ("1 stick butter", "1/2 cup butter"),
        ("2 to 3 carrots", "3 carrots"),
        ("salt", "salt, to taste"),
    ],
)
def test_meaning_equal_lines_are_the_same(make_card: MakeCard, one: str, other: str) -> None:
    """Another unit, spelling or number for the same amount is no difference (NIST SP 430 and USDA SR 26 sizes)."""
    a, b = make_card("a.txt", [one, "2 eggs", "1 cup sugar"]), make_card("b.txt", ["1 cup sugar", other, "2 eggs"])
    assert set(kinds(a, b).values()) == {Kind.SAME}


def test_a_double_batch_is_no_difference(make_card: MakeCard) -> None:
    """Amounts are compared on the first card's batch, and shown on it."""
    a = make_card("a.txt", ["2 cups flour", "1 cup milk", "2 eggs"])
    b = make_card("b.txt", ["4 cups flour", "2 cups milk", "4 eggs"])
    rows = align_ingredients([a, b])
    assert {row.kind for row in rows} == {Kind.SAME}
    assert [row.cells["b.txt"].amount for row in rows] == [row.cells["a.txt"].amount for row in rows]
    assert rows[0].cells["b.txt"].text == "4 cups flour"


def test_each_planted_change_is_found_and_no_other(make_card: MakeCard) -> None:
    """One amount changed, one line left out, one put in, one unsaid: four rows differ, each in its own way."""
    a = make_card("a.txt", ["2 cups flour", "1 cup milk", "2 eggs", "1 tsp salt", "1 cup sugar", "1 tsp nutmeg"])
    b = make_card("b.txt", ["2 cups flour", "1 1/2 cups milk", "2 eggs", "salt", "1 cup sugar", "1 cup raisins"])
    found = kinds(a, b)
    assert found.pop("milk") is Kind.AMOUNT
    assert found.pop("salt") is Kind.UNCLEAR
    assert found.pop("nutmeg") is Kind.ONLY
    assert found.pop("raisin") is Kind.ONLY
    assert set(found.values()) == {Kind.SAME}


def test_tolerance_is_four_percent(make_card: MakeCard) -> None:
    """103 g for 100 g is the same, 105 g is not."""
    base = ["2 cups milk", "2 eggs"]
    a = make_card("a.txt", ["100 g lentils", *base])
    assert kinds(a, make_card("b.txt", ["103 g lentils", *base]))["lentil"] is Kind.SAME
    assert kinds(a, make_card("b.txt", ["105 g lentils", *base]))["lentil"] is Kind.AMOUNT


def test_a_thing_named_twice_is_summed(make_card: MakeCard) -> None:
    """Butter in two lines of one card meets the one line of another with its whole amount."""
    a = make_card("a.txt", ["2 tbsp butter", "2 tbsp butter, melted", "2 eggs", "1 cup milk"])
    b = make_card("b.txt", ["1/4 cup butter", "2 eggs", "1 cup milk"])
    rows = {row.item: row for row in align_ingredients([a, b])}
    assert rows["butter"].kind is Kind.SAME
    assert rows["butter"].cells["a.txt"].text == "2 tbsp butter + 2 tbsp butter, melted"


def test_things_in_groups_meet_group_by_group(make_card: MakeCard) -> None:
    """Sugar for the cake and sugar for the topping are two rows, whatever the order of the groups."""
    a = make_card("a.txt", ["Cake:", "1 cup sugar", "2 eggs", "Topping:", "1/4 cup sugar"])
    b = make_card("b.txt", ["Topping:", "1/4 cup sugar", "Cake:", "1 cup sugar", "2 eggs"])
    sugar = [row for row in align_ingredients([a, b]) if row.item == "sugar"]
    assert [row.kind for row in sugar] == [Kind.SAME, Kind.SAME]


def test_salt_and_pepper_meet_salt(make_card: MakeCard) -> None:
    """Things on one line are rows of their own as soon as one card has them apart."""
    found = kinds(make_card("a.txt", ["salt and pepper", "2 eggs"]), make_card("b.txt", ["salt", "pepper", "2 eggs"]))
    assert found == {"salt": Kind.SAME, "pepper": Kind.SAME, "egg": Kind.SAME}


def test_an_offered_alternative_is_no_difference(make_card: MakeCard) -> None:
    """Who writes `butter or margarine` agrees with who writes margarine."""
    a = make_card("a.txt", ["1/2 cup butter or margarine", "2 eggs"])
    assert set(kinds(a, make_card("b.txt", ["1/2 cup margarine", "2 eggs"])).values()) == {Kind.SAME}


def test_three_cards_take_the_first_kind_that_holds(make_card: MakeCard) -> None:
    """A row that one of three lacks is `only`, though the others differ in amount."""
    a = make_card("a.txt", ["1 cup milk", "2 eggs", "2 cups flour"])
    b = make_card("b.txt", ["2 cups milk", "2 eggs", "2 cups flour"])
    c = make_card("c.txt", ["2 eggs", "2 cups flour"])
    assert kinds(a, b, c)["milk"] is Kind.ONLY
    assert set(next(row for row in align_ingredients([a, b, c]) if row.item == "milk").cells) == {"a.txt", "b.txt"}


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(POOL), max_size=8), st.lists(st.sampled_from(POOL), max_size=8))
def test_comparing_is_mirrored_and_loses_no_line(make_card: MakeCard, one: list[str], other: list[str]) -> None:
    """Swapping two cards swaps the cells and nothing else; each line of each card stands in a row."""
    a, b = make_card("a.txt", one), make_card("b.txt", other)
    there, back = align_ingredients([a, b]), align_ingredients([b, a])

    def told(rows: list[Row], first: str, second: str) -> list[tuple[str, ...]]:
        return sorted(
            (str(row.kind), *(row.cells[c].text if c in row.cells else "" for c in (first, second))) for row in rows
        )

    assert told(there, "a.txt", "b.txt") == told(back, "a.txt", "b.txt")
    for card in (a, b):
        stand = {line.line for row in there if card.path in row.cells for line in row.cells[card.path].lines}
        assert stand == {line.line for line in card.ingredients}


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("3 leeks", "3 stalks of leek"),
        ("2 sticks celery", "2 ribs celery"),
        ("400 g tin of tomatoes", "1 can (400 g) chopped tomatoes"),
        ("400 g can chopped tomatoes", "1 can chopped tomatoes (400 g)"),
        ("28 g rum", "1 ounce rum"),
        ("100 g breadcrumbs", "100 g breadcrumbs from a stale loaf"),
        ("140 g mature cheddar", "140 g red cheddar"),
    ],
)
def test_another_way_of_counting_or_naming_is_no_difference(make_card: MakeCard, one: str, other: str) -> None:
    """A line that can be read in two ways agrees as soon as one of them does."""
    base = ["2 cups milk", "2 eggs", "1 cup flour"]
    assert set(kinds(make_card("a.txt", [one, *base]), make_card("b.txt", [other, *base])).values()) == {Kind.SAME}


def test_the_juice_of_a_lemon_is_lemon_juice(make_card: MakeCard) -> None:
    """It meets a spoon of it; how much it is nobody knows."""
    base = ["2 cups milk", "2 eggs"]
    found = kinds(make_card("a.txt", ["juice of 1 lemon", *base]), make_card("b.txt", ["2 tbsp lemon juice", *base]))
    assert found["lemon juice"] in (Kind.UNCLEAR, Kind.AMOUNT, Kind.SAME)
    assert "lemon" not in found


def test_a_cream_soup_is_no_cream(make_card: MakeCard) -> None:
    """Cream of celery soup stands in for no cream."""
    found = kinds(
        make_card("a.txt", ["1 can (10.5 oz) cream of celery soup", "2 eggs"]),
        make_card("b.txt", ["1 cup cream", "2 eggs"]),
    )
    assert sorted(found.values()) == [Kind.ONLY, Kind.ONLY, Kind.SAME]


def test_minced_beef_is_ground_beef_and_minced_garlic_is_garlic(make_card: Callable[..., Card]) -> None:
    """Meat is ground meat wherever its line says that it is minced; what else is minced stays what it is."""
    a = make_card("a.txt", ["1 lb ground beef", "2 cloves garlic", "1/2 lb ground lamb"])
    b = make_card("b.txt", ["450 g minced beef", "2 cloves garlic, minced", "225 g lamb, finely minced"])
    assert [(row.item, row.kind) for row in align_ingredients([a, b])] == [
        ("ground beef", Kind.SAME),
        ("garlic", Kind.SAME),
        ("ground lamb", Kind.SAME),
    ]
