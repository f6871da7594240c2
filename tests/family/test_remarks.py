"""Dated notes of versions, for the family."""

import pytest

from recipebox.cards.model import Passage
from recipebox.family.remarks import dated_remarks
from tests.family.making import version


@pytest.mark.parametrize(
    ("note", "remark"),
    [
        ("Easter 2025: too salty.", "Easter 2025, Ada: too salty."),
        ("November 2024 - go easy on salt", "November 2024, Ada: go easy on salt"),
        ("14.09.2025 for Oma's birthday, twice the amount", "14.09.2025, Ada: for Oma's birthday, twice the amount"),
        ("2024-11-17: no lemon here", "2024-11-17, Ada: no lemon here"),
        ("Easter 2025, Brigid: too salty", "Easter 2025, Brigid: too salty"),
        ("2 March 2025: frozen fish, good too", "2 March 2025, Ada: frozen fish, good too"),
        ("The second one went to Maeve.", None),
        ("We ate 31 of them at Thanksgiving 2024.", None),
        ("Gdynia, 12 October 2024", None),
        ("Nuala, Leeds, February 2025", None),
    ],
)
def test_a_dated_note_is_collected_with_whose_it_is(note: str, remark: str | None) -> None:
    """A note under a date comes into the family's Notes with its name; any other stays in its own card."""
    card = version("Ada", ["1 leek"], ["Cook."], notes=(Passage(note, 9),))
    assert dated_remarks([card]) == ([remark] if remark else [])
    assert dated_remarks([card, card]) == dated_remarks([card])
