"""Names of foods brought to one thing, and the part each plays."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from recipebox.cards.things import is_known, part_in_dish, same_thing, thing
from recipebox.tables import rows

every_name = [
    name for row in rows("item_names") for name in (row["name"], *row["other_names"].split(";")) if name.strip()
]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("spuds", "potatoes"),
        ("yoghurt", "plain yogurt"),
        ("courgettes", "zucchini"),
        ("aubergine", "eggplants"),
        ("fresh coriander", "cilantro"),
        ("scallions", "spring onions"),
        ("green onions", "spring onion"),
        ("plain flour", "all-purpose flour"),
        ("caster sugar", "superfine sugar"),
        ("icing sugar", "powdered sugar"),
        ("confectioners’ sugar", "confectioner's sugar"),
        ("bicarbonate of soda", "baking soda"),
        ("cornflour", "cornstarch"),
        ("double cream", "heavy whipping cream"),
        ("king prawns", "shrimp"),
        ("beef mince", "ground beef"),
        ("chicken broth", "chicken stock"),
        ("treacle", "molasses"),
        ("Cheddar cheese, grated", "cheddar"),
        ("large fresh eggs", "egg"),
        ("unsalted butter, softened", "butter"),
        ("extra-virgin olive oil", "olive oil"),
        ("crème fraîche", "creme fraiche"),
        ("ripe tomatoes (chopped)", "tomato"),
        ("panko", "bread crumbs"),
        ("rice, cooked", "cooked rice"),
    ],
)
def test_two_names_of_one_thing_meet(one: str, other: str) -> None:
    """Plurals, spellings, the words of other countries and words of quality do not make another thing."""
    assert same_thing(one, other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("brown sugar", "sugar"),
        ("whole wheat flour", "flour"),
        ("smoked haddock", "haddock"),
        ("condensed milk", "milk"),
        ("cream cheese", "cheese"),
        ("coconut milk", "milk"),
        ("peanut butter", "butter"),
        ("ground coriander", "cilantro"),
        ("egg whites", "eggs"),
        ("sour cream", "cream"),
        ("garlic powder", "garlic"),
        ("tomato paste", "tomatoes"),
        ("baking powder", "baking soda"),
        ("cooked rice", "rice"),
        ("sweet potato", "potato"),
        ("dried basil", "basil"),
        ("chicken fat", "chicken"),
        ("gluten-free flour", "flour"),
    ],
)
def test_words_that_change_the_thing_stay(one: str, other: str) -> None:
    """A word that makes it another thing in the kitchen keeps the two apart."""
    assert not same_thing(one, other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("cheddar", "gruyère"),
        ("mozzarella", "monterey jack"),
        ("cream of mushroom soup", "cream of chicken soup"),
        ("white sauce", "condensed celery soup"),
        ("leeks", "onions"),
        ("butter", "margarine"),
        ("butter", "vegetable oil"),
        ("buttermilk", "milk"),
        ("bread crumbs", "crackers"),
        ("cod", "haddock"),
        ("smoked haddock", "halibut fillets"),
        ("penne", "egg noodles"),
        ("walnuts", "pecans"),
    ],
)
def test_stand_ins_play_the_same_part(one: str, other: str) -> None:
    """Things that one cook uses where another uses the other play one part in the dish."""
    assert part_in_dish(one) is not None
    assert part_in_dish(one) == part_in_dish(other)


@pytest.mark.parametrize(
    ("one", "other"), [("flour", "sugar"), ("milk", "water"), ("salt", "baking powder"), ("cod", "chicken")]
)
def test_unlike_things_play_different_parts(one: str, other: str) -> None:
    """Things nobody would take for one another play different parts."""
    assert part_in_dish(one) != part_in_dish(other)


def test_an_unlisted_kind_plays_the_part_of_its_ending() -> None:
    """A kind nobody listed is known by the last words of its name; a name without a known word has no part."""
    assert part_in_dish("Millbrook mountain cheese") == part_in_dish("cheddar")
    assert part_in_dish("quoxel") is None


def test_the_tables_are_wide_enough() -> None:
    """At least 400 things and 60 parts, over 2,000 other names, every listed thing with a part."""
    names, groups = rows("item_names"), rows("food_groups")
    assert len({thing(row["name"]) for row in names}) >= 400
    assert len({row["part"] for row in groups}) >= 60
    assert len(set(every_name)) > 2000
    assert [row["name"] for row in names if part_in_dish(row["name"]) is None] == []


def test_no_name_belongs_to_two_things_and_no_thing_to_two_parts() -> None:
    """The tables do not contradict themselves: every name leads to its own row's thing, every thing to one part."""
    for row in rows("item_names"):
        for other in row["other_names"].split(";"):
            assert not other or thing(other) == thing(row["name"]), other
    parts: dict[str, str] = {}
    for row in rows("food_groups"):
        for name in row["things"].split(";"):
            assert parts.setdefault(thing(name), row["part"]) == row["part"], name


joined = st.tuples(st.sampled_from([" ", "%", ", ", "("]), st.lists(st.sampled_from(every_name), max_size=4))


@given(st.one_of(st.text(max_size=80), joined.map(lambda pair: pair[0].join(pair[1]))))
@example("CORN%STARCH%chopped")
@example("cumin powder canned pea chopped nut")
@example("canned yam")
def test_a_common_name_is_its_own_common_name(item: str) -> None:
    """Whatever the string, naming the thing again changes nothing, and nothing is raised."""
    name = thing(item)
    assert thing(name) == name
    assert part_in_dish(name) == part_in_dish(item)


@given(st.sampled_from(every_name), st.sampled_from(["fresh", "large", "chopped", "finely chopped", "good"]))
def test_listed_names_stay_the_thing_when_qualities_are_added(name: str, quality: str) -> None:
    """A word of quality or preparation before a listed name leads to the same part of the dish."""
    assert is_known(name)
    assert part_in_dish(f"{quality} {name}") is not None
