"""Conclusions of an answer, and the headline that is the worst of them."""

from typing import Any

from baycalc import api
from baycalc.forms.conclude import conclusions, headline, is_example
from baycalc.forms.declare import Answer, Calculator
from baycalc.forms.form import YES_IS_GOOD, result, text, verdict, yes_or_no
from baycalc.measurement.decision import Limit, judge
from baycalc.quantities.kinds import AMPERES

RESULTS = (
    verdict("load", "Load", AMPERES),
    verdict("other", "Other", AMPERES, aside=True),
    yes_or_no("fits", "Fits").concludes(YES_IS_GOOD),
    yes_or_no("plain", "Plain"),
    text("inside", "Inside").concludes({"yes": "pass", "not sure": "too close to call"}),
    result("sum", "Sum", AMPERES),
)


def found(**values: Any) -> list[dict[str, Any]]:
    calculator = Calculator(
        id="orange", title="O", summary="S.", job="J", inputs=(), results=RESULTS,
        compute=lambda **_: Answer(values={}), meaning="M.", leaves_out="L.", sources=(),
    )  # fmt: skip
    return conclusions(calculator, Answer(values=values))


def test_what_concludes() -> None:
    bad = judge(9.0, 0.1, Limit(high=1.0))
    told = found(load=bad, other=bad, fits=True, plain=False, inside="not sure", sum=3.0)
    assert [(each["id"], each["outcome"], each["text"]) for each in told] == [
        ("load", "fail", "Load: fail"),
        ("fits", "pass", "Fits: yes"),
        ("inside", "too close to call", "Inside: not sure"),
    ]


def test_a_value_without_an_outcome_concludes_nothing() -> None:
    assert found(inside="perhaps", load=None) == []


def test_the_headline_is_the_worst() -> None:
    good = judge(0.5, 0.01, Limit(high=1.0))
    assert headline([]) is None
    assert headline(found(load=good, fits=True)) == {
        "outcome": "pass",
        "text": "Pass. Load: pass; Fits: yes.",
        "conclusions": ["load", "fits"],
    }
    assert headline(found(load=good, inside="not sure"))["text"] == (  # type: ignore[index]
        "Too close to call. Inside: not sure."
    )
    worst = headline(found(load=good, fits=False, inside="not sure"))
    assert worst is not None
    assert (worst["outcome"], worst["conclusions"]) == ("fail", ["fits"])


def test_an_answer_of_the_defaults_is_an_example() -> None:
    assert api.run("fuse", {})["example"].startswith("An example")
    assert api.run("fuse", {"load": "18", "length": "1.83", "length.unit": "m"})["example"] != ""
    assert api.run("fuse", {"load": "17 A"})["example"] == ""
    assert is_example({"a": 0.0, "b": None, "c": "x"}, {"a": 0.0, "b": None, "c": "x"})
    assert not is_example({"b": 1.0}, {"b": None})
