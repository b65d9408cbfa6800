"""A hold test against 40 CFR, published leak conversions, and what must hold for any of them."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from baycalc import api
from baycalc.physics.air import standard_pressure
from baycalc.physics.decay import throughput
from baycalc.physics.orifice import circle_area

INHG = 3386.388640341


def errors(**fields: str) -> dict[str, str]:
    found: dict[str, str] = api.run("vacuum_hold", fields)["errors"]
    return found


KNOWN = {
    "volume_from": "given",
    "volume": "2 L",
    "temperature": "20 °C",
    "barometer_from": "measured",
    "barometer": "101.325 kPa",
}


def test_vacuum_decay_of_40_cfr_1065_644(compute: Any) -> None:
    # 40 CFR 1065.644: V 2.0000 L, 25.300 -> 50.600 kPa absolute, 293.15 K, 70 s; 2.966e-4 mol/s
    # follows from its equation (computed, not printed there).
    found = compute(start="76.025 kPa", end="50.725 kPa", time="70 s", **KNOWN)
    assert found["leak"] / (8.314462618 * 293.15) == pytest.approx(2.966e-4, rel=2e-4)


def test_published_leak_conversion(compute: Any) -> None:
    # A leak detector maker's table: 1 mbar L/s is 59.2 cm3/min at 0 °C and 1013 mbar. In 2 L it is
    # a fall of 0.5 mbar each second.
    fields = KNOWN | {"temperature": "0 °C"}
    found = compute(start="500 mbar", end="495 mbar", time="10 s", reference="0C", **fields)
    assert found["leak"] == pytest.approx(0.1, rel=1e-9)
    assert found["leak_volume_flow"] * 60e6 == pytest.approx(59.2, abs=0.05)


def test_a_vacuum_unit_of_40_cfr_85(run: Any) -> None:
    # 40 CFR 85 Subpart V Appendix I: 457 mmHg held with no visible drop in 15 s; on a dial read to
    # half an inch a steady needle cannot prove half an inch in 15 s by less than 0.41 inHg.
    found = run(
        start="457 mmHg", end="457 mmHg", time="15 s", allowed_drop="0.5 inHg", allowed_time="15 s"
    )
    assert found["results"]["verdict"]["outcome"] == "pass"
    assert found["results"]["drop_uncertainty"]["si"] / INHG == pytest.approx(0.204, abs=2e-3)


def test_about_20_inches_held_as_the_trade_asks(compute: Any) -> None:
    # A vacuum-operated shut-off valve holds about 20 inHg without visible drop: common practice, no
    # source.
    assert compute(start="20 inHg", end="20 inHg", time="60 s")["verdict"] == "pass"
    assert compute(start="20 inHg", end="15 inHg", time="60 s")["verdict"] == "fail"


@pytest.mark.parametrize(("start", "end"), [(20, 19), (20, 12), (20, 2), (8, 5), (29, 1)])
def test_the_hole_against_scipy(compute: Any, start: float, end: float) -> None:
    """A hole of the size found, integrated by scipy, loses as much in the time."""
    found = compute(start=f"{start} inHg", end=f"{end} inHg", time="60 s")
    air, volume = standard_pressure(0), found["volume_held"]
    area = circle_area(found["hole"])
    solved = solve_ivp(
        lambda _, inside: area / volume * throughput(float(inside[0]), air, 293.15),
        (0, 60),
        [air - start * INHG],
        rtol=1e-9,
    )
    assert solved.y[0][-1] == pytest.approx(air - end * INHG, rel=1e-5)


def test_hose_and_chamber(compute: Any) -> None:
    found = compute(hose_bore="4 mm", hose_length="1 m", actuator_volume="30 mL")
    assert found["volume_held"] * 1e6 == pytest.approx(30 + 12.566, abs=1e-3)


@pytest.mark.parametrize(
    ("start", "end", "regime"),
    [
        ("20 inHg", "16 inHg", "choked: the air passes the hole at the speed of sound"),
        ("20 inHg", "10 inHg", "choked at first, then slower than sound"),
        ("12 inHg", "10 inHg", "slower than sound"),
    ],
)
def test_regimes(compute: Any, start: str, end: str, regime: str) -> None:
    # Critical ratio 0.52828: choked above 14.1 inHg at sea level.
    assert compute(start=start, end=end)["regime"] == regime


def test_temperature_alone_is_no_leak(compute: Any) -> None:
    # 33.6 kPa absolute at 293.15 K and 3 K warmer: p dT/T = 343.8 Pa of vacuum lost.
    start, air = 20 * INHG, 101325.0
    end = start - (air - start) * 3 / 293.15
    found = compute(start=f"{start} Pa", end=f"{end} Pa", temperature_drift="3 °C")
    assert found["temperature_drop"] == pytest.approx(343.8, abs=0.1)
    assert found["leak"] == pytest.approx(0, abs=1e-9)
    assert found["drop"] == pytest.approx(343.8, abs=0.1)


def test_a_drift_that_is_not_known_widens_the_guard_band(compute: Any) -> None:
    sure = compute(drift_uncertainty="0 °C", gauge_resolution="0.05 inHg")
    unsure = compute(drift_uncertainty="3 °C", gauge_resolution="0.05 inHg")
    assert unsure["drop_uncertainty"] > 1.3 * sure["drop_uncertainty"]


FALLS = st.floats(0.1, 15)


@given(FALLS, st.floats(0.01, 3))
def test_a_larger_fall_is_a_larger_leak_and_hole(compute: Any, fall: float, more: float) -> None:
    one = compute(end=f"{20 - fall} inHg")
    other = compute(end=f"{20 - fall - more} inHg")
    assert other["leak"] > one["leak"]
    assert other["hole"] > one["hole"]
    assert other["drop_rate"] > one["drop_rate"]


@given(FALLS, st.floats(0.1, 50))
def test_scaling(compute: Any, fall: float, factor: float) -> None:
    """Leak goes with volume over time; the hole's area too."""
    plain = {"end": f"{20 - fall} inHg", "volume_from": "given"}
    one = compute(**plain, volume="40 mL", time="60 s")
    larger = compute(**plain, volume=f"{40 * factor} mL", time="60 s")
    longer = compute(**plain, volume="40 mL", time=f"{60 * factor} s")
    assert larger["leak"] == pytest.approx(factor * one["leak"], rel=1e-9)
    assert larger["hole"] == pytest.approx(factor**0.5 * one["hole"], rel=1e-9)
    assert longer["leak"] == pytest.approx(one["leak"] / factor, rel=1e-9)
    assert larger["verdict"] == one["verdict"]


