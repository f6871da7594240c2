"""Ingredients that name another card."""

from recipebox.pantry import by_title, followed
from tests.family.making import version


def test_a_card_named_in_a_line_is_followed_on_its_batch() -> None:
    """ "2 batches white sauce, see card" is what two batches of that card take; on hand already, it stays a line."""
    sauce = version("Brigid", ["55 g butter", "30 g flour"], ["Melt."], title="White Sauce", path="sauce.txt")
    bake = version("Ada", ["300 g macaroni", "2 batches white sauce, see card"], ["Mix."], path="bake.txt")
    lines = followed(bake, by_title([sauce, bake]))
    assert [(line.item, line.amount and line.amount.low) for line in lines] == [
        ("macaroni", 300),
        ("butter", 110),
        ("flour", 60),
    ]
    assert followed(bake, by_title([sauce, bake]), {"white sauce"}) == list(bake.ingredients)


def test_only_what_says_so_is_followed_and_a_circle_ends() -> None:
    """A plain ingredient that shares a title is bought; cards that name one another come to an end."""
    pesto = version("Ada", ["1 batch green paste"], ["Mix."], title="Pesto", path="pesto.txt")
    paste = version("Bo", ["1 batch pesto"], ["Mix."], title="Green Paste", path="paste.txt")
    titles = by_title([pesto, paste])
    assert len(followed(pesto, titles)) == 1
    plain = version("Cleo", ["2 tbsp pesto"], ["Stir."], path="plain.txt")
    assert [line.text for line in followed(plain, titles)] == ["2 tbsp pesto"]
