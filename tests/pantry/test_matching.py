"""How names on a card and in the pantry are judged."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.pantry import judge

_NAMES = ("leeks", "onions", "cheddar", "butter", "margarine", "milk", "buttermilk", "flour", "salt", "nutmeg", "")


@pytest.mark.parametrize(
    ("asked", "there", "verdict"),
    [
        ("all-purpose flour", "plain flour", "same"),
        ("Cheddar cheese, grated", "mature cheddar", "same"),
        ("hard cheese", "cheddar", "same"),
        ("egg yolks", "eggs", "same"),
        ("cod", "white fish", "same"),
        ("butter", "margarine", "stands-for"),
        ("buttermilk", "plain yogurt", "stands-for"),
        ("cheddar", "gruyere", "stands-for"),
        ("sugar", "brown sugar", "stands-for"),
        ("butter", "peanut butter", "different"),
        ("milk", "lemon juice", "different"),
        ("leeks", "salt", "different"),
        ("cream of tartar", "cream", "different"),
        ("", "milk", "different"),
    ],
)
def test_names_are_judged_as_a_cook_would(asked: str, there: str, verdict: str) -> None:
    """One thing under two names is the same; a known swap stands for; what only shares a word is different."""
    judged, why = judge(asked, there)
    assert judged == verdict, why
    assert why


@given(st.sampled_from(_NAMES))
def test_a_thing_is_itself(name: str) -> None:
    """Every name is the same as itself, unless it names nothing."""
    assert judge(name, name)[0] == ("same" if name else "different")
