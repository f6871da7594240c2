"""What dishes are called."""

from collections.abc import Callable, Mapping

from recipebox.cards.model import Card
from recipebox.cards.sayings import Sayings
from recipebox.dishes import Features, features, group

Kitchen = Mapping[str, Features]
Say = Callable[..., Sayings]


def names(kitchen: Kitchen, sayings: Sayings, *families: Card) -> dict[str, str]:
    """Each dish's name by its first card."""
    return {dish.cards[0].called: dish.name for dish in group(kitchen, sayings, families).dishes}


def test_a_dish_is_called_by_a_title_of_its_own(kitchen: Kitchen) -> None:
    """Without a say, a version's title names the dish."""
    assert names(kitchen, Sayings())["a/stew.txt"] in {"Beef and Parsnip Stew", "Parsnip and beef stew", "Stout stew"}


def test_the_family_names_its_dish(kitchen: Kitchen, say: Say) -> None:
    """A `name:` line of any of its cards is the dish's name."""
    assert names(kitchen, say(("name", "Winter Pot", "c/stew.txt")))["a/stew.txt"] == "Winter Pot"


def test_two_names_for_one_dish_count_as_unsaid(kitchen: Kitchen, say: Say) -> None:
    """A quarrel about a name leaves the dish its title."""
    both = say(("name", "Winter Pot", "a/stew.txt"), ("name", "Stout Pot", "b/stew.txt"))
    assert names(kitchen, both)["a/stew.txt"] == names(kitchen, Sayings())["a/stew.txt"]


def test_the_family_recipe_titles_the_dish(kitchen: Kitchen, family: Callable[..., Card]) -> None:
    """The title of the family recipe is the dish's name."""
    recipe = family("family/pot.txt", "The Pot", "a/stew.txt", "b/stew.txt")
    assert names(kitchen, Sayings(), recipe)["a/stew.txt"] == "The Pot"


def test_a_name_used_again_gets_a_number(kitchen: Kitchen, say: Say) -> None:
    """Two dishes of one name: the second, in order of path, is ` 2`."""
    said = say(("name", "Sunday", "a/stew.txt"), ("name", "Sunday", "a/cake.txt"))
    assert names(kitchen, said) == {"a/cake.txt": "Sunday", "a/stew.txt": "Sunday 2"}


def test_a_dish_without_titles_is_called_by_a_path(make_card: Callable[..., Card]) -> None:
    """Cards without titles still have a name to type."""
    lines = ["1 lb okra", "1 lb lamb", "2 tbsp sumac"]
    known = {path: features(make_card(path, lines)) for path in ("a.txt", "b.txt")}
    assert names(known, Sayings()) == {"a.txt": "a.txt"}
