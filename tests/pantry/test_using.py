"""What was used, taken off what is on hand in whatever measure it is said."""

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.onhand import add_entry, read_on_hand
from recipebox.measures import convert
from recipebox.pantry import PantryError
from recipebox.pantry.using import used

KITCHEN = b"""Pantry
  3 cans (14.5 oz) chopped tomatoes
  2 kg flour
  1 jar honey
  5 lb sugar
Fridge
- 1 litre milk
- 1 leek
- 2 eggs, use by 2026-11-30
- 4 eggs (use by 2026-12-05)
"""
_ITEMS = st.sampled_from(["peas", "milk", "rice", "butter"])


def texts(data: bytes) -> list[str]:
    """The entries' words."""
    return [entry.text for entry in read_on_hand(data).entries]


def test_using_takes_the_soonest_first_and_stays_at_nothing() -> None:
    """Used up, a line says "0 cans" till a person deletes it; what is over is taken of the next."""
    assert used(KITCHEN, "chopped tomatoes") == (KITCHEN.replace(b"3 cans", b"0 cans"), None)
    left = [(e.amount.low, e.use_by) for e in read_on_hand(used(KITCHEN, "3 eggs")[0]).entries if e.use_by and e.amount]
    assert left == [(0, date(2026, 11, 30)), (3, date(2026, 12, 5))]


@pytest.mark.parametrize(
    ("words", "wanted", "told"),
    [
        ("500 g flour", "1 1/2 kg flour", None),
        ("200 ml milk", "0.8 litre milk", None),
        ("1 cup milk", "0.763 litre milk", "rounded"),
        ("2 cups flour", "1 3/4 kg flour", "counted as 0.25 kilogram: 1 cup all-purpose flour = 125 g (USDA"),
        ("8 oz sugar", "4 1/2 lb sugar", None),
        ("14.5 oz chopped tomatoes", "2 cans (14.5 oz) chopped tomatoes", None),
        ("2 cups plus 2 tablespoons milk", "0.497 litre milk", "rounded"),
        ("1 leek", "0 leeks", None),
    ],
)
def test_another_unit_is_converted(words: str, wanted: str, told: str | None) -> None:
    """Weights and volumes exactly, cans by their printed size; a volume is a weight only by a table, and that is said.

    Sizes: NIST Handbook 44 (1 US cup is 236.588 ml, 1 lb is 16 oz).
    """
    data, said = used(KITCHEN, words)
    (changed,) = set(texts(data)) - set(texts(KITCHEN))
    assert changed.startswith(wanted)
    assert (said is None) == (told is None)
    assert told is None or told in (said or "")


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("saffron", "no saffron on hand"),
        ("2 leeks", "2 leeks: only this is on hand: 1 leek; nothing is changed"),
        ("2 litres milk", "only this is on hand: 1 litre milk"),
        ("3 slices honey", "no telling how much of this that is: 1 jar honey; nothing is changed"),
        ("200 g honey", "no telling"),
        ("", "names nothing"),
        ("3", "names nothing"),
    ],
)
def test_what_cannot_be_taken_off_is_one_line(words: str, why: str) -> None:
    """None of it, less than that, or a measure no table turns into the list's: said in one line."""
    with pytest.raises(PantryError, match=why) as told:
        used(KITCHEN, words)
    assert len(str(told.value).splitlines()) == 1


@given(st.lists(st.tuples(st.sampled_from(["pantry", "fridge", "freezer"]), st.integers(1, 9), _ITEMS), max_size=8))
def test_what_was_added_can_be_used(added: list[tuple[str, int, str]]) -> None:
    """The sum of what was added of a thing is there, can be used to the last, and then none is left."""
    data = b"Pantry\n  2 kg flour\n"
    for place, amount, item in added:
        data = add_entry(data, place, f"{amount} lb {item}")
    for item in {item for _, _, item in added}:
        there = sum(amount for _, amount, other in added if other == item)
        assert sum(e.amount.low for e in read_on_hand(data).entries if e.item == item and e.amount) == there
        data, told = used(data, f"{there} lb {item}")
        assert told is None
        with pytest.raises(PantryError):
            used(data, item)
    assert b"  2 kg flour\n" in data


@given(
    st.integers(1, 40), st.sampled_from(["g", "kg", "oz", "lb"]), st.integers(1, 40), st.sampled_from(["g", "kg", "lb"])
)
def test_weights_come_off_in_any_unit(there: int, unit: str, taken: int, other: str) -> None:
    """What is left is what was there less what was used, to the gram or the sixteenth; or less is there, and said."""
    data = f"Pantry\n  {there} {unit} rice\n".encode()
    left = there - convert(Fraction(taken), other, unit)
    if left < 0:
        with pytest.raises(PantryError, match="only this is on hand"):
            used(data, f"{taken} {other} rice")
        return
    (entry,) = read_on_hand(used(data, f"{taken} {other} rice")[0]).entries
    assert entry.amount is not None
    step = {"g": Fraction(1), "kg": Fraction(1, 1000)}.get(unit, Fraction(1, 16))
    assert abs(entry.amount.low - left) <= step / 2
