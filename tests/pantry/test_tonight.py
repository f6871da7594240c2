"""What can be cooked tonight."""

from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card, Swap, VersionLine
from recipebox.cards.onhand import OnHand, read_on_hand
from recipebox.dishes import Dish, Dishes, Member
from recipebox.pantry import Tonight, tonight, tonight_data
from tests.family.making import version

_TODAY = date(2026, 11, 26)


def _on_hand(*lines: str) -> OnHand:
    return read_on_hand(("Fridge\n" + "\n".join(f"  {line}" for line in lines) + "\n").encode())


def _only(found: list[Tonight]) -> Tonight:
    (one,) = found
    return one


def test_what_is_missing_is_named_with_the_amount_that_lacks() -> None:
    """Half of it there: the other half is missing; without an amount on hand it is taken as enough."""
    card = version("Ada", ["4 leeks", "500 ml milk", "200 g butter", "700 g cod"], ["Cook."])
    one = _only(tonight([card], _on_hand("1 leek", "1 litre milk", "butter"), _TODAY))
    assert [(need.item, need.amount and need.amount.low, need.unit) for need in one.missing] == [
        ("leeks", Fraction(3), None),
        ("cod", Fraction(700), "gram"),
    ]
    assert [item for item, _ in one.have] == ["leeks", "milk", "butter"]


def test_two_lines_do_not_use_one_thing_twice() -> None:
    """What the first line takes, the second no longer finds."""
    card = version("Ada", ["150 g butter", "Topping:", "100 g butter"], ["Cook."])
    one = _only(tonight([card], _on_hand("200 g butter"), _TODAY))
    assert [(need.item, need.amount and need.amount.low) for need in one.missing] == [("butter", Fraction(50))]


def test_use_soon_comes_first_then_what_lacks_least() -> None:
    """A dish that uses what must go comes before one that lacks less; what is past its date is not counted on."""
    leek = version("Ada", ["2 leeks", "1 tsp saffron"], ["Cook."], title="Leeks")
    rice = version("Bo", ["200 g rice"], ["Cook."], title="Rice")
    egg = version("Cleo", ["2 eggs"], ["Cook."], title="Eggs")
    on_hand = _on_hand("2 leeks, use by 2026-11-28", "1 kg rice", "6 eggs, use by 2026-11-20")
    assert [one.card.title for one in tonight([rice, egg, leek], on_hand, _TODAY)] == ["Leeks", "Rice"]


def test_swaps_are_used_and_named_and_a_swapped_thing_is_not_missing() -> None:
    """The family's own swap goes before a published one; both say their source and what they bring in."""
    own = Swap("leeks", "onions", "half the weight", "Tomasz")
    card = version("Ada", ["3 leeks", "1 cup buttermilk", "100 g cod"], ["Cook."], swaps=(own,))
    one = _only(tonight([card], _on_hand("5 onions", "1 cup plain yogurt", "1 kg cod"), _TODAY))
    assert one.missing == []
    data = tonight_data("", [one])["dishes"][0]["swaps"]
    assert [(swap["item"], swap["instead"]) for swap in data] == [("leeks", "onions"), ("buttermilk", "plain yogurt")]
    assert data[0]["source"] == "Tomasz" and "Extension" in data[1]["source"]


def test_an_allergen_is_kept_out_of_cards_and_swaps() -> None:
    """A card that names it is left out; so is a swap that brings it in. A hint, never a verdict."""
    cheese = version("Ada", ["100 g cheddar", "2 eggs"], ["Cook."], title="Cheese")
    plain = version(
        "Bo", ["50 g lard", "2 eggs"], ["Cook."], title="Plain", swaps=(Swap("lard", "butter", None, "Bo"),)
    )
    on_hand = _on_hand("1 kg cheddar", "6 eggs", "1 kg butter")
    assert [one.card.title for one in tonight([cheese, plain], on_hand, _TODAY)] == ["Cheese", "Plain"]
    one = _only(tonight([cheese, plain], on_hand, _TODAY, avoid=["dairy"]))
    assert (one.card.title, one.swaps, [need.item for need in one.missing]) == ("Plain", [], ["lard"])


def test_one_line_a_dish_and_the_family_recipe_goes_before_versions() -> None:
    """Of a dish only the family recipe is named if there is one, else the version that lacks least."""
    one = version("Ada", ["3 leeks"], ["Cook."])
    two = version("Bo", ["1 leek", "2 eggs"], ["Cook."])
    members = (Member(one.called, Fraction(1), "alike"), Member(two.called, Fraction(1, 2), "alike"))
    dishes = Dishes((Dish("Leek Pot", members),), ())
    on_hand = _on_hand("2 leeks", "6 eggs")
    best = _only(tonight([one, two], on_hand, _TODAY, dishes=dishes))
    assert (best.card is two, best.batch) == (True, Fraction(1, 2))
    family = version("", ["3 leeks"], ["Cook."], path="family/pot.txt", kind="family", versions=_lines(one, two))
    assert _only(tonight([one, two, family], on_hand, _TODAY, dishes=dishes)).card is family


