"""Ovens in header lines and steps."""

from fractions import Fraction

import pytest

from recipebox.cards.heat import oven_in_steps, read_oven
from recipebox.cards.model import Amount, Passage


def said(words: str) -> list[tuple[list[tuple[str, int | None, bool]], int | None]]:
    """Each bake as its heats and its least minutes."""
    return [
        (
            [(heat.scale, None if heat.value is None else int(heat.value.low), heat.fan) for heat in bake.settings],
            None if bake.minutes is None else int(bake.minutes.low),
        )
        for bake in read_oven(words, 1)
    ]


@pytest.mark.parametrize(
    ("words", "bakes"),
    [
        ("425 F (220 C), 25 minutes", [([("F", 425, False), ("C", 220, False)], 25)]),
        ("180C/160C fan", [([("C", 180, False), ("C", 160, True)], None)]),
        ("200 C / gas 6, 35 minutes", [([("C", 200, False), ("gas", 6, False)], 35)]),
        ("425 F, 20 minutes, then 350 F, 40 minutes", [([("F", 425, False)], 20), ([("F", 350, False)], 40)]),
        ("425 for 20 minutes, then 350 for 40", [([("F", 425, False)], 20), ([("F", 350, False)], 40)]),
        ("moderate, 1 hour", [([("words", None, False)], 60)]),
        ("180", [([("C", 180, False)], None)]),
    ],
)
def test_an_oven_line_is_read_as_written(words: str, bakes: list[object]) -> None:
    """Several scales of one heat are one bake, several heats are several bakes, in order."""
    assert said(words) == bakes


def test_heat_and_minutes_of_different_steps_are_one_bake() -> None:
    """The oven is heated in one step and the baking time stands in another."""
    (bake,) = oven_in_steps(
        [Passage("Preheat the oven to 350 F.", 1), Passage("Mix.", 2), Passage("Bake for 30 minutes.", 3)]
    )
    assert (bake.settings[0].scale, int(bake.settings[0].value.low), int(bake.minutes.low)) == ("F", 350, 30)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "step",
    [
        "Fry until the inside reads 165 F.",
        "Heat the milk to 40 C.",
        "Boil the syrup to 240 F.",
        "Simmer for 200 minutes.",
    ],
)
def test_other_heats_are_no_oven(step: str) -> None:
    """Temperatures of food, milk or syrup are not the oven's."""
    assert oven_in_steps([Passage(step, 1)]) == ()


def test_one_step_may_say_two_bakes() -> None:
    """A second heat behind "then" is a bake of its own, though no oven is named again."""
    first, second = oven_in_steps([Passage("Bake at 400 for 20 minutes, then 350 for 40.", 1)])
    assert [first.minutes, second.minutes] == [Amount(Fraction(20), Fraction(20)), Amount(Fraction(40), Fraction(40))]
    assert [heat.value for heat in second.settings] == [Amount(Fraction(350), Fraction(350))]


def test_a_heat_with_its_time_needs_no_oven_named() -> None:
    """ "350° for 30 min" in a step is a bake; the heat of a frying pan's oil is none."""
    (bake,) = oven_in_steps([Passage("Chips on top. 350° for 30 min.", 4, 4)])
    assert (bake.settings[0].scale, bake.settings[0].value) == ("F", Amount(Fraction(350), Fraction(350)))
    assert bake.minutes == Amount(Fraction(30), Fraction(30))
    assert oven_in_steps([Passage("Deep-fry at 350° for 5 minutes.", 4, 4)]) == ()
