"""A share of the random inputs that `make fuzz` tries, and each one that once found something."""

from typing import Any

import pytest
from tests.fuzz.calculators import fuzz_calculators

from baybook.book.pint_quantities import unit_table_data
from baycalc import api

api.install(unit_table_data())


def test_nothing_raises_and_nothing_is_no_number() -> None:
    assert fuzz_calculators(1500, seed=20261126) == []


BEYOND = "These figures lie outside what the formula can compute."


@pytest.mark.parametrize(
    ("name", "fields", "errors"),
    [
        ("fuse", {"conductor": "-1e308"},
         {"conductor": "Wire gauges go from AWG 6/0 to AWG 60, got “-1e308”."}),
        ("voltage_drop", {"feed_conductor": "-7000"},
         {"feed_conductor": "Wire gauges go from AWG 6/0 to AWG 60, got “-7000”."}),
        ("gauge", {"reading": "1e-320"}, {"": BEYOND}),
        ("vacuum_units", {"reading": "1e300 inHg"},
         {"reading": "“1e300 inHg” is too large a number."}),
        ("no_such", {}, {"": "There is no calculator “no_such” in this book."}),
    ],
)  # fmt: skip
def test_what_once_raised_is_a_sentence(
    name: str, fields: dict[str, str], errors: dict[str, str]
) -> None:
    assert api.run(name, fields) == {"errors": errors}


def test_a_hidden_choice_that_is_wrong_is_its_default() -> None:
    assert api.run("added_air", {"seen_as": "x"}) == api.run("added_air", {})


def test_a_field_that_is_no_text() -> None:
    fields: dict[str, Any] = {"reading": 5}
    assert api.run("vacuum_units", fields) == {"errors": {"reading": "Expected a text, got “5”."}}
