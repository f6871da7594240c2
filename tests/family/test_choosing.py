"""Choices in a person's words."""

import pytest

from recipebox.family.choosing import version_named, with_choices
from recipebox.family.model import Choices, FamilyError
from tests.family.making import version

_CARDS = [version("Brigid", ["3 leeks"], ["Cook."]), version("Tomasz", ["2 onions"], ["Cook."])]


def test_a_later_choice_about_an_item_replaces_the_earlier() -> None:
    """Leaving out what was taken forgets the taking; the other choices stay."""
    first = with_choices(Choices(), _CARDS, take=["leeks=brigid", "milk=Tomasz"], start_from="Tomasz")
    then = with_choices(first, _CARDS, leave_out=["Leeks"])
    assert (then.take, then.leave_out) == ({"milk": "versions/tomasz.txt"}, ("leek",))
    assert then.start_from == "versions/tomasz.txt"


@pytest.mark.parametrize("words", ["leeks", "=Brigid", "leeks=", "leeks=Zbyszek"])
def test_words_that_name_no_item_or_version_are_refused_in_one_line(words: str) -> None:
    """What is not ITEM=NAME, or names nobody's version, says what would be."""
    with pytest.raises(FamilyError) as caught:
        with_choices(Choices(), _CARDS, take=[words])
    assert "\n" not in str(caught.value)
    assert "ITEM=NAME" in str(caught.value) or "there are Brigid, Tomasz" in str(caught.value)


def test_a_name_may_be_short_but_must_be_one() -> None:
    """The beginning of one version's name, or a word of it, will do; words that fit several list them by path."""
    assert version_named(_CARDS, "tom").name == "Tomasz"
    aunt = version("Aunt Greta", ["3 leeks"], ["Cook."])
    assert version_named([*_CARDS, aunt], "greta") == aunt
    uncle = version("Uncle Greta", ["3 leeks"], ["Cook."])
    with pytest.raises(FamilyError, match=r"versions/aunt-greta\.txt, versions/uncle-greta\.txt"):
        version_named([*_CARDS, aunt, uncle], "greta")


def test_a_second_version_of_one_person_is_the_second() -> None:
    """Two versions from Brigid are Brigid and Brigid 2, in order of path, and each can be chosen."""
    twins = [*_CARDS, version("Brigid", ["3 leeks"], ["Cook."], path="letters/other.txt")]
    assert version_named(twins, "brigid").called == "letters/other.txt"
    assert version_named(twins, "brigid 2").called == "versions/brigid.txt"
    assert with_choices(Choices(), twins, take=["leeks=Brigid 2"]).take == {"leek": "versions/brigid.txt"}
    with pytest.raises(FamilyError, match="there are Brigid, Brigid 2, Tomasz"):
        version_named(twins, "Zbyszek")


@pytest.mark.parametrize(
    ("take", "leave_out", "swap"),
    [
        (["golden syrup=Brigid"], ["Golden Syrup"], []),
        (["leeks=Brigid", "leek=Tomasz"], [], []),
        ([], ["leeks"], ["leeks=Tomasz"]),
    ],
)
def test_choices_against_each_other_are_refused(take: list[str], leave_out: list[str], swap: list[str]) -> None:
    """What is taken cannot be left out in the same breath: one line says so, and no choice wins in silence."""
    with pytest.raises(FamilyError, match=r"say.* two things about it") as caught:
        with_choices(Choices(), _CARDS, take=take, leave_out=leave_out, swap=swap)
    assert "\n" not in str(caught.value)
    assert with_choices(Choices(), _CARDS, take=["leeks=Brigid"], swap=["leeks=Tomasz"]).swap
