"""Finding a table row's keywords in a text."""

from hypothesis import given
from hypothesis import strategies as st

from recipebox.cautions.match import find, find_all, keywords, one

HAM = keywords("ham;cooked ham;ham steak", "graham;graham crackers;ham base")


def test_whole_words_only() -> None:
    """Ham is in a ham, hams and "ham," but not in graham or hamper."""
    for text in ("1 ham", "2 hams", "ham, diced", "HAM"):
        assert find(text, HAM) is not None
    for text in ("graham crackers", "a hamper", "shame", "ham base", ""):
        assert find(text, HAM) is None


def test_one_or_many_is_one_word() -> None:
    """A keyword in the plural is found in the singular too: a graham cracker crust is of graham crackers."""
    assert find("1 graham cracker crust", keywords("graham crackers")) is not None
    assert find("2 boxes of graham crackers", keywords("graham cracker")) is not None
    assert find("swis chard", keywords("swiss")) is None


def test_the_longest_wins() -> None:
    """Of ham and cooked ham the longer is what was meant."""
    found = find("2 cups cooked ham", HAM)
    assert found is not None
    assert found.keyword == "cooked ham"


def test_masked_words_hide_no_others() -> None:
    """What is no ham is masked first; a ham beside it is still found."""
    found = find("graham crackers and ham", HAM)
    assert found is not None
    assert found.start == 20


def test_a_possessive_is_a_person() -> None:
    """Grandma's casserole does not say that grandma eats it; a shepherd's pie is what it is called."""
    assert find("Grandma’s casserole", keywords("grandma")) is None
    assert find("for grandma", keywords("grandma")) is not None
    assert find("Shepherd’s pie", keywords("shepherd's pie")) is not None


WORDS = st.lists(st.sampled_from(["ham", "cooked", "graham", "steak", "base", "egg", "'s", "-"]), max_size=8).map(
    " ".join
)


@given(WORDS | st.text(max_size=40))
def test_every_find_is_the_keyword_it_says(text: str) -> None:
    """A find stands where it says, at a word's edge, and is a keyword or its plural."""
    for found in find_all(text, HAM):
        there = text.lower().replace("’", "'")[found.start : found.end]
        assert there == found.keyword
        assert any(" ".join(there.split()).startswith(one(word)) for word in HAM.words)
        assert not text[found.end : found.end + 1].isalnum()


def test_no_keywords_find_nothing() -> None:
    """An empty cell matches no text."""
    assert find("anything at all", keywords("")) is None
