"""Where a thing of another version goes in a method, and how it is said there."""

import pytest

from recipebox.cards.ingredient import read_ingredient
from recipebox.family.joining import beside, placed, sentence_after, sentence_of_our_own, verb_before

_CRUMBS, _PARSLEY, _APPLES, _JUICE = (
    read_ingredient(line)
    for line in ("80 g breadcrumbs", "2 tbsp chopped parsley", "1 kg apples", "1 tbsp lemon juice")
)


def test_a_thing_stands_beside_what_it_is_mixed_with() -> None:
    """Where things are mixed it joins the list; where one is sliced it does not, unless the same is done to both."""
    mix = "Mix the breadcrumbs and scatter over."
    assert beside(mix, [_CRUMBS], _PARSLEY, None) == "Mix the breadcrumbs and the parsley and scatter over."
    assert beside("Peel and slice the apples thinly.", [_APPLES], _JUICE, "toss") is None
    assert beside("Chop the apples.", [_APPLES], _PARSLEY, "chop") == "Chop the apples and the parsley."


@pytest.mark.parametrize(
    ("sentence", "word", "verb"),
    [
        ("Add the chopped onions.", "onions", "add"),
        ("Melt the butter, stir in the flour.", "flour", "stir"),
        ("Toss with the butter.", "butter", "toss"),
        ("Crumbs on top.", "Crumbs", None),
    ],
)
def test_what_is_done_to_a_thing_is_the_verb_before_it(sentence: str, word: str, verb: str | None) -> None:
    """A cook's verb holds for what follows until the next verb; a word that is a thing is none."""
    assert verb_before(sentence, sentence.index(word)) == verb


def test_sentences_of_our_own_are_plain() -> None:
    """What nobody's words are at hand for is said shortly, after what it meets, and before the baking."""
    assert sentence_of_our_own(["parsley", "chives"]) == "Add the parsley and chives."
    assert sentence_of_our_own(["salt", "pepper"]) == "Season with salt and pepper."
    assert placed("Mix well. Bake 20 minutes.", "Add the dill.") == "Mix well. Add the dill. Bake 20 minutes."
    assert sentence_after("Mix. Rest it an hour.", 0, "Add the dill.") == "Mix. Add the dill. Rest it an hour."
    assert sentence_after("Mix. Bake.", 1, "Add the dill.") == "Mix. Add the dill. Bake."
