"""Kinds of quantity with their units."""

from baycalc.quantities import kinds, units
from baycalc.quantities.kinds import Kind, kind


def test_a_kind_writes_its_figures() -> None:
    """3386.389 Pa to the inHg (NIST SP 811:2008, B.8)."""
    vacuum = kind("pressure", "inHg", "kPa", "psi")
    assert vacuum == Kind("pressure", ("inHg", "kPa", "psi"))
    assert vacuum.pair == ("inHg", "kPa")
    assert vacuum.written(67727.8) == "20.0 inHg (67.7 kPa)"
    assert vacuum.written(67727.8, 2) == "20 inHg (68 kPa)"
    assert kind("current", "A").written(7.5) == "7.50 A"


def test_common_kinds_have_units_of_their_kind() -> None:
    for found in vars(kinds).values():
        if isinstance(found, Kind):
            assert set(found.units) <= set(units.installed().symbols(found.name)), found
