"""Comparing ovens."""

from fractions import Fraction

import pytest

from recipebox.cards.model import Amount, Bake, Card, Heat
from recipebox.compare.model import Kind
from recipebox.compare.oven import compare_ovens


def card(path: str, *heats: tuple[str, int], minutes: tuple[int, int] | None = None, fan: bool = False) -> Card:
    """A card with one bake, its heat said in so many scales."""
    settings = tuple(Heat(scale, Amount(Fraction(value), Fraction(value)), fan) for scale, value in heats)
    time = minutes and Amount(Fraction(minutes[0]), Fraction(minutes[1]))
    return Card(path=path, title="", oven=(Bake("", 1, settings, time),) if heats else ())


@pytest.mark.parametrize(
    ("one", "other", "kind"),
    [
        (("F", 350), ("C", 180), Kind.SAME),  # NIST, The Metric Kitchen
        (("F", 425), ("C", 220), Kind.SAME),  # NIST, The Metric Kitchen
        (("F", 350), ("F", 360), Kind.SAME),
        (("F", 350), ("F", 375), Kind.DIFFERS),
        (("C", 180), ("C", 185), Kind.SAME),
        (("C", 180), ("C", 190), Kind.DIFFERS),
    ],
)
def test_heats_are_compared_across_scales(one: tuple[str, int], other: tuple[str, int], kind: Kind) -> None:
    """Within 10 F or 5 C is the same oven, in whatever scale."""
    assert compare_ovens([card("a.txt", one), card("b.txt", other)]).kind is kind


def test_times_within_one_another_are_the_same() -> None:
    """30 minutes and 30 to 35 agree, 30 and 45 do not."""
    half = card("a.txt", ("F", 350), minutes=(30, 30))
    assert compare_ovens([half, card("b.txt", ("F", 350), minutes=(30, 35))]).kind is Kind.SAME
    assert compare_ovens([half, card("b.txt", ("F", 350), minutes=(45, 45))]).kind is Kind.DIFFERS


def test_a_card_without_an_oven_is_told() -> None:
    """One without: only. None with any: the same, with nothing to show."""
    assert compare_ovens([card("a.txt", ("F", 350)), card("b.txt")]).kind is Kind.ONLY
    neither = compare_ovens([card("a.txt"), card("b.txt")])
    assert (neither.kind, neither.cells) == (Kind.SAME, {})
