"""Sentences: splitting, finding an ingredient's words, taking them out and putting them in."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.ingredient import read_ingredient
from recipebox.family.joining import joined
from recipebox.family.sentences import mentions, said, sentences, without

_THINGS = ("salt", "pepper", "nutmeg", "parsley", "cheese", "butter", "onions", "flour")


def test_sentences_end_at_full_stops_and_not_at_figures_or_abbreviations() -> None:
    """A step falls into its sentences, and no word of it is lost or doubled."""
    step = "Cook 10 min. until soft. Add 1.5 cups milk, approx. Half of it goes in later! Stir."
    assert sentences(step) == [
        "Cook 10 min. until soft.",
        "Add 1.5 cups milk, approx. Half of it goes in later!",
        "Stir.",
    ]


@given(st.text(alphabet="abc .!?ABC\n12", max_size=80))
def test_splitting_keeps_every_word(text: str) -> None:
    """Whatever the text, its sentences together have the same words."""
    assert said(" ".join(sentences(text))) == said(text)


@pytest.mark.parametrize(
    ("sentence", "line", "shorter"),
    [
        ("Season with the nutmeg, salt and pepper.", "1/4 tsp nutmeg", "Season with the salt and pepper."),
        ("Nutmeg, salt, pepper.", "1/4 tsp nutmeg", "Salt, pepper."),
        ("Mix the bread crumbs, cheese and parsley and scatter over.", "2 tbsp parsley",
         "Mix the bread crumbs and cheese and scatter over."),
        ("Stir in half the cheddar and all the parsley.", "200 g cheddar", "Stir in all the parsley."),
        ("Add the onions and cook until soft.", "2 onions", "Cook until soft."),
    ],
)  # fmt: skip
def test_an_item_leaves_the_list_it_stands_in(sentence: str, line: str, shorter: str | None) -> None:
    """Taking an item out of a list leaves a list a cook could have written; where it is no list, nothing is done."""
    assert without(sentence, mentions(sentence, read_ingredient(line))) == shorter


@given(st.lists(st.sampled_from(_THINGS), min_size=2, max_size=5, unique=True), st.data())
def test_taking_one_of_a_list_leaves_the_others(items: list[str], data: st.DataObject) -> None:
    """From "the a, b and c" each one can go, and every other is still named."""
    gone = data.draw(st.sampled_from(items))
    sentence = f"Stir in the {', '.join(items[:-1])} and {items[-1]}."
    shorter = without(sentence, mentions(sentence, read_ingredient(f"1 cup {gone}")))
    assert shorter is not None
    assert gone not in shorter
    assert all(item in shorter for item in items if item != gone)
    assert "  " not in shorter and " ," not in shorter and ", and" not in shorter and "the and" not in shorter


@given(st.lists(st.sampled_from(_THINGS), min_size=1, max_size=4, unique=True), st.data())
def test_what_is_put_in_can_be_taken_out_again(items: list[str], data: st.DataObject) -> None:
    """An item put beside another is named, and taken out again leaves the others named."""
    new = data.draw(st.sampled_from([thing for thing in _THINGS if thing not in items]))
    beside = data.draw(st.sampled_from(items))
    whole = items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"
    sentence = f"Mix the {whole} and spread it."
    longer = joined(sentence, mentions(sentence, read_ingredient(f"1 cup {beside}"))[0], new)
    assert mentions(longer, read_ingredient(f"1 cup {new}"))
    shorter = without(longer, mentions(longer, read_ingredient(f"1 cup {new}")))
    assert shorter is not None and all(item in shorter for item in items)
