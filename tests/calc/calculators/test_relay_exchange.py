"""May one relay stand in for another one: terminals, contact, coil, suppression."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api

CHECKS = ("terminals_fit", "contact_fits", "coil_fits", "suppression_fits")


def test_the_same_relay_may_stand_in(compute: Any) -> None:
    found = compute()
    assert found["allowed"] is True
    assert all(found[check] for check in CHECKS)
    assert found["reason"] == (
        "The terminals are the same. At this temperature its contact may carry 40.0 A, enough for "
        "the load. Its coil takes 0.147 A, not much more than the original's. The spike of its "
        "coil is dealt with as well as before."
    )


# DIN 72552: 87a is the contact that is closed at rest, 87 the one that is open at rest.
@pytest.mark.parametrize(
    ("original", "other", "rest_contact_used", "fits"),
    [
        ("make", "make", "false", True),
        ("make", "changeover", "false", True),
        ("make", "double make", "false", True),
        ("changeover", "make", "false", True),
        ("changeover", "make", "true", False),
        ("changeover", "changeover", "true", True),
        ("changeover", "double make", "false", False),
        ("double make", "make", "false", False),
        ("double make", "changeover", "false", False),
        ("double make", "double make", "false", True),
    ],
)
def test_terminals(
    compute: Any, original: str, other: str, rest_contact_used: str, fits: bool
) -> None:
    found = compute(original_terminals=original, other_terminals=other,
                    rest_contact_used=rest_contact_used)  # fmt: skip
    assert found["terminals_fit"] is fits
    assert found["allowed"] is fits


def test_other_places_of_the_terminals(compute: Any) -> None:
    found = compute(same_places="false")
    assert found["allowed"] is False
    assert found["reason"] == (
        "The terminals are not at the same places: with 30 and 86 changed over, the coil's supply "
        "meets the load's."
    )


# Data sheet of a 40 A mini relay: 60 A at 23 °C, 40 A at 85 °C, 17 A at 125 °C.
@pytest.mark.parametrize(
    ("ambient", "limit", "tolerance"),
    [("23 °C", 60, 1e-6), ("185 °F", 40, 1e-6), ("125 °C", 17, 1)],
)
def test_contact_of_a_data_sheet(
    compute: Any, ambient: str, limit: float, tolerance: float
) -> None:
    assert compute(ambient=ambient)["contact_limit"] == pytest.approx(limit, abs=tolerance)


@pytest.mark.parametrize(
    ("load", "verdict", "says"),
    [
        ("30 A", "pass", "enough for the load."),
        ("40 A", "too close to call", "too close to the load to call."),
        ("45 A", "fail", "less than the load."),
    ],
)
def test_load_on_the_contact(compute: Any, load: str, verdict: str, says: str) -> None:
    found = compute(load=load, ambient="85 °C")
    assert found["load_verdict"] == verdict
    assert says in found["reason"]
    assert found["allowed"] is (verdict == "pass")


def test_an_inrush_may_weld_the_contact(compute: Any) -> None:
    found = compute(inrush="140 A", making_limit="120 A")
    assert found["contact_fits"] is False
    assert found["reason"] == "The inrush of 140 A may weld a contact that switches 120 A on."


# At most a quarter more coil current: common practice, no source.
@pytest.mark.parametrize(
    ("other_coil", "driver_limit", "fits"),
    [("88 ohm", "", True), ("71 ohm", "", True), ("69 ohm", "", False), ("69 ohm", "0.3 A", True),
     ("60 ohm", "0.2 A", False), ("260 ohm", "", True), ("270 ohm", "", False)],
)  # fmt: skip
def test_coil_and_driver(compute: Any, other_coil: str, driver_limit: str, fits: bool) -> None:
    found = compute(other_coil=other_coil, driver_limit=driver_limit)
    assert found["coil_fits"] is fits
    assert found["coil_share"] == pytest.approx(88 / float(other_coil.split()[0]))


@pytest.mark.parametrize(
    ("original", "other", "positive", "fits"),
    [
        ("none", "none", "86", True),
        ("none", "resistor", "85", True),
        ("none", "diode to 86", "86", True),
        ("none", "diode to 86", "85", False),
        ("resistor", "none", "86", False),
        ("resistor", "diode to 86", "86", True),
        ("resistor", "diode to 85", "86", False),
        ("diode to 85", "diode to 85", "85", True),
        ("diode to 86", "resistor", "86", True),
        ("diode to 86", "none", "86", False),
        ("none", "unknown", "86", False),
    ],
)
def test_suppression(compute: Any, original: str, other: str, positive: str, fits: bool) -> None:
    found = compute(original_suppression=original, other_suppression=other,
                    positive_terminal=positive)  # fmt: skip
    assert found["suppression_fits"] is fits
    assert found["allowed"] is fits


def test_a_diode_the_wrong_way_round_is_named(compute: Any) -> None:
    found = compute(other_suppression="diode to 85")
    assert found["reason"] == (
        "Its diode would lie the wrong way round: plus comes at 86, so it shorts the driver at the "
        "first click."
    )


def test_every_reason_is_told(compute: Any) -> None:
    found = compute(same_places="false", load="59 A", other_coil="20 ohm", other_suppression="none")
    assert not any(found[check] for check in CHECKS)
    assert found["reason"].count(".") >= 4


def test_refusals() -> None:
    assert api.run("relay_exchange", {"hot": "20 °C", "hot_limit": "70 A", "inrush": "9 A"}) == {
        "errors": {
            "hot": "Must be warmer than the first point of the data sheet.",
            "hot_limit": "A contact cannot carry more when it is hotter.",
            "inrush": "The inrush is the peak when the load starts and cannot be less than the "
            "steady load; type 0 where there is none.",
        }
    }


def test_what_stands_in_is_for_a_test_only() -> None:
    told = api.run("relay_exchange", {})["notes"]
    assert told[0]["text"].startswith("For a test only")
    assert told[1]["signal"] == "warning"


@given(st.floats(0.5, 60), st.floats(20, 130), st.floats(20, 500))
def test_units_commute(compute: Any, load: float, degrees: float, coil: float) -> None:
    one = compute(load=f"{load!r} A", inrush="0", ambient=f"{degrees!r} °C",
                  other_coil=f"{coil!r} ohm")  # fmt: skip
    other = compute(load=f"{load * 1000!r} mA", inrush="0", ambient=f"{degrees * 1.8 + 32!r} °F",
                    other_coil=f"{coil / 1000!r} kohm")  # fmt: skip
    for name in ("contact_limit", "coil_current", "coil_share"):
        assert other[name] == pytest.approx(one[name], rel=1e-9)
    assert other["allowed"] == one["allowed"]


@given(st.floats(1, 50), st.floats(0, 100), st.floats(0.1, 20))
def test_hotter_never_turns_no_into_yes(
    compute: Any, load: float, degrees: float, rise: float
) -> None:
    cool = compute(load=f"{load!r} A", inrush="0", ambient=f"{degrees!r} °C")
    hot = compute(load=f"{load!r} A", inrush="0", ambient=f"{degrees + rise!r} °C")
    assert cool["allowed"] or not hot["allowed"]
