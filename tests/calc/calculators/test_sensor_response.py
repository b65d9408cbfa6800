"""The response of a sensor from a record."""

from typing import Any

import numpy as np
import pytest

from baycalc import api


def record(rise: float, rate: float, seconds: float = 6.0) -> str:
    times = np.arange(0, seconds, 1 / rate)
    phase = times % 1.0
    values = 0.1 + 0.8 * (
        np.clip((phase - 0.25) / rise, 0, 1) - np.clip((phase - 0.75) / rise, 0, 1)
    )
    rows = "\n".join(f"{t:.4f};{v:.4f}" for t, v in zip(times, values, strict=True))
    return f"time (s);signal (V)\n{rows}"


# A straight edge takes 0.8 of its whole time from 10 to 90 % (IEEE Std 181).
@pytest.mark.parametrize(
    ("rise", "outcome"), [(0.1, "pass"), (0.3, "fail"), (0.189, "too close to call")]
)
def test_time_of_an_edge(compute: Any, rise: float, outcome: str) -> None:
    found = compute(record=record(rise, 1000.0 if rise != 0.189 else 100.0))
    assert found["response"] == pytest.approx(0.8 * rise, rel=0.02)
    assert found["response_verdict"] == outcome


def test_switches_in_ten_seconds(compute: Any) -> None:
    """One period a second: twenty switches in ten seconds."""
    found = compute(record=record(0.1, 200.0, 10.0), wanted="switches")
    assert found["switches"] == pytest.approx(20, abs=1)
    assert found["switch_verdict"] == "pass"
    assert compute(record=record(0.1, 200.0), wanted="switches", fewest="40")["switch_verdict"] == (
        "fail"
    )


def test_a_part_of_the_record(compute: Any) -> None:
    whole, part = (
        compute(record=record(0.1, 500.0)),
        compute(record=record(0.1, 500.0), part_start="1 s", part_end="2.9 s"),
    )
    assert (whole["count"], part["count"]) == ("6", "2")
    assert part["length"] == pytest.approx(1.9, abs=0.01)


def test_a_record_that_is_too_coarse_says_so(run: Any) -> None:
    notes = [note["text"] for note in run(record=record(0.1, 12.0))["notes"]]
    assert any("too far apart" in text for text in notes)
    assert run(record=record(0.3, 500.0))["notes"] == []


def test_units_of_the_record(compute: Any) -> None:
    text = "t;u\n" + "\n".join(
        f"{n * 20};{(100, 100, 500, 900, 900, 500)[n % 6]}" for n in range(60)
    )
    found = compute(record=text, time_unit="ms", signal_unit="mV")
    assert found["interval"] == pytest.approx(0.02)
    assert (found["low"], found["high"]) == ("100 mV", "900 mV")


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"record": "nothing"}, "No line of this record holds two numbers: expected columns of "
         "time and signal, such as “0; 0.45” on each line."),
        ({"record": "0;1\n1;1\n2;1\n3;1\n"}, "This part holds no whole edge from 10 to 90 % of "
         "the way."),
        ({"signal_column": "7"}, "There is no column “7”; there are time, signal."),
        ({"part_start": "100 s"}, "Only 0 samples lie in this part: take more."),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], told: str) -> None:
    assert api.run("sensor_response", fields)["errors"] == {"record": told}
