"""The hole in a fuel system from a record."""

import math
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from baycalc import api

AIR, GAS, WARM = 101325.0, 287.055, 293.15
VOLUME = (0.5 * 16 + 1) * 3.785411784e-3
INH2O = 249.08891


def record(diameter: float, sigma: float = 0.0, seconds: float = 60.0, rate: float = 2.0) -> str:
    """Integrate the decay of 10 inH2O of vacuum by scipy: incompressible flow, coefficient 0.61.

    At so small a difference the flow is that of Bernoulli within 1 %.
    """
    area = math.pi / 4 * diameter**2

    def rise(_: float, vacuum: Any) -> Any:
        flow = 0.61 * area * math.sqrt(2 * max(vacuum[0], 0.0) * AIR / (GAS * WARM))
        return [-flow / VOLUME * GAS * WARM]

    times = np.arange(0, seconds + 1e-9, 1 / rate)
    solved = solve_ivp(rise, (0, seconds), [10 * INH2O], t_eval=times, rtol=1e-8)
    noisy = solved.y[0] / INH2O + np.random.default_rng(5).normal(0, sigma, len(times))
    rows = "\n".join(f"{t:.2f};{v:.4f}" for t, v in zip(times, noisy, strict=True))
    return f"time (s);vacuum (inH2O)\n{rows}"


# 13 CCR 1968.2(e)(4.2.2): 0.020 in and 0.040 in.
@pytest.mark.parametrize(
    ("diameter", "seconds", "sigma"),
    [(0.508e-3, 60.0, 0.0), (0.508e-3, 60.0, 0.05), (1.016e-3, 15.0, 0.02), (0.3e-3, 120.0, 0.02)],
)
def test_the_hole_of_a_simulated_decay(
    compute: Any, diameter: float, seconds: float, sigma: float
) -> None:
    found = compute(record=record(diameter, sigma, seconds))
    assert found["hole"] == pytest.approx(diameter, rel=0.02)


@pytest.mark.parametrize(
    ("diameter", "limit", "outcome"),
    [(0.3e-3, "020", "pass"), (0.8e-3, "020", "fail"), (0.5e-3, "020", "too close to call"),
     (0.8e-3, "040", "pass")],
)  # fmt: skip
def test_verdicts(compute: Any, diameter: float, limit: str, outcome: str) -> None:
    assert compute(record=record(diameter, 0.01), limit_hole=limit)["verdict"] == outcome


def test_a_tight_system(run: Any) -> None:
    text = "\n".join(f"{n};{10 + 0.01 * (-1) ** n}" for n in range(60))
    answer = run(record=text)
    assert answer["results"]["verdict"]["outcome"] == "pass"


def test_more_noise_is_more_doubt() -> None:
    def doubt(sigma: float) -> float:
        fields = {"volume_uncertainty": "0 %", "scale_error": "0 %"}
        answer = api.run("evap_record", {"record": record(0.3e-3, sigma, 20.0), **fields})
        told = answer["results"]["verdict"]["metric"]
        return float(told.split("guard band ")[1].split(" ")[0])

    assert doubt(0.5) > 1.5 * doubt(0.02)


def test_a_curve_that_no_hole_makes_is_told(run: Any) -> None:
    text = "\n".join(f"{n};{10 - 3 * math.sin(n / 10):.3f}" for n in range(60))
    assert any("does not fall as air" in note["text"] for note in run(record=text)["notes"])


def test_refusals() -> None:
    flat = "0;0\n1;0\n2;0\n3;0"
    assert api.run("evap_record", {"record": flat})["errors"] == {
        "record": "The record begins at no vacuum or pressure."
    }
    deep = "0;500\n1;499\n2;498\n3;497"
    told = api.run("evap_record", {"record": deep, "signal_unit": "kPa"})["errors"]["record"]
    assert told.startswith("No vacuum can be as deep as the air pressure here")
