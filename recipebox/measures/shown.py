"""What is written for an amount, and how far off that is."""

from dataclasses import dataclass
from fractions import Fraction

TOLERANCE = Fraction(1, 20)  # an error above this is told in words


@dataclass(frozen=True, slots=True)
class Shown:
    """What to write: `text` ("1/2 cup + 2 Tbsp"), its exact `amount` in `unit`, and `error` = (shown - exact)/exact.

    An error above 5 % is said in the text: scant (a little less than this is wanted), generous, or about.
    """

    text: str
    amount: Fraction
    unit: str | None
    error: Fraction

    @property
    def rounded(self) -> bool:
        """Whether what is shown is not exact."""
        return self.error != 0


def about(text: str, shown: Fraction, name: str | None, exact: Fraction) -> Shown:
    """`shown` for `exact`, with "about" before it where it is over 5 % off."""
    error = shown / exact - 1
    return Shown(f"about {text}" if abs(error) > TOLERANCE else text, shown, name, error)


def nearest_step(amount: Fraction, step: Fraction) -> Fraction:
    """The nearest multiple of `step`, halves up."""
    return (amount / step + Fraction(1, 2)) // 1 * step
