"""The drop of feed and return: expected, measured, too much."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api
from baycalc.physics.copper import area_from_awg

CIRCULAR_MIL = 5.067075e-4
BARE = {"joint_resistance": "0 mohm", "return_length": "0.05 m", "return_conductor": "100 mm2"}


# ASTM B258: ohm per 1000 ft at 20 °C.
@pytest.mark.parametrize(
    ("size", "resistance"),
    [(12, 1.588), (14, 2.525), (16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14)],
)
def test_feed_of_a_wire_gauge(compute: Any, size: int, resistance: float) -> None:
    found = compute(load="1 A", feed_conductor=f"AWG {size}", feed_length="100 ft",
                    temperature="68 °F", **BARE)  # fmt: skip
    assert found["feed_expected"] == pytest.approx(resistance / 10, rel=1e-3)


# ABYC E-11 (from memory): circular mils = 10.75 x A x ft / V. Its 10.75 ohm cmil/ft is copper at
# 29.4 °C (10.371 at 20 °C by IEC 60028).
@pytest.mark.parametrize(("current", "feet", "drop"), [(10, 20, 0.36), (25, 40, 1.2)])
def test_boat_builders_formula(compute: Any, current: float, feet: float, drop: float) -> None:
    area = 10.75 * current * feet / drop * CIRCULAR_MIL
    found = compute(load=f"{current} A", feed_length=f"{feet} ft", temperature="29.4 °C",
                    feed_conductor=f"{area} mm2", **BARE)  # fmt: skip
    assert found["feed_expected"] == pytest.approx(drop, rel=2e-3)


def test_warm_copper_drops_more(compute: Any) -> None:
    # IEC 60028: 0.00393 per kelvin, 1.25545 at 85 °C.
    cold = compute(temperature="20 °C", **BARE)["feed_expected"]
    assert compute(temperature="85 °C", **BARE)["feed_expected"] / cold == pytest.approx(1.25545)


def test_contacts_add_up(compute: Any) -> None:
    without = compute(load="10 A", feed_joints="0")["feed_expected"]
    found = compute(load="10 A", feed_joints="6", joint_resistance="3 mohm")
    assert found["feed_expected"] - without == pytest.approx(10 * 6 * 0.003)


def test_a_measured_drop_gives_resistance_heat_and_side(compute: Any) -> None:
    found = compute(load="20 A", feed_measured="1.3 V", return_measured="0.05 V")
    excess = 1.3 - found["feed_expected"]
    assert found["feed_excess"] == pytest.approx(excess / 20)
    assert found["feed_heat"] == pytest.approx(excess * 20)
    assert found["return_excess"] == 0
    assert found["feed_verdict"] == "fail"
    assert found["return_verdict"] == "pass"
    assert found["finding"] == "The resistance too much sits on the feed side."
    assert found["load_voltage"] == pytest.approx(13.5 - 1.3 - 0.05)


# Feed 0.5 V and ground 0.1 V under load: common practice, no source.
@pytest.mark.parametrize(
    ("fields", "finding"),
    [
        ({}, "Nothing measured yet: these are the drops that a sound line should show."),
        ({"feed_measured": "0.2 V"}, "No side that was measured drops too much for certain."),
        ({"return_measured": "0.2 V"}, "The resistance too much sits on the return side."),
        (
            {"feed_measured": "0.9 V", "return_measured": "1.2 V"},
            "Both sides drop too much; more of it sits on the return side.",
        ),
        (
            {"feed_measured": "2.9 V", "return_measured": "1.2 V"},
            "Both sides drop too much; more of it sits on the feed side.",
        ),
    ],
)
def test_findings(compute: Any, fields: dict[str, str], finding: str) -> None:
    assert compute(**fields)["finding"] == finding


def test_too_close_to_call_says_what_settles_it() -> None:
    verdict = api.run("voltage_drop", {"feed_measured": "0.5 V"})["results"]["feed_verdict"]
    assert verdict["outcome"] == "too close to call"
    assert verdict["conformity"] == pytest.approx(0.5)
    assert verdict["advice"] == (
        "measure on a finer range of the meter, with the full load running"
    )


def test_a_hot_joint_is_warned_of() -> None:
    told = api.run("voltage_drop", {"load": "20 A", "feed_measured": "1.3 V"})["notes"]
    assert [note["signal"] for note in told if "melts a connector" in note["text"]] == ["caution"]


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"load": "400 A", "feed_conductor": "1 mm2"},
            {"load": "No such current can flow: the conductors and joints alone would take "
             "22.3 V."},
        ),
        (
            {"feed_measured": "13 V", "return_measured": "0.6 V"},
            {"feed_measured": "The drops together cannot reach the supply while the load runs: "
             "measure along the lead, not across the load."},
        ),
        ({"return_measured": "-0.1 V"}, {"return_measured": "Expected at least 0 V, got -0.1 V."}),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("voltage_drop", fields) == {"errors": problems}


def test_hands_the_line_to_the_fuse() -> None:
    (link,) = api.run("voltage_drop", {"feed_conductor": "AWG 10", "load": "9 A"})["links"]
    assert api.run("fuse", link["fields"] | {"inrush": "0"})["errors"] == {}
    assert link["fields"]["load"] == "9.0"
    assert link["fields"]["conductor.unit"] == "AWG"


@given(st.floats(0.5, 20), st.floats(0.5, 5), st.integers(4, 20), st.floats(0.1, 2))
def test_units_commute(compute: Any, load: float, length: float, size: int, drop: float) -> None:
    one = compute(load=f"{load!r} A", feed_length=f"{length!r} m", feed_measured=f"{drop!r} V",
                  feed_conductor=f"AWG {size}", temperature="50 °C")  # fmt: skip
    other = compute(load=f"{load * 1000!r} mA", feed_length=f"{length / 0.3048!r} ft",
                    feed_measured=f"{drop * 1000!r} mV", temperature="122 °F",
                    feed_conductor=f"{area_from_awg(size) * 1e6!r} mm2")  # fmt: skip
    for name, value in one.items():
        same = pytest.approx(value, rel=1e-9, abs=1e-12) if isinstance(value, float) else value
        assert other[name] == same


@given(st.floats(0.5, 10), st.floats(1.01, 2))
def test_the_drop_is_proportional_to_the_load(compute: Any, load: float, factor: float) -> None:
    small = compute(load=f"{load!r} A")["total_expected"]
    assert compute(load=f"{load * factor!r} A")["total_expected"] == pytest.approx(small * factor)
