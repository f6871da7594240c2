"""Baking dishes in header lines and steps."""

from fractions import Fraction

import pytest

from recipebox.cards.model import Pan, Passage
from recipebox.cards.pans import pan_in_steps, read_pan


def told(pan: Pan | None) -> tuple[int, str | None, list[Fraction], str | None, Fraction | None]:
    """A pan's count, shape, sides, unit and volume."""
    assert pan is not None
    return pan.count, pan.shape, list(pan.sides), pan.unit, pan.volume.amount.low if pan.volume else None


@pytest.mark.parametrize(
    ("words", "pan"),
    [
        ("9 x 13", (1, "rectangle", [9, 13], "inch", None)),
        ("8 inch square", (1, "rectangle", [8, 8], "inch", None)),
        ("20 cm round", (1, "round", [20], "centimeter", None)),
        ("2 quart", (1, None, [], None, 2)),
        ("two 2 litre dishes", (2, None, [], None, 2)),
        ("12-hole muffin tin", (12, "muffin", [], None, None)),
        ("24 muffin cups", (24, "muffin", [], None, None)),
        ("9 x 5 loaf pan", (1, "loaf", [9, 5], "inch", None)),
        ("20 x 28 cm tin", (1, "rectangle", [20, 28], "centimeter", None)),
        ("two 9-inch round cake tins", (2, "round", [9], "inch", None)),
    ],
)
def test_a_pan_is_measured_as_written(words: str, pan: object) -> None:
    """Sides, a diameter, a volume or holes: what is written, not converted."""
    assert told(read_pan(words)) == pan


def test_the_first_pan_that_steps_name_is_the_cards() -> None:
    """Without a header line the steps tell the baking dish."""
    steps = [Passage("Cut the dough into 2 x 2 inch squares.", 1), Passage("Butter a 9 x 13 inch baking dish.", 2)]
    assert told(pan_in_steps(steps)) == (1, "rectangle", [9, 13], "inch", None)
    assert pan_in_steps([Passage("Stir for 9 minutes.", 1)]) is None