@given(FALLS)
def test_both_limits_agree(compute: Any, fall: float) -> None:
    """A leak limit that means the same fall gives the same share of the guard band."""
    end = f"{20 - fall} inHg"
    volume = compute()["volume_held"]
    by_drop = compute(end=end, allowed_drop="1 inHg", allowed_time="60 s")
    by_leak = compute(
        end=end,
        limit_by="leak",
        allowed_leak=f"{volume * INHG / 60!r} Pa m3/s",
        volume_uncertainty="0 %",
    )
    assert by_drop["verdict"] == by_leak["verdict"]


@given(FALLS)
def test_the_hold_time_decides(compute: Any, fall: float) -> None:
    found = compute(end=f"{20 - fall} inHg")
    if "hold_time" not in found or found["hold_time"] > 3600:
        return
    time = found["hold_time"] * 1.01
    longer = compute(end=f"{20 - fall * time / 60} inHg", time=f"{time} s")
    assert longer["verdict"] in ("pass", "fail")


def test_a_longer_hold_shows_a_smaller_leak(compute: Any) -> None:
    leaks = [compute(time=time)["smallest_leak"] for time in ("15 s", "60 s", "10 min", "1 h")]
    assert leaks == sorted(leaks, reverse=True)
    assert leaks[0] > 3 * leaks[1]


