"""The speed of a pump from the humps of its current."""

from typing import Any

import pytest

from baycalc import api


# Worked by hand: a commutator of 8 segments that makes 8 humps in 10 ms turns once in 10 ms, which
# is 6000 turns a minute; and 12 segments, 36 humps in 36 ms: three turns, 12 ms each, 5000.
@pytest.mark.parametrize(
    ("humps", "segments", "time", "rpm"),
    [("8", "8", "10 ms", 6000.0), ("36", "12", "36 ms", 5000.0), ("70", "7", "0.12 s", 5000.0)],
)
def test_speed(compute: Any, humps: str, segments: str, time: str, rpm: float) -> None:
    found = compute(humps=humps, segments=segments, time=time)
    assert found["speed"] * 60 == pytest.approx(rpm)
    assert found["turn"] == pytest.approx(60 / rpm)


def test_the_humps_of_a_simulated_commutator(compute: Any) -> None:
    """A rectified wave of 8 segments at 5400 turns a minute, its peaks counted by scipy."""
    import numpy as np
    from scipy.signal import find_peaks

    times = np.linspace(0, 0.1, 20001)
    wave = np.abs(np.sin(np.pi * 8 * 90 * times))
    peaks, _ = find_peaks(wave, height=0.9)
    span = times[peaks[-1]] - times[peaks[0]]
    found = compute(humps=str(len(peaks) - 1), time=f"{span * 1e3:.6f} ms")
    assert found["speed"] * 60 == pytest.approx(5400, rel=1e-3)


def test_the_error_of_the_time_by_gum(run: Any) -> None:
    """Rectangular: 0.2 ms of 22 ms, over root 3, twice."""
    told = run()["results"]["speed_verdict"]["metric"]
    guard = 2 * 5454.5 * 0.2 / 22 / 3**0.5
    assert f"guard band {guard:.0f} rpm" in told


@pytest.mark.parametrize(
    ("fields", "begins"),
    [
        ({}, "Current and speed lie inside"),
        ({"current": "11 A", "time": "40 ms"}, "Much current and little speed: it drags."),
        ({"current": "2 A", "time": "15 ms"}, "Little current and much speed: it runs free."),
        ({"current": "2 A", "time": "40 ms"}, "Little of both"),
        ({"current": "11 A", "time": "15 ms"}, "Much of both"),
        ({"current": "11 A"}, "Much current at the usual speed"),
        ({"current": "2 A"}, "Little current at the usual speed"),
        ({"time": "40 ms"}, "The usual current at little speed"),
        ({"time": "15 ms"}, "The usual current at much speed"),
        (
            {"current_low": "", "current_high": "", "speed_low": "", "speed_high": ""},
            "No band was given",
        ),
    ],
)
def test_findings(compute: Any, fields: dict[str, str], begins: str) -> None:
    assert compute(**fields)["finding"].startswith(begins)


def test_uneven_humps_are_told(run: Any) -> None:
    def told(**fields: str) -> bool:
        return any("uneven" in note["text"] for note in run(**fields)["notes"])

    assert not told()
    assert told(highest="0.5 A", lowest="0.3 A")
    assert not told(highest="0 A", lowest="0 A")


def test_refusals() -> None:
    errors = api.run("pump_ripple", {"humps": "8.5", "segments": "7.2", "lowest": "1 A"})["errors"]
    assert errors == {
        "humps": "Expected a whole number.",
        "segments": "Expected a whole number.",
        "lowest": "The lowest hump cannot be above the highest one.",
    }
