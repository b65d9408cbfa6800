"""What a gauge can prove, against ASME B40.100, the GUM and ILAC-G8."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api

INHG = 3386.388640341


# ASME B40.100 grade A, 100 psi: 2 psi in the outer quarters, 1 psi in the middle half (published);
# grade B 3-2-3 (from memory).
@pytest.mark.parametrize(
    ("grade", "reading", "error"),
    [("A", 10, 2), ("A", 50, 1), ("A", 90, 2), ("B", 10, 3), ("B", 50, 2), ("1A", 50, 1)],
)
def test_greatest_error_by_grade(compute: Any, grade: str, reading: float, error: float) -> None:
    found = compute(
        gauge_span="100 psi", gauge_grade=grade, reading=f"{reading} psi", limit="5 psi"
    )
    assert found["greatest_error"] / 6894.757 == pytest.approx(error, rel=1e-6)


def test_uncertainty_by_the_gum(compute: Any) -> None:
    # GUM 4.3.7 and F.2.2.1: 0.6 inHg/sqrt 3 and 0.5 inHg/(2 sqrt 3), added in squares.
    found = compute(reading="19 inHg")
    expected = math.sqrt(0.6**2 / 3 + 0.5**2 / 12)
    assert found["standard_uncertainty"] / INHG == pytest.approx(expected, rel=1e-9)
    assert found["expanded_uncertainty"] == pytest.approx(2 * found["standard_uncertainty"])


def test_acceptance_limit_of_ilac_g8(compute: Any) -> None:
    # ILAC-G8:09/2019: acceptance limit = tolerance limit - w with w = U at k = 2. U = 0.001 of a
    # limit of 0.003 leaves 0.002, here in inHg on a gauge whose own uncertainty is 0.0005.
    found = compute(
        gauge_span="1 inHg", gauge_grade="none", gauge_resolution="0 Pa",
        extra_uncertainty="0.0005 inHg", reading="0.0017 inHg", limit="0.003 inHg",
        limit_is="greatest",
    )  # fmt: skip
    assert found["proves_from"] / INHG == pytest.approx(0.002, rel=1e-9)
    assert found["verdict"] == "pass"


@given(st.just(0.0) | st.floats(1e-6, 30), st.sampled_from(["A", "B", "D", "2A", "none"]))
def test_the_least_difference_is_twice_its_uncertainty(
    compute: Any, reading: float, grade: str
) -> None:
    found = compute(reading=f"{reading} inHg", gauge_grade=grade)
    apart = found["smallest_difference"] / INHG
    percent = {"A": (2, 1), "B": (3, 2), "D": (5, 5), "2A": (0.5, 0.5), "none": (0, 0)}[grade]
    most, least = (0.3 * each / math.sqrt(3) for each in percent)
    steps = math.sqrt(2) * 0.5 / (2 * math.sqrt(3))
    # The errors of grade at both places have at least this and at most that uncertainty.
    low = math.hypot(least * math.sqrt(2 * apart / 30), steps)
    high = math.hypot(math.sqrt(2 * apart / 30) * most + (most - least), steps)
    assert 2 * low * (1 - 1e-6) <= apart <= 2 * high * (1 + 1e-6)


@given(st.floats(0.1, 29.9), st.sampled_from(["least", "greatest"]))
def test_the_reading_that_proves_it_passes(compute: Any, limit: float, limit_is: str) -> None:
    found = compute(limit=f"{limit} inHg", limit_is=limit_is)
    assert found["can_prove"] is ("proves_from" in found)
    if not found["can_prove"]:
        return
    away = 1e-6 if limit_is == "least" else -1e-6
    reading = found["proves_from"] + away * INHG
    if 0 <= reading <= 30 * INHG:
        again = compute(limit=f"{limit} inHg", limit_is=limit_is, reading=f"{reading!r} Pa")
        assert again["verdict"] == "pass"


@given(st.floats(1, 50))
def test_scaling(compute: Any, factor: float) -> None:
    """A gauge with another span and the same reading on its scale is off by so much more."""
    one = compute()
    names = {"gauge_span": 30, "gauge_resolution": 0.5, "reading": 19, "limit": 18}
    other = compute(**{name: f"{value * factor / 5} inHg" for name, value in names.items()})
    for result in ("greatest_error", "standard_uncertainty", "smallest_difference", "proves_from"):
        assert other[result] == pytest.approx(one[result] * factor / 5, rel=1e-6)
    assert other["verdict"] == one["verdict"]


def test_a_better_grade_proves_more(compute: Any) -> None:
    differences = [
        compute(gauge_grade=grade, gauge_resolution="0.05 inHg")["smallest_difference"]
        for grade in ("4A", "3A", "2A", "1A", "A", "B", "C", "D")
    ]
    assert differences == sorted(differences)


def test_a_gauge_that_cannot_prove_its_limit(run: Any) -> None:
    answer = run(limit="29.8 inHg", reading="29.9 inHg", gauge_grade="D")
    assert answer["results"]["can_prove"]["us"] == "no"
    assert answer["notes"][0]["text"] == (
        "No reading on this scale can prove the limit: take another gauge."
    )


@pytest.mark.parametrize(
    ("fields", "advice"),
    [
        (
            {"reading": "18.5 inHg"},
            "A gauge of this span of grade A that can be read to 0.50 inHg (1.7 kPa) would decide.",
        ),
        (
            {"reading": "18.2 inHg", "gauge_grade": "none"},
            "A gauge of this span that can be read to 0.25 inHg (0.85 kPa) would decide.",
        ),
        (
            {"reading": "18 inHg"},
            "Use a gauge of a smaller span, or compare this one with a better gauge at the limit.",
        ),
    ],
)
def test_advice(run: Any, fields: dict[str, str], advice: str) -> None:
    verdict = run(**fields)["results"]["verdict"]
    assert verdict["outcome"] == "too close to call"
    assert verdict["advice"] == advice


def test_only_the_resolution_is_known(run: Any) -> None:
    assert run(gauge_grade="none")["notes"][0]["text"].startswith("Only the resolution is counted")
    assert run(gauge_grade="none", error_of_reading="1 %")["notes"] == []


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"reading": "31 inHg"},
            {"reading": "The scale of this gauge ends at 30.0 inHg (102 kPa)."},
        ),
        (
            {"gauge_span": "15 inH2O", "reading": "5 inH2O", "limit": "16 inH2O",
             "gauge_resolution": "1 inHg"},
            {"limit": "The scale of this gauge ends at 15.0 inH₂O (3.74 kPa)."},
        ),
        (
            {"gauge_span": "10 inH2O", "reading": "5 inH2O", "limit": "6 inH2O",
             "gauge_resolution": "1 inHg"},
            {"gauge_resolution": "The scale of this gauge ends at 10.0 inH₂O (2.49 kPa)."},
        ),
        ({"gauge_span": "0 Pa"}, {"gauge_span": "Expected at least 10 Pa, got 0 Pa."}),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("gauge", fields)["errors"] == problems


def test_a_better_gauge_does_not_settle_an_uncertainty_of_ones_own(run: Any) -> None:
    """With 1 inHg added by the user no gauge decides half an inch beside the limit."""
    fields = {"reading": "18.5 inHg", "extra_uncertainty": "1 inHg"}
    assert run(**fields)["results"]["verdict"]["advice"].startswith("Use a gauge of a smaller span")
    own = run(reading="18.5 inHg")["results"]["verdict"]["advice"]
    assert own.startswith("A gauge of this span of grade")
