"""Units of vacuum and pressure against NIST, pint and the standard atmosphere."""

from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api

REGISTRY: "pint.UnitRegistry[float]" = pint.UnitRegistry()


def errors(**fields: str) -> dict[str, str]:
    found: dict[str, str] = api.run("vacuum_units", fields)["errors"]
    return found


# NIST SP 811:2008, Appendix B.8: Pa for one of each unit.
@pytest.mark.parametrize(
    ("unit", "pascals"),
    [("inHg", 3386.389), ("mmHg", 133.3224), ("psi", 6894.757), ("inH2O", 249.0889), ("bar", 1e5)],
)
def test_units_of_nist(compute: Any, unit: str, pascals: float) -> None:
    found = compute(reading=f"10 {unit}", reference="gauge")
    assert found["gauge"] == pytest.approx(10 * pascals, rel=3e-7)


def test_a_case_at_an_altitude(compute: Any) -> None:
    # Standard atmosphere at 1609 m: 83435.3 Pa (`ambiance`, `fluids`, `ussa1976`); 20 inHg of
    # vacuum there by NIST's inch.
    found = compute(reading="20 inHg", altitude="1609 m")
    assert found["absolute"] == pytest.approx(83435.3 - 20 * 3386.389, abs=0.1)
    assert found["share"] == pytest.approx(20 * 3386.389 / 83435.3, rel=1e-6)
    assert found["greatest"] == pytest.approx(83435.3, abs=0.1)


@given(st.floats(0.1, 28), st.sampled_from(["inHg", "mmHg", "psi", "mbar", "kPa", "inH2O"]))
def test_the_table_against_pint(inches: float, unit: str) -> None:
    typed = REGISTRY.Quantity(inches, "inHg").to(unit.replace("inH2O", "inH2O")).magnitude
    answer = api.run("vacuum_units", {"reading": f"{typed!r}", "reading.unit": unit})
    assert answer["results"]["vacuum"]["si"] == pytest.approx(
        REGISTRY.Quantity(inches, "inHg").to("Pa").magnitude, rel=1e-9
    )


@given(st.floats(0, 29), st.floats(-400, 400))
def test_references_return(compute: Any, inches: float, altitude: float) -> None:
    place = {"altitude": f"{altitude} m"}
    first = compute(reading=f"{inches} inHg", **place)
    again = compute(reading=f"{first['absolute']!r} Pa", reference="absolute", **place)
    third = compute(reading=f"{first['gauge']!r} Pa", reference="gauge", **place)
    for other in (again, third):
        assert other["gauge"] == pytest.approx(first["gauge"], abs=1e-6)
        assert other["absolute"] == pytest.approx(first["absolute"], abs=1e-6)


@given(st.floats(0, 15), st.floats(0, 4000), st.floats(10, 1000))
def test_higher_up_the_same_vacuum_is_a_larger_share(
    compute: Any, inches: float, altitude: float, higher: float
) -> None:
    low = compute(reading=f"{inches} inHg", altitude=f"{altitude} m")
    high = compute(reading=f"{inches} inHg", altitude=f"{altitude + higher} m")
    assert high["greatest"] < low["greatest"]
    assert high["share"] >= low["share"]
    assert high["vacuum"] == low["vacuum"]


def test_above_the_air_around(compute: Any) -> None:
    found = compute(reading="14.5 psi", reference="gauge")
    assert found["state"] == "above the air around: a pressure, no vacuum"
    assert "vacuum" not in found
    assert "share" not in found
    assert found["absolute"] == pytest.approx(14.5 * 6894.757 + 101325, rel=1e-6)
    assert api.run("vacuum_units", {"reading": "14.5 psi", "reference": "gauge"})["links"] == []


@pytest.mark.parametrize(
    ("fields", "state"),
    [
        ({"reading": "1 Pa"}, "below the air around: a vacuum"),
        ({"reading": "0 Pa"}, "equal to the air around"),
        ({"reading": "-5 psi", "reference": "gauge"}, "below the air around: a vacuum"),
        ({"reading": "110 kPa", "reference": "absolute"},
         "above the air around: a pressure, no vacuum"),
    ],
)  # fmt: skip
def test_states(compute: Any, fields: dict[str, str], state: str) -> None:
    assert compute(**fields)["state"] == state


def test_a_note_near_the_greatest_vacuum() -> None:
    notes = api.run("vacuum_units", {"reading": "29.5 inHg"})["notes"]
    assert notes[0]["text"].startswith("This is within 3 % of the greatest vacuum possible here.")
    assert api.run("vacuum_units", {"reading": "28 inHg"})["notes"] == []


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"reading": "30 inHg"},
            {"reading": "No vacuum can be deeper than the air pressure here, 29.92 inHg (101.3 "
             "kPa): check the reading, the unit and the altitude."},
        ),
        (
            {"reading": "-15 psi", "reference": "gauge"},
            {"reading": "No vacuum can be deeper than the air pressure here, 29.92 inHg (101.3 "
             "kPa): check the reading, the unit and the altitude."},
        ),
        (
            {"reading": "-1 Pa", "reference": "absolute"},
            {"reading": "An absolute pressure cannot be below zero."},
        ),
        (
            {"reading": "-20 inHg"},
            {"reading": "Type a vacuum without a minus sign. If your gauge shows a minus for it, "
             "choose gauge pressure below."},
        ),
        (
            {"barometer_from": "measured", "barometer": "200 kPa"},
            {"barometer": "Expected at most 110 kPa, got 200 kPa."},
        ),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert errors(**fields) == problems
