"""Answers as plain JSON: figures in both unit systems, verdicts as sentences, links."""

from typing import Any

import pytest

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    HandOver,
    Note,
    Option,
    Quantity,
    Result,
)
from baycalc.forms.present import write_answer, write_verdict
from baycalc.measurement.decision import Limit, judge
from baycalc.quantities.kinds import NUMBER, TEMPERATURE, VACUUM


def made(**changes: Any) -> Calculator:
    """Return a small calculator of a part that does not exist."""
    parts: dict[str, Any] = {
        "id": "orange",
        "title": "Orange",
        "summary": "S.",
        "job": "J",
        "inputs": (
            Quantity(id="load", label="Load", kind="current", units=("A",), default="1 A"),
            Choice(
                id="side",
                label="Side",
                options=(Option(value="left", label="L"), Option(value="right", label="R")),
                default="left",
            ),
        ),
        "results": (
            Result(id="drop", label="Drop", kind="pressure", units=("inHg", "kPa"), digits=3),
            Result(id="wide", label="W", kind="pressure", units=("psi", "kPa", "bar"), table="t"),
            Result(id="good", label="Good", kind="flag"),
            Result(id="why", label="Why", kind="text"),
            Result(id="verdict", label="V", kind="verdict", units=("inHg", "kPa")),
            Result(id="only", label="Only", kind="current", units=("A",), digits=2),
        ),
        "compute": lambda **_: Answer(values={}),
        "meaning": "M.",
        "leaves_out": "L.",
        "sources": (),
    }
    return Calculator(**(parts | changes))


def written(calculator: Calculator, values: dict[str, Any], **typed: Any) -> dict[str, Any]:
    answer = Answer(values=values, notes=(Note("Mind.", "caution"), "Plain."), drawing="<svg/>")
    return write_answer(calculator, typed, answer, lambda _: made(id="pear", title="Pear"))


def test_figures_in_both_systems() -> None:
    found = written(made(), {"drop": 3386.389, "only": 7.5})["results"]
    assert found["drop"] == {"si": 3386.389, "us": "1.00 inHg", "metric": "3.39 kPa"}
    assert found["only"] == {"si": 7.5, "us": "7.5 A", "metric": "7.5 A"}


def test_a_column_of_a_table() -> None:
    found = written(made(), {"wide": 1e5})["results"]["wide"]
    assert found["all"] == ["14.50 psi", "100.0 kPa", "1.000 bar"]
    assert (found["us"], found["metric"]) == ("14.50 psi", "100.0 kPa")


def test_words() -> None:
    found = written(made(), {"good": True, "why": "Because."})["results"]
    assert found["good"] == {"si": True, "us": "yes", "metric": "yes"}
    assert found["why"] == {"si": "Because.", "us": "Because.", "metric": "Because."}


def test_nothing_to_say_is_left_out() -> None:
    found = written(made(), {"drop": None})
    assert found["results"] == {}
    assert found["notes"] == [
        {"signal": "caution", "text": "Mind."},
        {"signal": "", "text": "Plain."},
    ]
    assert found["drawing"] == "<svg/>"
    assert found["errors"] == {}


def test_a_verdict_shows_what_it_stands_on() -> None:
    verdict = judge(3386.389 * 0.9, 3386.389 * 0.1, Limit(high=3386.389), kind=VACUUM)
    assert write_verdict(verdict, ("inHg", "kPa")) == {
        "si": "too close to call",
        "outcome": "too close to call",
        "us": "Reading 0.900 inHg, limit at most 1.00 inHg, guard band 0.20 inHg; 84\u00a0% likely "
        "inside the limit.",
        "metric": "Reading 3.05 kPa, limit at most 3.39 kPa, guard band 0.68 kPa; 84\u00a0% likely "
        "inside the limit.",
        "conformity": pytest.approx(0.8413, abs=1e-4),
        "advice": "repeat the reading, or use a finer gauge",
    }


@pytest.mark.parametrize(
    ("reading", "limit", "text"),
    [
        (
            1.0,
            Limit(low=0.97, high=1.03),
            "limit at least 0.970 and at most 1.03, guard band 0.010;",
        ),
        (1.0, Limit(low=0.5), "over 99\u00a0% likely"),
        (1.0, Limit(low=1.5), "under 1\u00a0% likely"),
        (1.0, Limit(low=0.988), "over 99\u00a0% likely"),
    ],
)
def test_sentences_of_verdicts(reading: float, limit: Limit, text: str) -> None:
    verdict = judge(reading, 0.005, limit, kind=NUMBER)
    assert text in write_verdict(verdict, ("1",))["us"]


def test_a_verdict_of_temperature_has_a_difference_as_guard_band() -> None:
    verdict = judge(300.0, 1.0, Limit(high=310.0), kind=TEMPERATURE)
    assert "guard band 3.6 °F" in write_verdict(verdict, ("°F", "°C"))["us"]
    assert "guard band 2.0 °C" in write_verdict(verdict, ("°F", "°C"))["metric"]


def test_links_carry_figures_and_choices() -> None:
    hand = HandOver(
        to="pear", label="To the pear", carries={"load": "only"}, sets={"side": "right"}
    )
    found = written(made(hands_over=(hand,)), {"only": 2.5})["links"]
    assert found == [
        {
            "to": "pear",
            "label": "To the pear",
            "title": "Pear",
            "fields": {"side": "right", "load": "2.5", "load.unit": "A"},
        }
    ]


def test_a_link_without_its_figure_is_no_link() -> None:
    hand = HandOver(to="pear", label="To the pear", carries={"load": "only"})
    assert written(made(hands_over=(hand,)), {"only": None})["links"] == []


def test_an_empty_input_is_not_carried() -> None:
    hand = HandOver(to="pear", label="P", carries={"load": "load", "side": "side"})
    found = written(made(hands_over=(hand,)), {}, load=None, side="right")["links"]
    assert found[0]["fields"] == {"side": "right"}
