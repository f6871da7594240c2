"""The short way for plain lines says what the closer look says."""

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.ingredient import read_closely, read_ingredient
from recipebox.cards.measured import read_measure_closely
from recipebox.cards.plainline import read_plain
from recipebox.cards.plainmeasure import read_plain_measure, vocabulary

NUMBERS = [
    "1",
    "2",
    "10",
    "1/2",
    "1 1/2",
    "1½",
    "1 ½",
    "½",
    "2.5",
    "1-2",
    "2 - 3",
    "1 to 2",
    "0",
    "1/0",
    "1⁄4",
    "1 - 15",
]
NAMES = [
    "flour",
    "salt",
    "sugar",
    "butter",
    "eggs",
    "egg",
    "onion",
    "onions",
    "garlic",
    "cloves",
    "clove",
    "tomatoes",
    "cream",
    "cheese",
    "stock",
    "chicken",
    "breast",
    "olive",
    "oil",
    "all-purpose",
    "confectioners'",
    "extra",
    "virgin",
    "fresh",
    "large",
    "small",
    "medium",
    "thick",
    "red",
    "leaf",
    "leaves",
    "bay",
    "star",
    "head",
    "ribs",
    "fillets",
    "half",
    "or",
    "and",
    "plus",
    "each",
    "of",
    "the",
    "to",
    "for",
    "with",
    "in",
    "taste",
    "serving",
    "optional",
    "ripe",
    "chopped",
    "finely",
    "sliced",
    "drained",
    "peeled",
    "frozen",
    "canned",
    "condensed",
    "sweetened",
    "ground",
    "whole",
    "spoon",
    "weight",
    "ounce",
    "fluid",
    "no",
    "c",
    "t",
    "T",
    "ml",
    "inch",
    "strip",
    "steak",
    "round",
    "x",
    "size",
    "not",
    "any",
    "few",
    "some",
    "more",
    "less",
    "about",
    "hot",
    "well",
    "packed",
    "juice",
    "zest",
    "lemon",
    "lemons",
    "can't",
]
UNITS = [word for word in sorted(vocabulary().units) if word.isalpha()] + [
    "tsp.",
    "c.",
    "Tbsp",
    "oz.",
    "cup",
    "cups",
    "can",
]

word = st.sampled_from(NAMES) | st.sampled_from(UNITS)
name = st.lists(word, min_size=1, max_size=6).map(" ".join)
size = st.sampled_from(["", "", "(14 ounce) ", "(2 inch) ", "(7.5 oz) ", "(1 1/2 lb.) ", "(3 can) "])
tail = st.sampled_from(
    [
        *("", "", ", chopped", " (ripe, chopped)", ", to taste", " (or lemons)", " (optional)", ", for frying"),
        *(" and pepper", ", or to taste", " (or more to taste)", ", plus more for coating", ", juice of", ", to serve"),
        *(", cut into 1-inch pieces", " (I like mine sweet, really!)", " (about 2 cups)", " (such as this or that)"),
        *(
            " (thawed, 17.3 oz. each)",
            ", in juice",
            " (or 1 onion)",
            " of lamb",
            ", each about 150 g",
            " (not salted™)",
        ),
    ]
)
more_tail = st.lists(word, min_size=1, max_size=4).map(lambda words: ", " + " ".join(words)) | tail
number = st.sampled_from([*(n + " " for n in NUMBERS), ""])


@settings(max_examples=600)
@given(number, size, name, more_tail, more_tail)
def test_a_plain_line_is_read_as_closely(first: str, printed: str, words: str, one: str, two: str) -> None:
    """Whatever numbers, units, names and tails a line is made of, the short way agrees or leaves it alone."""
    text = first + printed + words + one + two
    found = read_plain(text, 3, "Sauce")
    if found is not None:
        assert found == read_closely(text, 3, "Sauce")
    assert read_ingredient(text, 3, "Sauce") == read_closely(text, 3, "Sauce")


@settings(max_examples=600)
@given(number, size, name, tail)
def test_a_plain_measure_is_read_as_closely(first: str, printed: str, words: str, behind: str) -> None:
    """The short way for measures agrees with the closer look or leaves the words alone."""
    text = first + printed + words + behind
    found = read_plain_measure(text)
    if found is not None:
        assert found == read_measure_closely(text)


def test_the_usual_lines_are_plain() -> None:
    """The short way is taken for the lines that most lists consist of."""
    usual = (
        "2 cups flour",
        "1 teaspoon salt",
        "3 large eggs",
        "1 (14 ounce) can chopped tomatoes",
        "1 onion, finely chopped",
        "salt, to taste",
        "2 tbsp olive oil, for frying",
        "1/4 cup butter (or margarine)",
        "2 garlic cloves, minced",
        "salt and pepper",
        "1 cup milk (I use oat milk, mostly)",
        "2 lb leg of lamb, cut into 1-inch cubes",
        "1 tsp sugar, or more to taste",
        "2 cups flour (about 250 g)",
    )
    assert [text for text in usual if read_plain(text, 1, None) is None] == []
