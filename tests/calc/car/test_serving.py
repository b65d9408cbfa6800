"""Which procedures serve a car, and which page is for its equipment."""

from typing import Any

import pytest

from baycalc.car.serving import difference, page_for, serves

PROCEDURE: dict[str, Any] = {
    "needs": ["pump"],
    "without": ["belt"],
    "any": [],
    "pages": [
        {"name": "work", "has": [], "not": ["banks", "sensor"]},
        {"name": "with-banks-sensor", "has": ["banks", "sensor"], "not": []},
    ],
}


@pytest.mark.parametrize(
    ("has", "found"),
    [(["pump"], True), (["pump", "other"], True), ([], False), (["pump", "belt"], False)],
)
def test_what_is_needed_and_what_must_not_be_there(has: list[str], *, found: bool) -> None:
    assert serves(PROCEDURE, has) is found


def test_one_of_several_is_enough() -> None:
    either = PROCEDURE | {"any": ["a", "b"]}
    assert serves(either, ["pump", "b"])
    assert not serves(either, ["pump"])


def test_the_page_for_exactly_this_equipment() -> None:
    assert page_for(PROCEDURE, ["pump"]) == ("work", [], [])
    assert page_for(PROCEDURE, ["pump", "sensor", "banks"]) == ("with-banks-sensor", [], [])


def test_else_the_nearest_page_with_what_differs() -> None:
    name, more, less = page_for(PROCEDURE, ["pump", "sensor"])
    assert (name, more, less) == ("work", [], ["sensor"])
    assert "leaves out oxygen sensor." in difference(more, less, {"sensor": "oxygen sensor"})
    assert "written for a car with banks and leaves out x." in difference(["banks"], ["x"], {})
    assert difference([], [], {}) == ""


def test_a_procedure_without_a_page() -> None:
    assert page_for(PROCEDURE | {"pages": []}, ["pump"]) == ("", [], [])