def test_volume_uncertainty_counts_for_a_leak_only(compute: Any, run: Any) -> None:
    fields = {"end": "19 inHg", "volume_uncertainty": "50 %"}
    assert run(**fields)["results"]["verdict"] == run(end="19 inHg")["results"]["verdict"]
    leak = {"end": "18 inHg", "limit_by": "leak", "allowed_leak": "3 Pa L/s"}
    assert compute(**leak, volume_uncertainty="0 %")["verdict"] == "fail"
    assert compute(**leak, volume_uncertainty="50 %")["verdict"] == "too close to call"


def test_too_close_says_what_would_settle_it(run: Any) -> None:
    verdict = run(end="19.2 inHg")["results"]["verdict"]
    assert verdict["outcome"] == "too close to call"
    assert verdict["advice"].startswith("Hold for at least ")
    assert "use a gauge" in verdict["advice"]


def test_a_verdict_on_a_leak_is_written_as_a_leak(run: Any) -> None:
    hose = {"hose_bore": "4 mm", "hose_length": "1 m", "actuator_volume": "30 mL"}
    answer = run(end="19 inHg", limit_by="leak", allowed_leak="5 Pa L/s", **hose)
    verdict = answer["results"]["verdict"]
    assert verdict["us"].startswith("Reading 2.40 Pa L/s, limit at most 5.00 Pa L/s")
    assert verdict["metric"].startswith("Reading 0.0240 mbar L/s, limit at most 0.0500 mbar L/s")


@pytest.mark.parametrize(
    ("fields", "note"),
    [
        ({"end": "20.5 inHg"}, "The vacuum rose."),
        ({"end": "19.8 inHg"}, "This gauge cannot tell the fall from none in this time;"),
        ({"end": "0 inHg"}, "All the vacuum is gone,"),
        ({"end": "19 inHg"}, "A hole so small is rather a pore"),
    ],
)
def test_notes(run: Any, fields: dict[str, str], note: str) -> None:
    assert any(each["text"].startswith(note) for each in run(**fields)["notes"])


def test_no_leak_no_hole_and_no_link_to_it(run: Any) -> None:
    answer = run(end="20 inHg")
    assert "hole" not in answer["results"]
    assert [link["to"] for link in answer["links"]] == ["gauge"]


def test_the_link_carries_the_leak(run: Any) -> None:
    answer = run(end="15 inHg")
    link = answer["links"][0]
    assert link["to"] == "leak_orifice"
    there = api.run("leak_orifice", link["fields"])
    # The link takes the mean vacuum, the hold test the whole decay: the hole agrees to 2 %.
    assert there["results"]["hole"]["si"] == pytest.approx(
        answer["results"]["hole"]["si"], rel=0.02
    )


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"start": "30 inHg"},
            {"start": "No vacuum can be as deep as the air pressure here, 29.92 inHg (101.3 kPa)."},
        ),
        (
            {"end": "25 inHg", "altitude": "5280 ft"},
            {"end": "No vacuum can be as deep as the air pressure here, 24.64 inHg (83.43 kPa)."},
        ),
        (
            {"hose_length": "0 m", "actuator_volume": "0 mL"},
            {"actuator_volume": "The hose and the chamber together have no volume."},
        ),
        (
            {"start": "0.9 inHg", "end": "0.5 inHg"},
            {"allowed_drop": "More than the vacuum at the start cannot be lost."},
        ),
        ({"time": "0 s"}, {"time": "Expected at least 1 s, got 0 s."}),
    ],
)
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert errors(**fields) == problems


def test_the_drawing_tells_what_it_shows(run: Any) -> None:
    drawing = run(end="19 inHg")["drawing"]
    told = (
        "The vacuum goes from 20.0 inHg (67.7 kPa) to 19.0 inHg (64.3 kPa) in 60 s; at the limit "
        "it would go to 19.0 inHg (64.3 kPa)."
    )
    assert told in drawing
    for label in (
        "what the gauge may show (k = 2)",
        "vacuum with this leak",
        "least vacuum allowed",
    ):
        assert label in drawing
