"""The pint registry made from the table."""

from fractions import Fraction

from recipebox.measures.registry import identifier, ratio, registry
from recipebox.measures.units import units


def test_every_unit_has_its_own_name_in_the_registry() -> None:
    """No two units share an identifier, and the registry knows them all."""
    found = list(dict.fromkeys(units().values()))
    names = [identifier(one) for one in found]
    assert len(set(names)) == len(names)
    assert all(name in registry() for name in names)


def test_ratios_are_fractions() -> None:
    """The registry computes in exact fractions: a third of a third of a gallon loses nothing."""
    gallon, teaspoon = units()["gallon"], units()["teaspoon"]
    found = ratio(gallon, teaspoon)
    assert isinstance(found, Fraction)
    assert found == 768


def test_a_millilitre_is_a_cubic_centimetre() -> None:
    """Lengths and volumes hang together, so that a pan's sides give its volume."""
    made = registry()
    cubic = made.Quantity(Fraction(1), identifier(units()["inch"])) ** 3
    assert cubic.to(identifier(units()["millilitre"])).magnitude == Fraction("16.387064")


def test_there_is_one_registry() -> None:
    """Asking twice gives the same registry: it is built once."""
    assert registry() is registry()
