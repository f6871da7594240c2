"""Versions as a cook means them."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.model import Bake, Card
from recipebox.family.meaning import as_meant
from recipebox.family.sentences import calm, said
from tests.family.making import version


def _named(*names: str) -> list[Card]:
    cards = [version("X", ["1 leek"], ["Cook."], path=f"v/{at}.txt") for at in range(len(names))]
    return [replace(card, name=name) for card, name in zip(cards, names, strict=True)]


@pytest.mark.parametrize(
    ("names", "short"),
    [
        (("Heike (after Wanda, but with curd)", "Ada"), ["Heike", "Ada"]),
        (("Heike (one)", "Heike (two)"), ["Heike (one)", "Heike (two)"]),
        (("JUNE", "Ada"), ["June", "Ada"]),
    ],
)
def test_names_are_as_short_as_tells_them_apart(names: tuple[str, ...], short: list[str]) -> None:
    """What stands in brackets goes where nobody else has the name; capitals do not shout."""
    cards = as_meant(_named(*names))
    assert [card.name for card in cards] == short
    assert as_meant(cards) == cards


def test_minced_meat_and_oven_words_are_said_once() -> None:
    """ "900 g minced beef" is minced beef, not beef; "Oven 190C" under `oven` is 190C; the lines keep their text."""
    card = version(
        "Ada", ["900 g minced beef", "2 cloves minced garlic"], ["Cook."], oven=(Bake("Oven 190C/170C fan", 3),)
    )
    (meant,) = as_meant([card])
    assert [line.item for line in meant.ingredients] == ["minced beef", "garlic"]
    assert [line.text for line in meant.ingredients] == [line.text for line in card.ingredients]
    assert [bake.text for bake in meant.oven] == ["190C/170C fan"]


@given(st.text(alphabet="ABC xyz.,!' 0123TFé", max_size=40))
def test_calm_words_are_the_same_words(text: str) -> None:
    """Calming changes the size of letters only, T and t apart, and only where all are capitals."""
    quiet = calm(text)
    assert said(quiet) == said(text)
    assert quiet == text or text.isupper()


@pytest.mark.parametrize(
    ("loud", "quiet"),
    [
        ("COOK LEEKS IN BUTTER, ABOUT 10 MIN. STIR IN FLOUR.", "Cook leeks in butter, about 10 min. Stir in flour."),
        ("1 T SUGAR", "1 T sugar"),
        ("1 1/2 TSP. SALT", "1 1/2 tsp. salt"),
        ("PUT IN A 2 QT CASSEROLE AT 400 F.", "Put in a 2 qt casserole at 400 F."),
    ],
)
def test_a_shouted_card_is_calmed(loud: str, quiet: str) -> None:
    """Sentences open with a capital; T stays a tablespoon and F a degree."""
    assert calm(loud) == quiet
