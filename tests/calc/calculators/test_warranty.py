"""The federal emission warranty by age and distance."""

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from baycalc import api

NAMED = ("catalytic converter", "emission control unit", "on-board diagnostic device")


# 42 USC 7541(i): 2 years or 24 000 miles; 8 years or 80 000 miles for the catalytic converter, the
# electronic emission control unit and the on-board emission diagnostic device. EPA420-F-96-020
# says the same: whichever first occurs.
@pytest.mark.parametrize(
    ("part", "age", "distance", "inside"),
    [
        ("other", "2 years", "24000 mi", True),
        ("other", "2.01 years", "1000 mi", False),
        ("other", "1 month", "24001 mi", False),
        ("other", "7 years", "70000 mi", False),
        *[(part, "8 years", "80000 mi", True) for part in NAMED],
        *[(part, "8.01 years", "80000 mi", False) for part in NAMED],
        *[(part, "8 years", "80001 mi", False) for part in NAMED],
    ],
)
def test_periods(compute: Any, part: str, age: str, distance: str, inside: bool) -> None:
    assert compute(part=part, age=age, distance=distance)["inside"] is inside


@pytest.mark.parametrize(
    ("fields", "finding"),
    [
        ({"age": "3 years"}, "Outside by age: whichever comes first ends the warranty."),
        ({"distance": "25000 mi"}, "Outside by distance: whichever comes first ends the warranty."),
        (
            {"age": "3 years", "distance": "25000 mi"},
            "Outside by age and distance: whichever comes first ends the warranty.",
        ),
        (
            {"age": "23 months", "age_error": "2 months"},
            "Too close to call: ask the dealer, who has the date of first delivery.",
        ),
        (
            {},
            "Inside: a defect of this part is for the maker to repair. Send the owner to a dealer "
            "before you charge for it.",
        ),
    ],
)
def test_findings(compute: Any, fields: dict[str, str], finding: str) -> None:
    assert compute(**fields)["finding"] == finding


def test_what_is_left(compute: Any) -> None:
    found = compute(age="1 years", distance="20000 mi")
    assert found["age_left"] == pytest.approx(365.25 * 86400)
    assert found["distance_left"] == pytest.approx(4000 * 1609.344)
    assert compute(age="3 years")["age_left"] == 0


def test_too_close_says_what_settles_it() -> None:
    answer = api.run("warranty", {"age": "23 months", "age_error": "2 months"})
    assert answer["results"]["age_verdict"]["advice"] == (
        "look up the date of first delivery in the papers of the vehicle"
    )


def test_other_places_differ() -> None:
    told = [note["text"] for note in api.run("warranty", {})["notes"]]
    assert "some states differ" in told[0]


def test_refusals() -> None:
    assert api.run("warranty", {"distance": "-5 mi", "part": "tyre"}) == {
        "errors": {
            "distance": "Expected at least 0 mi, got -5 mi.",
            "part": "Expected one of other, catalytic converter, emission control unit, on-board "
            "diagnostic device; got tyre.",
        }
    }


@given(st.floats(0, 60), st.floats(0, 900000))
def test_units_commute(compute: Any, years: float, miles: float) -> None:
    assume(abs(years - 2) > 1e-6 and abs(miles - 24000) > 1e-3)
    one = compute(age=f"{years!r} years", distance=f"{miles!r} mi")
    other = compute(age=f"{years * 12!r} months", distance=f"{miles * 1.609344!r} km")
    for name, value in one.items():
        same = pytest.approx(value, rel=1e-9, abs=1e-3) if isinstance(value, float) else value
        assert other[name] == same


@given(st.sampled_from(("other", *NAMED)), st.floats(0, 20), st.floats(0, 2), st.floats(0, 1e5))
def test_older_never_comes_back_inside(
    compute: Any, part: str, years: float, more: float, miles: float
) -> None:
    young = compute(part=part, age=f"{years!r} years", distance=f"{miles!r} mi")
    old = compute(part=part, age=f"{years + more!r} years", distance=f"{miles!r} mi")
    assert young["inside"] or not old["inside"]
