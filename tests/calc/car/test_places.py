"""What a car answers to the places of a page."""

from typing import Any

import pytest

from baycalc import api
from baycalc.car.places import key_of, place

FIGURES: dict[str, dict[str, Any]] = {
    "fuse": {"says": "Fuse", "value": "40 A", "where": "under the hood"},
    "vacuum": {"says": "Vacuum", "between": ["18 inHg", "21 inHg"]},
    "least": {"says": "Pressure", "at-least": "2.0 psi"},
    "port": {"says": "Port", "where": "left"},
}


def answer(**ask: Any) -> Any:
    return place(ask, FIGURES, api.describe)


def limit(**ask: Any) -> Any:
    common = {"form": "limit", "figure": "", "low": "", "high": "", "units": ()}
    return answer(**common | {"kind": "pressure"} | ask)


def test_a_figure_in_words_of_both_systems() -> None:
    """18 inHg are 60.955 kPa by 3386.389 Pa to the inHg (NIST SP 811, B.8)."""
    found = answer(form="figure", figure="vacuum", kind="pressure")
    assert found == {
        "texts": [
            ["18 inHg", "61 kPa", "18 inHg (61 kPa)"],
            " to ",
            ["21 inHg", "71 kPa", "21 inHg (71 kPa)"],
        ]
    }
    assert answer(form="figure", figure="fuse", kind="current")["texts"] == [["40 A"] * 3]
    least = answer(form="figure", figure="least", kind="pressure")["texts"]
    assert (least[0], least[1][0]) == ("at least ", "2.0 psi")


def test_where_something_is() -> None:
    assert answer(form="where", figure="fuse") == {"texts": ["under the hood"]}
    assert answer(form="where", figure="vacuum") is None


def test_a_limit_has_its_bounds_in_si_and_the_units_of_the_reading() -> None:
    """1 psi is 6894.757 Pa (NIST SP 811, B.8)."""
    found = limit(figure="least")
    assert found["low"] == pytest.approx(2.0 * 6894.757, rel=1e-6)
    assert found["high"] is None
    assert found["units"] == ["psi", "kPa"]
    given = limit(low="vacuum.least", high="100 kPa", units=("inHg", "mbar"))
    assert given["low"] == pytest.approx(18 * 3386.389, rel=1e-6)
    assert given["high"] == pytest.approx(100e3)
    assert given["units"] == ["inHg", "mbar"]


def test_an_entry_of_a_calculator_in_both_systems() -> None:
    found = answer(form="entry", text="fuse", calculator="fuse", field="load")
    assert found == {"us": "40", "metric": "40", "unit_us": "A", "unit_metric": "A"}


@pytest.mark.parametrize(
    "ask",
    [
        {"form": "figure", "figure": "none", "kind": "current"},
        {"form": "figure", "figure": "port", "kind": ""},
        {"form": "where", "figure": "none"},
        {"form": "entry", "text": "none", "calculator": "fuse", "field": "load"},
        {"form": "entry", "text": "vacuum", "calculator": "fuse", "field": "load"},
    ],
)
def test_what_a_car_lacks_has_no_answer(ask: dict[str, Any]) -> None:
    assert place(ask, FIGURES, api.describe) is None


def test_a_limit_of_a_missing_figure_is_none_and_never_half_a_limit() -> None:
    assert limit(figure="none") is None
    assert limit(figure="port") is None
    assert limit(low="none.least", high="100 kPa") is None


def test_places_that_ask_alike_have_one_name() -> None:
    ask = {"form": "limit", "figure": "a", "low": "", "high": "", "kind": "b", "units": ("c", "d")}
    assert key_of(ask) == "limit:a:::b:c,d"
    assert "|" not in key_of(ask)
