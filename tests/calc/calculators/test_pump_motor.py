"""A pump's motor from its current."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api


# The thresholds (5 % of the band, 80 % of the current at standstill): common practice, no source.
@pytest.mark.parametrize(
    ("fields", "state", "verdict"),
    [
        ({"current": "0 A"}, "open", "fail"),
        ({"current": "0.5 A"}, "open", "fail"),
        ({"current": "8 A"}, "running free", "fail"),
        ({"current": "12 A"}, "too close to call", "too close to call"),
        ({"current": "18 A"}, "good", "pass"),
        ({"current": "22 A"}, "too close to call", "too close to call"),
        ({"current": "30 A"}, "dragging", "fail"),
        ({"current": "50 A"}, "stalled", "fail"),
        ({"current": "30 A", "stall_current": "35 A"}, "stalled", "fail"),
        ({"current": "65 A", "inrush": "0"}, "dragging", "fail"),
        ({"current": "67 A", "inrush": "0"}, "stalled", "fail"),
        ({"current": "8 A", "hose": "off"}, "running free", "pass"),
        ({"current": "30 A", "hose": "off"}, "dragging", "fail"),
        ({"current": "30 A", "current_low": "", "current_high": ""}, "unknown", None),
        ({"current": "30 A", "current_low": "", "current_high": "25 A"}, "dragging", "fail"),
        ({"current": "4 A", "current_high": ""}, "running free", "fail"),
    ],
)
def test_states(compute: Any, fields: dict[str, str], state: str, verdict: str | None) -> None:
    found = compute(**fields)
    assert found["state"] == state
    assert found.get("current_verdict") == verdict


def test_worked_example_of_back_emf(compute: Any) -> None:
    # OpenStax College Physics, 23.6 (from memory): 48.0 V, 0.400 ohm, 120 A at the start; running
    # it takes 20.0 A, makes 40.0 V of counter voltage, and turns 160 W of 960 W into heat.
    found = compute(supply="48 V", current="20 A", inrush="120 A")
    assert found["winding"] == pytest.approx(0.400)
    assert found["counter_voltage"] == pytest.approx(40.0)
    assert found["winding_heat"] == pytest.approx(160)
    assert found["power"] == pytest.approx(960)


def test_inrush_integral(compute: Any) -> None:
    # A fuse maker's selection guide: ramp, peak squared times time over three.
    found = compute(inrush="60 A", inrush_time="150 ms")
    assert found["inrush_integral"] == pytest.approx(60**2 * 0.15 / 3)
    assert "inrush_integral" not in compute(inrush="0")
    assert "winding" not in compute(inrush="0")


def test_an_open_motor_shows_no_winding(compute: Any) -> None:
    found = compute(current="0 A")
    assert "winding" not in found
    assert "inrush_integral" not in found
    assert found["finding"].startswith("Voltage is there and no current flows")


def test_too_close_says_what_settles_it() -> None:
    verdict = api.run("pump_motor", {"current": "22 A"})["results"]["current_verdict"]
    assert verdict["conformity"] == pytest.approx(0.5, abs=1e-6)
    assert verdict["advice"] == (
        "let it run warm at full voltage, zero the clamp beside the lead, and use a finer range or "
        "a meter of a smaller error"
    )


@pytest.mark.parametrize(
    ("fields", "signal", "start"),
    [
        ({"current": "55 A"}, "warning", "A stalled motor gets hot enough to burn skin"),
        ({"run_time": "4 min"}, "caution", "It runs longer than it may"),
        ({"supply": "11.5 V"}, "", "The band holds for 13.0 V"),
        ({"current": "30 A"}, "", "The fuse, the relay and the connector carried this current"),
    ],
)
def test_notes(fields: dict[str, str], signal: str, start: str) -> None:
    told = api.run("pump_motor", fields)["notes"]
    assert signal in [note["signal"] for note in told if note["text"].startswith(start)]


def test_duty(compute: Any) -> None:
    assert compute(run_time="90 s")["duty_ok"] is True
    assert compute(run_time="1.6 min")["duty_ok"] is False
    assert "duty_ok" not in compute(run_limit="")


def test_refusals() -> None:
    assert api.run("pump_motor", {"current_high": "9 A"}) == {
        "errors": {"current_high": "The greatest value lies below the least one."}
    }
    assert api.run("pump_motor", {"inrush": "10 A"}) == {
        "errors": {
            "inrush": "The inrush is the peak at the start and cannot be less than the steady "
            "current; type 0 where it was not measured."
        }
    }


def test_hands_its_load_over() -> None:
    links = {link["to"]: link["fields"] for link in api.run("pump_motor", {})["links"]}
    assert set(links) == {"fuse", "relay_exchange", "voltage_drop"}
    for name, fields in links.items():
        assert api.run(name, fields)["errors"] == {}
    assert links["fuse"]["duty"] == "short"
    assert links["fuse"]["load"] == "18.0"


@given(st.floats(0.1, 50), st.floats(0.01, 10))
def test_units_commute(compute: Any, current: float, time: float) -> None:
    one = compute(current=f"{current!r} A", inrush="60 A", inrush_time=f"{time!r} s")
    other = compute(current=f"{current * 1000!r} mA", inrush="60 A",
                    inrush_time=f"{time * 1000!r} ms")  # fmt: skip
    for name, value in one.items():
        same = pytest.approx(value, rel=1e-9) if isinstance(value, float) else value
        assert other[name] == same


@given(st.floats(0, 58), st.floats(0.1, 2))
def test_states_follow_one_another(compute: Any, current: float, more: float) -> None:
    order = ("open", "running free", "too close to call", "good", "dragging", "stalled")
    first = compute(current=f"{current!r} A")["state"]
    second = compute(current=f"{current + more!r} A")["state"]
    if "too close to call" not in (first, second):
        assert order.index(first) <= order.index(second)