def test_basics_are_counted_on_and_said_so() -> None:
    """Salt, pepper, water and oil need not be written down, and the answer says that they were counted on."""
    card = version("Ada", ["2 eggs", "1 tsp salt", "1 tbsp oil"], ["Cook."])
    one = _only(tonight([card], _on_hand("6 eggs"), _TODAY))
    assert one.missing == []
    assert [entry for item, entry in one.have if item in ("salt", "oil")] == [
        "usually there (common practice, no source)"
    ] * 2


def test_only_what_uses_a_thing_or_is_quick_enough() -> None:
    """--use and --within keep only what fits; a card that names no time is not promised to be quick."""
    quick = version("Ada", ["2 leeks"], ["Fry 10 minutes."], title="Quick")
    slow = version("Bo", ["2 eggs"], ["Simmer for 2 hours."], title="Slow")
    unsaid = version("Cleo", ["2 eggs", "1 leek"], ["Cook."], title="Unsaid")
    on_hand, cards = _on_hand("2 leeks", "6 eggs"), [quick, slow, unsaid]
    assert {one.card.title for one in tonight(cards, on_hand, _TODAY, use=["leek"])} == {"Quick", "Unsaid"}
    assert {one.card.title for one in tonight(cards, on_hand, _TODAY, within="1 h")} == {"Quick"}


@given(st.lists(st.tuples(st.sampled_from(["leeks", "eggs", "rice", "ham"]), st.integers(1, 9)), max_size=4), st.data())
@settings(max_examples=40)
def test_more_on_hand_never_means_more_missing(stock: list[tuple[str, int]], data: st.DataObject) -> None:
    """Buying something takes nothing off what can be cooked, and the order of cards changes nothing."""
    cards = [
        version("Ada", ["3 leeks", "2 eggs"], ["Cook."], title="One"),
        version("Bo", ["400 g rice", "200 g ham", "5 eggs"], ["Cook."], title="Two"),
    ]
    lines = [f"{count} {thing}" if thing in ("leeks", "eggs") else f"{count * 100} g {thing}" for thing, count in stock]
    more = [*lines, data.draw(st.sampled_from(["4 leeks", "6 eggs", "1 kg rice"]))]
    before, after = (tonight(cards, _on_hand(*some), _TODAY) for some in (lines, more))
    lacks = {one.card.title: len(one.missing) for one in after}
    assert all(lacks[one.card.title] <= len(one.missing) for one in before)
    turned = tonight(cards[::-1], _on_hand(*more), _TODAY)
    assert [one.card.called for one in turned] == [one.card.called for one in after]


def test_what_must_go_sooner_weighs_more() -> None:
    """Of two things that must go, the sooner comes first."""
    later, sooner = (_TODAY + timedelta(days=days) for days in (6, 1))
    cards = [version("Ada", ["2 leeks"], ["Cook."], title="A"), version("Bo", ["2 eggs"], ["Cook."], title="B")]
    found = tonight(cards, _on_hand(f"2 leeks, use by {later}", f"6 eggs, use by {sooner}"), _TODAY)
    assert [one.card.title for one in found] == ["B", "A"]


def _lines(*cards: Card) -> tuple[VersionLine, ...]:
    return tuple(VersionLine(card.name, card.called) for card in cards)


def test_a_swap_told_in_another_version_counts_before_there_is_a_family_recipe() -> None:
    """Tomasz wrote that he used onions for leeks: Ada's card can be cooked with onions, as he says."""
    ada = version("Ada", ["3 leeks", "500 g potatoes", "50 g butter"], ["Cook the leeks and potatoes in the butter."])
    story = "I was out of leeks, so I used onions instead."
    tomasz = version(
        "Tomasz", ["3 leeks", "500 g potatoes", "50 g butter"], [story, "Cook the leeks, potatoes, butter."]
    )
    together = Dishes((Dish("Pot", (Member(ada.called, Fraction(1), ""), Member(tomasz.called, Fraction(1), ""))),), ())
    on_hand = _on_hand("4 onions", "1 kg potatoes", "200 g butter")
    one = _only(tonight([ada, tomasz], on_hand, _TODAY, dishes=together))
    assert one.missing == []
    assert ("leeks", "onions", "Tomasz") in [(swap.item, swap.instead, swap.who) for swap, _ in one.swaps]
    (data,) = tonight_data("", [one])["dishes"]
    assert {"item": "leeks", "instead": "onions", "source": "Tomasz"}.items() <= data["swaps"][0].items()
