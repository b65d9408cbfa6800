"""The emission warranties by two dates and the odometer."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api

NAMED = ("catalytic converter", "emission control unit", "on-board diagnostic device")
CALIFORNIA = {"certified": "california", "registered": "yes"}


# 42 USC 7541(i): 2 years or 24 000 miles; 8 years or 80 000 miles for the catalytic converter, the
# electronic emission control unit and the on-board emission diagnostic device. EPA420-F-96-020
# says the same: whichever first occurs.
@pytest.mark.parametrize(
    ("part", "delivered", "distance", "inside"),
    [
        ("other", "2024-03-01", "24000 mi", "yes"),
        ("other", "2023-02-01", "1000 mi", "no"),
        ("other", "2025-02-01", "24001 mi", "no"),
        ("other", "2018-03-01", "70000 mi", "no"),
        *[(part, "2017-03-20", "80000 mi", "yes") for part in NAMED],
        *[(part, "2017-02-20", "80000 mi", "no") for part in NAMED],
        *[(part, "2017-03-20", "80001 mi", "no") for part in NAMED],
    ],
)
def test_federal_periods(
    compute: Any, part: str, delivered: str, distance: str, inside: str
) -> None:
    found = compute(part=part, delivered=delivered, claimed="2025-03-01", distance=distance)
    assert found["inside"] == inside


# 13 CCR 2037(b)(2) and 2038(b)(2): 3 years or 50 000 miles; 13 CCR 2037(c), from memory: 7 years
# or 70 000 miles for listed parts; 13 CCR 1962 to 1962.2, from memory: 15 years or 150 000 miles.
@pytest.mark.parametrize(
    ("fields", "inside"),
    [
        ({"delivered": "2022-04-01", "distance": "49000 mi"}, "yes"),
        ({"delivered": "2022-02-01", "distance": "49000 mi"}, "no"),
        ({"delivered": "2022-04-01", "distance": "50001 mi"}, "no"),
        ({"delivered": "2018-04-01", "distance": "69000 mi", "part": "listed"}, "yes"),
        ({"delivered": "2018-02-01", "distance": "69000 mi", "part": "listed"}, "no"),
        ({"delivered": "2010-04-01", "distance": "149000 mi", "low_class": "yes"}, "yes"),
        ({"delivered": "2010-02-01", "distance": "149000 mi", "low_class": "yes"}, "no"),
        # The federal period of a catalyst is the longer one, in California too.
        ({"delivered": "2018-04-01", "distance": "79000 mi", "part": NAMED[0]}, "yes"),
    ],
)
def test_california(compute: Any, fields: dict[str, str], inside: str) -> None:
    assert compute(claimed="2025-03-01", **CALIFORNIA, **fields)["inside"] == inside


@pytest.mark.parametrize(
    ("changes", "inside"),
    [
        ({"certified": "federal"}, "no"),
        ({"certified": "california", "registered": "no"}, "no"),
        ({"certified": "california", "registered": "unknown"}, "not sure"),
        ({"certified": "unknown", "registered": "yes"}, "not sure"),
        ({"certified": "unknown", "registered": "unknown"}, "not sure"),
    ],
)
def test_not_sure_is_an_answer(compute: Any, changes: dict[str, str], inside: str) -> None:
    """At 30 months only the period of California would hold."""
    found = compute(delivered="2022-09-01", claimed="2025-03-01", distance="20000 mi", **changes)
    assert found["inside"] == inside
    assert ("california" in found) == (inside == "not sure")
    if inside == "not sure":
        assert found["california"].endswith("inside, if it holds for this car")


@pytest.mark.parametrize(
    ("claimed", "inside"),
    [("2025-02-27", "yes"), ("2025-03-01", "not sure"), ("2025-03-03", "no")],
)
def test_two_years_by_the_calendar(compute: Any, claimed: str, inside: str) -> None:
    """2024 has a 29 February: two calendar years are 731 days, and not yet over on the last."""
    found = compute(delivered="2023-03-01", claimed=claimed, distance="1 mi")
    assert found["inside"] == inside
    assert found["age_limit"] == 731 * 86400


def test_the_odometer_may_be_off_by_its_error_and_no_more(compute: Any) -> None:
    """A bound of 500 mi, evenly likely within (JCGM 100, 4.3.7), has 289 mi: twice that is 577."""
    fields = {"delivered": "2024-03-01", "claimed": "2025-03-01", "distance_error": "500 mi"}
    assert compute(distance="23420 mi", **fields)["inside"] == "yes"
    assert compute(distance="23430 mi", **fields)["inside"] == "not sure"


def test_days_are_shown_where_years_would_hide_the_difference() -> None:
    answer = api.run("warranty", {"age_from": "age", "age": "731 d", "distance": "1 mi"})
    assert answer["results"]["inside"]["us"] == "not sure"
    assert answer["results"]["age_verdict"]["us"].startswith("Reading 731 d, limit at most 730 d")


def test_a_car_of_29_february(compute: Any) -> None:
    assert compute(delivered="2024-02-29")["age_limit"] == 731 * 86400
    found = compute(delivered="2016-02-29", claimed="2023-06-01", part=NAMED[0])
    assert found["age_limit"] == 2922 * 86400


@pytest.mark.parametrize(
    ("fields", "federal"),
    [
        ({"delivered": "2022-11-01"}, "2 years or 24 000 miles: outside by age"),
        ({"distance": "25000 mi"}, "2 years or 24 000 miles: outside by distance"),
        (
            {"delivered": "2022-11-01", "distance": "25000 mi"},
            "2 years or 24 000 miles: outside by age and distance",
        ),
        (
            {"age_from": "age", "age": "23 months", "age_error": "2 months"},
            "2 years or 24 000 miles: too close to call",
        ),
        ({}, "2 years or 24 000 miles: inside"),
    ],
)
def test_what_is_said(compute: Any, fields: dict[str, str], federal: str) -> None:
    assert compute(**fields)["federal"] == federal


def test_what_is_left(compute: Any) -> None:
    found = compute(age_from="age", age="1 years", distance="20000 mi")
    assert found["age_left"] == pytest.approx(365.25 * 86400)
    assert found["distance_left"] == pytest.approx(4000 * 1609.344)
    assert compute(delivered="2020-01-01")["age_left"] == 0


def test_too_close_says_what_settles_it() -> None:
    fields = {"age_from": "age", "age": "23 months", "age_error": "2 months"}
    answer = api.run("warranty", fields)
    assert answer["results"]["age_verdict"]["advice"] == (
        "look up the date of first delivery in the papers of the vehicle"
    )


@pytest.mark.parametrize(("part", "told"), [("other", True), ("listed", True), (NAMED[0], False)])
def test_the_named_parts_are_a_remark_for_the_others(part: str, told: bool) -> None:
    notes = [note["text"] for note in api.run("warranty", {"part": part})["notes"]]
    assert "other countries differ" in notes[0]
    assert any("The federal period of 8 years" in note for note in notes) is told


def test_refusals() -> None:
    date_told = "Expected a date as year-month-day, such as 2024-05-20."
    assert api.run("warranty", {"delivered": "May 2024"})["errors"] == {"delivered": date_told}
    assert api.run("warranty", {"claimed": "9999-01-01"})["errors"] == {"claimed": date_told}
    assert api.run("warranty", {"claimed": "2024-01-01"})["errors"] == {
        "claimed": "The claim cannot lie before the first delivery."
    }
    assert api.run("warranty", {"distance": "-5 mi"})["errors"] == {
        "distance": "Expected at least 0 mi, got -5 mi."
    }


@given(st.integers(0, 6000), st.integers(1, 900), st.floats(0, 1e5))
def test_older_never_comes_back_inside(compute: Any, days: int, more: int, miles: float) -> None:
    order = ["yes", "not sure", "no"]
    claimed = date(2025, 11, 26)
    young, old = (
        compute(
            delivered=(claimed - timedelta(days=age)).isoformat(), claimed=claimed.isoformat(),
            distance=f"{miles!r} mi", certified="unknown", registered="unknown",
        )["inside"]
        for age in (days, days + more)
    )  # fmt: skip
    assert order.index(old) >= order.index(young)
