"""Grouping cards into dishes, and the family's own say."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.cards.sayings import Sayings
from recipebox.dishes import Dishes, Features, features, group, likeness, neighbours

POOL = (
    *("2 lb lamb", "1 lb okra", "2 onions", "2 tbsp sumac", "1 cup bulgur", "3 eggs", "1 cup yogurt", "1 lb quinces"),
    *("500 g leeks", "1 tsp salt", "2 cups flour", "1 lb parsnips"),
)
Kitchen = Mapping[str, Features]
Say = Callable[..., Sayings]
PATHS = ("a/stew.txt", "b/stew.txt", "c/stew.txt", "a/cake.txt", "b/cake.txt", "a/soup.txt")


def together(found: Dishes) -> set[frozenset[str]]:
    """The cards of each dish."""
    return {frozenset(member.called for member in dish.cards) for dish in found.dishes}


STEWS, CAKES = frozenset(PATHS[:3]), frozenset(PATHS[3:5])


def test_versions_meet_and_others_do_not(kitchen: Kitchen) -> None:
    """The three stews are a dish, the two cakes are one, the soup stands alone."""
    found = group(kitchen, Sayings())
    assert together(found) == {STEWS, CAKES}
    assert found.singles == ("a/soup.txt",)


def test_batch_is_against_the_first_card_and_why_is_told(kitchen: Kitchen) -> None:
    """The double stew is 2; reasons count ingredients and say that one is a double batch."""
    stew = next(dish for dish in group(kitchen, Sayings()).dishes if dish.cards[0].called == "a/stew.txt")
    assert [member.batch for member in stew.cards] == [1, 1, 2]
    assert "of 7 ingredients" in stew.cards[0].why
    assert "titles alike" in stew.cards[0].why
    assert "one is a double batch" in stew.cards[2].why


def test_order_means_nothing(kitchen: Kitchen) -> None:
    """However the cards are listed, the dishes are the same."""
    expected = group(kitchen, Sayings())
    for seed in range(5):
        shuffled = list(kitchen.items())
        Random(seed).shuffle(shuffled)
        assert group(dict(shuffled), Sayings()) == expected


@settings(max_examples=20)
@given(st.permutations(PATHS))
def test_paths_do_not_decide(kitchen: Kitchen, paths: list[str]) -> None:
    """With their files named otherwise, the same cards belong together."""
    moved = dict(zip(PATHS, paths, strict=True))
    renamed = {moved[old]: replace(known, called=moved[old]) for old, known in kitchen.items()}
    expected = {frozenset(moved[path] for path in dish) for dish in (STEWS, CAKES)}
    assert together(group(renamed, Sayings())) == expected


def test_a_dish_does_not_depend_on_unlike_cards(kitchen: Kitchen) -> None:
    """Grouping the stews alone gives what grouping the whole box gives of them: incremental is from scratch."""
    alone = group({path: kitchen[path] for path in STEWS}, Sayings())
    whole = group(kitchen, Sayings())
    assert alone.dishes == tuple(dish for dish in whole.dishes if dish.cards[0].called in STEWS)


@settings(max_examples=40)
@given(st.lists(st.lists(st.sampled_from(POOL), min_size=3, max_size=6, unique=True), max_size=8), st.randoms())
def test_cards_that_come_one_by_one_give_what_all_at_once_give(
    make_card: Callable[..., Card], lists: list[list[str]], chance: Random
) -> None:
    """Grouping only what hangs together with each new card, in any order, ends with the dishes of the whole box."""
    cards = [features(make_card(f"{at}.txt", lines, lines[0])) for at, lines in enumerate(lists)]
    box: dict[str, Features] = {}
    dishes: dict[str, frozenset[str]] = {}
    for card in chance.sample(cards, len(cards)):
        box[card.called] = card
        near, waiting = {card.called}, [card]
        while waiting:
            one = waiting.pop()
            for other in neighbours(one, box.values()):
                if other.called not in near and likeness(one, other).same:
                    near.add(other.called)
                    waiting.append(other)
        found = group({called: box[called] for called in near}, Sayings())
        dishes |= {called: frozenset([called]) for called in found.singles}
        dishes |= {called: cards for cards in together(found) for called in cards}
    assert {cards for cards in dishes.values() if len(cards) > 1} == together(group(box, Sayings()))


def test_different_keeps_apart_and_what_is_joined_goes_along(kitchen: Kitchen, say: Say) -> None:
    """`different` between two stews, `same` between one of them and the third: two go one way."""
    found = group(
        kitchen,
        say(("different", "a/stew.txt", "b/stew.txt"), ("same", "b/stew.txt", "c/stew.txt")),
    )
    assert frozenset(("b/stew.txt", "c/stew.txt")) in together(found)
    assert "a/stew.txt" in found.singles


def test_same_is_transitive(kitchen: Kitchen, say: Say) -> None:
    """Cake is soup and soup is stew, says the family: all are one dish, with the stews and the other cake."""
    found = group(kitchen, say(("same", "a/cake.txt", "a/soup.txt"), ("same", "a/soup.txt", "a/stew.txt")))
    joined = next(cards for cards in together(found) if "a/soup.txt" in cards)
    assert {"a/cake.txt", "a/soup.txt", "a/stew.txt"} <= joined


def test_quarrelling_lines_count_as_unsaid(kitchen: Kitchen, say: Say) -> None:
    """`same` and `different` for one pair leave it to likeness."""
    both = say(("same", "a/stew.txt", "b/stew.txt"), ("different", "a/stew.txt", "b/stew.txt"))
    assert together(group(kitchen, both)) == {STEWS, CAKES}


def test_same_lines_never_join_what_is_said_to_be_different(kitchen: Kitchen, say: Say) -> None:
    """A chain of `same` between two cards said to be different gives way at its weakest link."""
    found = group(
        kitchen,
        say(
            ("same", "a/stew.txt", "a/soup.txt"),
            ("same", "b/stew.txt", "a/soup.txt"),
            ("different", "a/stew.txt", "b/stew.txt"),
        ),
    )
    assert not any({"a/stew.txt", "b/stew.txt"} <= cards for cards in together(found))


def test_versions_of_a_family_recipe_are_same_until_said_different(
    kitchen: Kitchen, say: Say, family: Callable[..., Card]
) -> None:
    """The soup joins the stews when a family recipe lists it, and leaves again when it is said to be different."""
    recipe = family("family/stew.txt", "Our Stew", "a/stew.txt", "b/stew.txt", "c/stew.txt", "a/soup.txt")
    found = group(kitchen, Sayings(), [recipe])
    assert STEWS | {"a/soup.txt"} in together(found)
    assert any("family recipe" in member.why for dish in found.dishes for member in dish.cards)
    apart = [("different", "a/soup.txt", stew) for stew in sorted(STEWS)]
    assert together(group(kitchen, say(*apart), [recipe])) == {STEWS, CAKES}


def test_sayings_of_cards_that_are_gone_do_no_harm(kitchen: Kitchen, say: Say, family: Callable[..., Card]) -> None:
    """Lines and versions that name a card nobody has are passed over."""
    recipe = family("family/x.txt", "Gone", "a/cake.txt", "gone.txt")
    lines = say(("same", "a/stew.txt", "gone.txt"), ("different", "gone.txt", "a/cake.txt"))
    assert together(group(kitchen, lines, [recipe])) == {STEWS, CAKES}


def test_chains_do_not_pull_in_unlike_things(make_card: Callable[..., Card]) -> None:
    """Each card shares two thirds with the next; the first and the last, sharing nothing, are not one dish."""
    names = ("kohlrabi", "okra", "fennel", "quince", "medlar", "salsify", "cardoon", "samphire", "yarrow")
    cards = [make_card(f"{at}.txt", [f"1 cup {name}" for name in names[at : at + 4]]) for at in range(6)]
    found = group({card.called: features(card) for card in cards}, Sayings())
    assert not any({"0.txt", "5.txt"} <= cards for cards in together(found))
    assert all(len(dish.cards) < 4 for dish in found.dishes)


def test_an_empty_box_has_no_dishes() -> None:
    """Nothing in, nothing out."""
    assert group({}, Sayings()) == Dishes((), ())


def test_batch_of_an_unrelated_pair_is_one(kitchen: Kitchen, say: Say) -> None:
    """Joined by the family alone, cards without a common amount are on one batch."""
    found = group(kitchen, say(("same", "a/cake.txt", "a/soup.txt")))
    dish = next(dish for dish in found.dishes if dish.cards[0].called == "a/cake.txt")
    assert dish.cards[0].batch == Fraction(1)
    assert "the family says so" in dish.cards[0].why


@settings(max_examples=30)
@given(st.data())
def test_same_never_drives_a_third_card_out(kitchen: Kitchen, say: Say, data: st.DataObject) -> None:
    """Whatever two cards the family says are the same, each keeps every card it shared a dish with, and they meet."""
    lines = data.draw(st.lists(st.permutations(PATHS).map(lambda paths: ("same", *paths[:2])), max_size=2))
    a, b = data.draw(st.permutations(PATHS))[:2]
    before = group(kitchen, say(*lines))
    after = group(kitchen, say(*lines, ("same", a, b)))
    whole = next(cards for cards in together(after) if {a, b} <= cards)
    for cards in together(before):
        assert cards <= whole or not cards & {a, b}
        assert any(cards <= later for later in together(after))
