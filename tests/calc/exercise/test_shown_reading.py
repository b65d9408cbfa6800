"""Readings of a hidden car: where they lie, how they scatter, how they are written."""

from typing import Any

import pytest
from tests.calc.exercise.cars import HOLD

from baycalc.exercise.hidden_car import drawn
from baycalc.exercise.shown_reading import DEEPEST, shown_reading, true_values
from baycalc.measurement.decision import Limit
from baycalc.measurement.reading import judge_reading
from baycalc.physics.air import SEA_LEVEL_PRESSURE

VOLT = {"kind": "voltage", "reference": "", "units": ["V", "V"], "scales": False}
METER = {"of_reading": 0.01, "resolution": 0.01}
HEAT = {"kind": "temperature", "units": ["°F", "°C"], "gauge": {"resolution": 0.5}}


def read(asked: dict[str, Any], is_good: bool, seed: int, system: str = "us") -> Any:
    return shown_reading(asked, is_good, lambda what: drawn(seed, what), system)


@pytest.mark.parametrize(
    ("low", "high", "good", "bad"),
    [
        (4.0, 6.0, [(4.0, 6.0)], [(2.0, 4.0), (6.0, 9.0)]),
        (10.0, None, [(10.0, 12.5)], [(0.0, 10.0)]),
        (None, 0.4, [(0.0, 0.4)], [(0.4, 0.8)]),
    ],
)
def test_true_values_lie_inside_the_limit_or_outside(low, high, good, bad):
    limit, asked = Limit(low=low, high=high), VOLT | {"gauge": METER}
    assert true_values(limit, asked, True) == good
    assert true_values(limit, asked, False) == bad


def test_a_temperature_reaches_some_degrees_beyond_its_bound():
    assert true_values(Limit(low=350.0), HEAT, True) == [(350.0, 375.0)]
    assert true_values(Limit(high=350.0), HEAT, False) == [(350.0, 375.0)]


@pytest.mark.parametrize("is_good", [True, False])
def test_verdicts_agree_with_what_was_drawn(is_good):
    asked = HOLD
    wrong = {True: "fail", False: "pass"}[is_good]
    verdicts = []
    for seed in range(1, 400):
        shown = read(asked, is_good, seed)
        answer = judge_reading({**asked, "reading": shown.text, "unit": shown.unit})
        verdicts.append(answer["verdict"]["outcome"])
    # A guard band of two standard uncertainties: 2.3 % at most beside a bound, and few lie there.
    assert verdicts.count(wrong) < 4
    assert verdicts.count("too close to call") > 0


def test_the_gauge_scatters_by_its_uncertainty():
    asked = VOLT | {"low": 9.999, "high": 10.001, "gauge": {"of_reading": 0.02}}
    found = [float(read(asked, True, seed).text) for seed in range(1, 1001)]
    mean = sum(found) / 1000
    spread = (sum((value - mean) ** 2 for value in found) / 999) ** 0.5
    assert abs(mean - 10.0) < 0.012
    assert abs(spread - 0.2 / 3**0.5) < 0.008


def test_both_units_show_one_value():
    us, metric = (read(HOLD, True, 4, system) for system in ("us", "metric"))
    assert (us.unit, metric.unit) == ("inHg", "kPa")
    assert float(us.text) * 3.386389 == pytest.approx(float(metric.text), abs=0.6)


def test_a_reading_is_written_in_the_steps_of_the_gauge():
    assert all(float(read(HOLD, True, seed, "metric").text) % 0.5 == 0 for seed in range(1, 50))


def test_a_meter_of_four_figures_reads_large_values_in_coarser_steps():
    ohm = {"kind": "resistance", "units": ["kohm", "kohm"], "gauge": {"resolution": 0.1}}
    texts = [read(ohm | {"low": 10_000.0, "high": None}, True, seed).text for seed in range(1, 30)]
    assert {len(text.replace(".", "")) for text in texts} == {4}


def test_no_vacuum_is_deeper_than_the_air_and_nothing_lies_below_zero():
    asked = HOLD | {"low": 95_000.0}
    deep = [float(read(asked, True, seed, "metric").text) for seed in range(1, 200)]
    assert max(deep) <= DEEPEST * SEA_LEVEL_PRESSURE / 1000 + 0.5
    small = VOLT | {"low": None, "high": 0.01, "gauge": {"resolution": 0.1}}
    assert min(float(read(small, True, seed).text) for seed in range(1, 200)) == 0.0
