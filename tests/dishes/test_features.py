"""Features, and their way to the index and back."""

import json
from collections.abc import Callable

from recipebox.cards.model import Card
from recipebox.dishes import candidates, features, features_data, features_from_data, keys

LINES = ("2 cups flour", "salt and pepper", "1 can (14.5 oz) chopped tomatoes", "250 g okra", "1 1/2 lb lamb")
STEPS = ("Heat the oven to 350 F.", "Fry the lamb with the okra.", "Bake with the tomatoes for an hour.")


def test_features_come_back_from_json(make_card: Callable[..., Card]) -> None:
    """What the index keeps gives the same features again."""
    known = features(make_card("a.txt", LINES, "Lamb and Okra", STEPS, 6))
    assert features_from_data(json.loads(json.dumps(features_data(known)))) == known


def test_each_thing_of_a_line_counts(make_card: Callable[..., Card]) -> None:
    """Salt and pepper are two things."""
    assert {"salt", "pepper"} <= features(make_card("a.txt", LINES)).things.keys()


def test_a_first_line_that_is_a_step_is_no_title(make_card: Callable[..., Card]) -> None:
    """A card without a title is called by its first line; that line's words belong to the method."""
    known = features(make_card("a.txt", (), STEPS[1], STEPS))
    assert not known.title_words
    assert "okra" in known.words


def test_keys_are_the_most_telling(make_card: Callable[..., Card]) -> None:
    """Okra is a key before flour and salt."""
    found = keys(features(make_card("a.txt", LINES)))
    assert found.index("okra") < found.index("flour")


def test_candidates_share_keys(make_card: Callable[..., Card]) -> None:
    """Two cards with two telling things in common are looked at, once; cards with one are not."""
    cards = [
        make_card("a.txt", ["1 lb okra", "2 lb lamb", "1 cup bulgur"]),
        make_card("b.txt", ["1 lb okra", "2 lb lamb", "1 cup barley"]),
        make_card("c.txt", ["1 cup barley", "1 lb quinces", "1 lb medlars"]),
    ]
    found = [tuple(sorted(pair)) for pair in candidates({card.called: features(card) for card in cards})]
    assert found == [("a.txt", "b.txt")]


def test_a_title_says_foods_by_their_common_names(make_card: Callable[..., Card]) -> None:
    """A British and an American title of one loaf are the same words."""
    british = features(make_card("a.txt", LINES, "Courgette and spring onion bread"))
    american = features(make_card("b.txt", LINES, "Zucchini and green onion bread"))
    assert british.title_words == american.title_words
