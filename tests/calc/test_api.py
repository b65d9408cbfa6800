"""The interface: plain JSON in, plain JSON out, and nothing that crashes the worker."""

import json
import math
from dataclasses import replace
from typing import Any

import pytest
from tests.calculator_examples import EXAMPLES

from baybook.book.pint_quantities import unit_table_data
from baycalc import api
from baycalc.forms.declare import Answer, Calculator
from baycalc.quantities import units

api.install(unit_table_data())


def call(**request: Any) -> Any:
    return json.loads(api.call(json.dumps(request)))


def test_names_are_sorted_and_all_there() -> None:
    assert api.names() == sorted(api.names())
    assert {"vacuum_units", "vacuum_hold", "fuse"} <= set(api.names())


def test_an_unknown_name() -> None:
    with pytest.raises(KeyError):
        api.describe("no_such_calculator")


def test_the_table_may_come_as_json() -> None:
    api.install(json.dumps(unit_table_data()))
    assert units.installed().parse("pressure", "1 bar") == 1e5


def test_run_by_message_is_run() -> None:
    fields = {"reading": "20 inHg", "altitude": "1600 m"}
    assert call(method="run", name="vacuum_units", fields=fields) == api.run("vacuum_units", fields)


def test_an_answer_of_vacuum_units() -> None:
    answer = call(
        method="run",
        name="vacuum_units",
        fields={"reading": "20 inHg", "reference": "vacuum", "altitude": "1600 m"},
    )
    assert answer["results"]["greatest"] == {
        "si": pytest.approx(83527.7, abs=0.2),
        "us": "24.67 inHg",
        "metric": "83.53 kPa",
    }
    assert answer["results"]["share"]["us"] == "81.1\u202f%"
    assert answer["results"]["gauge"]["all"] == [
        "−20.00 inHg",
        "−67.73 kPa",
        "−508.0 mmHg",
        "−677.3 mbar",
        "−9.823 psi",
        "−271.9 inH₂O",
        "−67728 Pa",
        "−0.6773 bar",
    ]
    assert answer["links"] == [
        {
            "to": "vacuum_hold",
            "label": "Hold test from this vacuum",
            "title": "Vacuum hold test",
            "fields": {
                "start": "20.0",
                "start.unit": "inHg",
                "barometer_from": "altitude",
                "altitude": "5249.34",
                "altitude.unit": "ft",
                "barometer": "29.92",
                "barometer.unit": "inHg",
            },
        }
    ]


def test_errors_come_instead_of_results() -> None:
    assert api.run("vacuum_units", {"reading": "26 inHg", "altitude": "1600 m"}) == {
        "errors": {
            "reading": "No vacuum can be deeper than the air pressure here, 24.67 inHg (83.53 "
            "kPa): check the reading, the unit and the altitude."
        }
    }


@pytest.mark.parametrize("error", [OverflowError, ZeroDivisionError])
def test_what_a_formula_cannot_compute(
    error: type[Exception], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(**_: object) -> Answer:
        raise error

    broken: Calculator = replace(api.describe("vacuum_units"), compute=fails)
    monkeypatch.setitem(api._calculators, "vacuum_units", broken)
    assert api.run("vacuum_units", {}) == {
        "errors": {"": "These figures lie outside what the formula can compute."}
    }


def judged(**changes: Any) -> Any:
    request: dict[str, Any] = {
        "method": "judge",
        "kind": "pressure",
        "reading": "19",
        "unit": "inHg",
        "units": ["inHg", "kPa"],
        "low": 18 * 3386.389,
        "high": None,
        "gauge": {"span": 30 * 3386.389, "grade": "B", "resolution": 0.5 * 3386.389},
    }
    return call(**(request | changes))


def test_a_reading_of_a_procedure() -> None:
    answer = judged()
    assert answer["si"] == pytest.approx(19 * 3386.389, rel=1e-6)
    assert answer["verdict"]["outcome"] == "pass"
    assert "limit at least 18.0 inHg" in answer["verdict"]["us"]
    assert "limit at least 61.0 kPa" in answer["verdict"]["metric"]
    abnormal, normal = answer["likelihood"]
    assert normal == 1.0
    assert 0 < abnormal < 0.01


@pytest.mark.parametrize(
    ("reading", "outcome"),
    [("17.1", "fail"), ("17,8", "too close to call"), ("18.9 inHg", "pass"), ("64 kPa", "pass")],
)
def test_readings_are_judged(reading: str, outcome: str) -> None:
    assert judged(reading=reading)["verdict"]["outcome"] == outcome


@pytest.mark.parametrize(
    ("reading", "sentence"),
    [
        ("", "Missing: type a number."),
        ("many", "“many” is not a number."),
        ("12 V", "“V” is a unit of voltage; expected pressure: inHg, kPa, mmHg, mbar, hPa, psi, "
         "inH2O, mmH2O."),
        ("inf", "“inf” is not a finite number."),
    ],
)  # fmt: skip
def test_bad_readings(reading: str, sentence: str) -> None:
    assert judged(reading=reading) == {"error": sentence}


@pytest.mark.parametrize("name", api.names())
def test_answers_are_plain_json(name: str) -> None:
    for fields in EXAMPLES[name]:
        answer = api.run(name, fields)
        assert json.loads(json.dumps(answer, allow_nan=False)) == answer


def test_units_commute() -> None:
    """The same figures typed in other units give the same answer to 1e-9."""
    table = units.installed()
    for name in api.names():
        calculator = api.describe(name)
        plain = api.run(name, {})["results"]
        for entry in calculator.inputs:
            if not hasattr(entry, "units") or entry.default is None or "AWG" in entry.units:
                continue
            si = table.parse(entry.kind, entry.default)
            for unit in entry.units:
                typed = repr(table.unit(entry.kind, unit).from_si(si))
                again = api.run(name, {entry.id: typed, f"{entry.id}.unit": unit})["results"]
                for result, written in plain.items():
                    known, found = written["si"], again[result]["si"]
                    if isinstance(known, float) and not isinstance(known, bool):
                        assert math.isclose(found, known, rel_tol=1e-9, abs_tol=1e-12), (
                            name,
                            entry.id,
                            unit,
                            result,
                        )
                    else:
                        assert found == known, (name, entry.id, unit, result)


def test_too_close_says_what_settles_it() -> None:
    settle = judged(reading="17,8")["verdict"]["settle"]
    assert settle[0] == {
        "text": "Read it again, with the needle or the figure at rest.",
        "note": "",
    }
    assert len(settle) == 2
    assert judged(reading="20")["verdict"]["settle"] == []


def test_no_limit_yet() -> None:
    told = "There is no limit yet: choose the car, or give its figure."
    assert judged(low=None, high=None) == {"error": told}


def test_a_grade_that_there_is_not() -> None:
    told = judged(own_gauge={"grade": "Z"})["error"]
    assert told.startswith("Grade of your gauge: expected one of 4A, 3A")


def test_a_request_for_what_is_not_there() -> None:
    assert call(method="none") == {"error": "There is no way to answer “{'method': 'none'}”."}
