"""What would settle a reading that is too close to call: each way does."""

from dataclasses import replace

import pytest

from baycalc.measurement.decision import TOO_CLOSE, Limit, judge
from baycalc.measurement.instrument import Gauge
from baycalc.measurement.settle import finer_gauge, ways_to_settle
from baycalc.quantities.kinds import TEMPERATURE, VACUUM, VOLTS

INHG = 3386.389
DIAL = Gauge(span=30 * INHG, grade="B", resolution=0.5 * INHG)
LIMIT = Limit(low=18 * INHG)


def outcome(gauge: Gauge, reading: float, limit: Limit = LIMIT) -> str:
    return judge(reading, gauge.uncertainty(reading), limit).outcome


@pytest.mark.parametrize("inches", [18.1, 18.3, 18.6])
def test_the_finer_gauge_decides_and_is_the_coarsest(inches: float) -> None:
    reading = inches * INHG
    assert outcome(DIAL, reading) == TOO_CLOSE
    better = finer_gauge(DIAL, lambda gauge: outcome(gauge, reading) != TOO_CLOSE)
    assert better is not None
    assert outcome(better, reading) != TOO_CLOSE
    coarser = replace(better, resolution=min(DIAL.resolution, better.resolution * 2.5))
    assert coarser == better or outcome(coarser, reading) == TOO_CLOSE


def test_no_gauge_settles_a_reading_on_the_limit() -> None:
    assert finer_gauge(DIAL, lambda gauge: outcome(gauge, 18 * INHG) != TOO_CLOSE) is None
    assert ways_to_settle(18 * INHG, DIAL, LIMIT, VACUUM) == [
        "Read it again, with the needle or the figure at rest.",
        "Compare this gauge with a better one just at the limit.",
    ]


def test_ways_of_a_dial() -> None:
    ways = ways_to_settle(18.3 * INHG, DIAL, LIMIT, VACUUM)
    assert (
        ways[1]
        == "Use a gauge of grade 2A that can be read to 0.25 inHg (0.85 kPa): it would decide."
    )


def test_ways_of_a_meter() -> None:
    meter = Gauge(of_reading=0.02, resolution=0.0)
    ways = ways_to_settle(0.495, meter, Limit(high=0.5), VOLTS)
    assert ways[1] == "Use a meter with a quarter of this error: it would decide."


def test_a_finer_step_of_a_thermometer_is_a_difference() -> None:
    """A step of 1 K is 1.8 °F, not a temperature near absolute zero (NIST SP 811, B.8)."""
    thermometer = Gauge(resolution=5.0)
    ways = ways_to_settle(352.0, thermometer, Limit(high=353.15), TEMPERATURE)
    assert ways[1] == "Use a gauge that can be read to 1.8 °F (1.0 °C): it would decide."
