"""Quantities as an author wrote them, in the units of both systems."""

import pytest

from baybook.book.pint_quantities import unit_table
from baycalc.quantities import units
from baycalc.quantities.dual_units import pair


@pytest.fixture(autouse=True)
def table() -> None:
    units.install(unit_table())


# 1 lbf ft = 1.355818 N m, 1 lbf in = 0.1129848 N m, 1 gal = 3.785412 L (NIST SP 811, B.8); below
# 15 lbf ft and 20 L the trade takes the smaller unit: common practice, no source.
@pytest.mark.parametrize(
    ("text", "kind", "us"),
    [
        ("20.3 N m", "torque", "180 lbf in"),
        ("20.4 N m", "torque", "15.0 lbf ft"),
        ("45 N m", "torque", "33 lbf ft"),
        ("19 L", "volume", "20 qt"),
        ("21 L", "volume", "5.5 gal"),
    ],
)
def test_a_small_size_takes_the_smaller_unit(text: str, kind: str, us: str) -> None:
    assert pair(text, kind).us == us
