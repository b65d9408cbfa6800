"""A reading as it is typed: judged, or refused in one sentence.

Standard atmosphere at sea level: 101,325 Pa (ISO 2533:1975), 29.92 inHg.
"""

from typing import Any

import pytest

from baycalc.measurement.reading import judge_reading

INHG = 3386.389
"""Pascals of an inch of mercury at 0 degrees C (NIST SP 811, table B.8)."""


def said(reading: str, **more: Any) -> dict[str, Any]:
    asked = {
        "kind": "pressure",
        "reference": "vacuum",
        "low": 15 * INHG,
        "high": None,
        "units": ["inHg", "kPa"],
        "unit": "inHg",
        "gauge": {"span": 30 * INHG, "grade": "B", "resolution": 0.5 * INHG},
    }
    return dict(judge_reading(asked | {"reading": reading} | more))


def test_a_reading_is_judged() -> None:
    assert said("20")["verdict"]["outcome"] == "pass"
    assert said("20")["si"] == pytest.approx(20 * INHG, rel=1e-5)
    assert said("5")["verdict"]["outcome"] == "fail"


@pytest.mark.parametrize(
    ("reading", "more", "says"),
    [
        ("30", {}, "No vacuum can be deeper than the air pressure here, 29.9 inHg (101 kPa)."),
        ("26", {"altitude": "5000 ft"}, "No vacuum can be deeper than the air pressure here"),
        ("-1", {"reference": "absolute"}, "An absolute pressure cannot be below zero."),
        ("20", {"low": None}, "There is no limit yet: choose the car, or give its figure."),
        ("20", {"altitude": "90000 ft"}, "The altitude of this place: expected"),
    ],
)
def test_what_cannot_be_is_refused(reading: str, more: dict[str, Any], says: str) -> None:
    assert said(reading, **more)["error"].startswith(says)
