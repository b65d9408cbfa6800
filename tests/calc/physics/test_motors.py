"""Motors against a textbook's worked example."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.motors import counter_voltage, heat, winding_resistance


def test_worked_example_of_back_emf() -> None:
    # OpenStax College Physics, 23.6 (from memory): 48.0 V, 0.400 ohm: 120 A and 5.76 kW at the
    # start; running, a counter voltage of 40.0 V leaves 20.0 A, of which 160 W is heat.
    assert winding_resistance(48.0, 120.0) == pytest.approx(0.400)
    assert heat(120.0, 0.400) == pytest.approx(5760)
    assert counter_voltage(48.0, 20.0, 0.400) == pytest.approx(40.0)
    assert heat(20.0, 0.400) == pytest.approx(160)


@given(st.floats(4, 60), st.floats(0.1, 500), st.floats(0, 1))
def test_supply_is_shared_out(supply: float, stall_current: float, share: float) -> None:
    resistance = winding_resistance(supply, stall_current)
    current = share * stall_current
    shaft = counter_voltage(supply, current, resistance) * current
    taken = pytest.approx(supply * current, rel=1e-9, abs=1e-9)
    assert shaft + heat(current, resistance) == taken
