"""Lengths of time in ISO 8601."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.gather.durations import read_duration, write_duration


@given(st.integers(1, 10**7))
def test_whole_seconds_read_back(seconds: int) -> None:
    """What is written is read as the same length."""
    minutes = Fraction(seconds, 60)
    assert read_duration(write_duration(minutes)) == minutes


@pytest.mark.parametrize(
    ("words", "minutes"),
    [
        ("PT1H30M", 90),
        ("PT90M", 90),
        ("P0DT0H45M0S", 45),
        ("P1DT2H", 26 * 60),
        ("P1W", 7 * 24 * 60),
        ("PT0.5H", 30),
        ("PT0,5H", 30),
        ("pt20m", 20),
        ("PT0M", None),
        ("P1Y", None),
        ("P0Y0M0DT1H", 60),
        ("20 minutes", None),
        ("", None),
    ],
)
def test_durations_are_read_as_iso_8601_says(words: str, minutes: int | None) -> None:
    """ISO 8601-1:2019, 5.5.2: designators, a decimal sign of either kind, weeks; a year has no fixed length."""
    assert read_duration(words) == minutes
