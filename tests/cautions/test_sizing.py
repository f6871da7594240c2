"""What to look out for at another size."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Amount, Bake, Card, Entry, Header, Ingredient, Pan, Passage, Wording
from recipebox.cautions import sizing_cautions
from recipebox.cautions.sizing import amounts_in
from recipebox.measures import PanFit, PanShare, pan_fit, share_out

ONE = Amount(Fraction(1), Fraction(1))
NINE = Pan("13x9x2 inch", 1, "rectangle", (Fraction(13), Fraction(9)), Fraction(2), "inch")
EIGHT = Pan("8x8x2 glass", 1, "rectangle", (Fraction(8), Fraction(8)), Fraction(2), "inch")


def line(number: int, item: str, unit: str | None = "teaspoon") -> Ingredient:
    return Ingredient(f"1 {unit} {item}", number, amount=ONE, unit=unit, item=item, items=(item,))


CARD = Card(
    "a.txt",
    "Quince bread",
    pan=NINE,
    oven=(Bake("400 F, 30 minutes", 3, (), Amount(Fraction(30), Fraction(35))),),
    ingredients=(line(5, "yeast"), line(6, "salt"), line(7, "cayenne"), line(8, "nutmeg"), line(9, "egg", None)),
    steps=(Passage("Mix with 1 cup of the milk for 10 minutes at 400 F.", 12),),
    undecided=(Entry("salt", (Wording("1 tsp salt"), Wording("2 tsp salt")), 20),),
    headers=(Header("pan", "13x9x2 inch", 2),),
)


def texts(
    card: Card, factor: str, pan: Pan | None = None, fit: PanFit | None = None, pans: Sequence[PanShare] = ()
) -> dict[int, list[str]]:
    """The cautions by line."""
    found: dict[int, list[str]] = {}
    for one in sizing_cautions(card, Fraction(factor), pan, fit, pans):
        found.setdefault(one.line, []).append(one.text)
    return found


def test_each_thing_that_does_not_grow_evenly_is_told_once() -> None:
    """Leavening, salt and strong spice get a line each, common practice; spices of one kind share it."""
    found = texts(CARD, "3")
    assert found[5] == [text for text in found[5] if text.startswith("yeast: what makes it rise")]
    assert found[6][0].startswith("salt: ")
    assert found[7][0].startswith("cayenne, nutmeg: strong spice")
    for number in (5, 6, 7):
        assert len(found[number]) == 1
        assert "common practice, no source" in found[number][0]
    assert "three quarters" in found[6][0]
    assert "three quarters" not in texts(CARD, "1/2")[6][0]


def test_the_oven_the_pan_and_the_words_of_the_card_are_told() -> None:
    """Oven time, the pan, amounts in the method and wordings that nobody scaled."""
    found = texts(CARD, "1/2")
    assert "the 30 to 35 minutes are for the card's own batch" in found[3][0]
    assert "8-inch square pan" in found[2][0]
    assert found[12] == ['The method says "1 cup": that is for the card\'s own batch.']
    assert found[20] == ["salt: these wordings are for the card's own batch."]
    assert "2 of them take this batch" in texts(CARD, "2")[2][0]


def test_half_an_egg_comes_with_what_to_do_with_the_rest() -> None:
    """The rest of an egg is told with published guidance and its source (cold_storage.csv)."""
    told = texts(CARD, "1/2")[9][0]
    assert "beat one and take about 1 Tbsp" in told
    assert "Cold Food Storage Chart" in told
    assert "2 to 4 days" in told


def test_another_pan_is_told_by_what_it_was_compared() -> None:
    """By volume with the lists used; glass 25 F lower by the University of Nebraska-Lincoln Extension's row."""
    fit = pan_fit(NINE, EIGHT)
    found = texts(CARD, str(fit.factor), pan=EIGHT, fit=fit)[2]
    assert any("compared by volume" in text and "Extension" in text for text in found)
    assert any("set the oven 25 F (14 C) lower" in text for text in found)
    assert any(text.startswith("Pan depth:") for text in found)
    assert not any("fits the card's own batch" in text for text in found)


def test_pans_that_hold_their_share_need_no_word() -> None:
    """Two whole batches in two of the card's pans: nothing of the pan; three halves of one: what fits."""
    assert 2 not in texts(CARD, "2", pans=share_out(CARD, Fraction(2), 1))
    split = texts(CARD, "1", pans=share_out(CARD, Fraction(1), 1))
    assert "Each pan gets 1/2 of the card's batch" in split[2][0]


@given(st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=100))
def test_every_size_is_told_something_and_the_cards_own_is_not(factor: Fraction) -> None:
    """Any other size has its cautions, none of them an empty line; the card's own size has none of them."""
    found = sizing_cautions(CARD, factor)
    assert all(one.text.strip().endswith((".", ")")) and "\n" not in one.text for one in found)
    assert bool(found) == (factor != 1)
    assert sizing_cautions(replace(CARD, ingredients=(), steps=(), undecided=(), oven=(), pan=None), factor) == []


@pytest.mark.parametrize(
    ("step", "found"),
    [
        ("Add 1 cup of milk and 2 Tbsp butter.", ("1 cup", "2 Tbsp")),
        ("Beat 2 eggs with 100g sugar.", ("2 eggs", "100g")),
        ("Bake 25 minutes at 180 C, 2 inches apart.", ()),
        ("Butter a 2-quart baking dish.", ()),
        ("Pour into a 12-cup muffin tin.", ()),
        ("PUT IN A 2 QT CASSEROLE WITH 1 CUP OF THE CHEESE.", ("1 CUP",)),
        ("Stir in half the milk.", ()),
        ("Simmer 1 1/2 cups stock.", ("1 1/2 cups",)),
    ],
)
def test_amounts_of_food_in_a_step(step: str, found: tuple[str, ...]) -> None:
    """Amounts of food are found; times, heats, lengths and sizes of pans are not."""
    assert amounts_in(step) == found
