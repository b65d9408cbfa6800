"""The reason in slots: whole lines, worked through a job."""

import pytest
from tests.calc.isolation.jobs import case_of
from tests.calc.isolation.networks import Json, check, fault, network, result

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.decide import decide
from baycalc.isolation.report.explanation import Reason, reason_for

CODE = {"code": "P0410", "state": "stored"}
FOUND = [CODE, result("safe", False), result("relay-swap", False), result("pump-feed")]


def reason(model: Model, *events: Json) -> Reason:
    case = case_of(model, list(events))
    return reason_for(case, decide(case))


@pytest.fixture
def two() -> Model:
    """Two faults equally often, 60 minutes and 40 each; a test of 5 finds the first."""
    test = check("t", 5, {"a": 0.9}, false_alarm=0.1, setup="up")
    test["observations"][0] |= {"says": "Does it hold?", "normal": "yes"}
    test["observations"][0]["bands"] = [
        {"id": "abnormal", "says": "no", "shows": {"a": 0.9}, "false_alarm": 0.1}
    ]
    for name in ("shows", "false_alarm"):
        del test["observations"][0][name]
    data = network(
        [fault("a", 1, 60, 40, short="Valve leaks"), fault("b", 1, 60, 40)],
        [test],
        base=1e-9,
        setups={"up": {"minutes": 3, "wait": 60}},
        recheck_minutes=10,
        currency="$",
    )
    return Model(from_data(data))


def test_a_test_in_slots_by_hand(two):
    """P(no) = .5 x .91 + .5 x .1 = .505; then a has .455/.505 = .901, else b .45/.495 = .909."""
    assert reason(two) == Reason(
        headline="Next: Test t",
        why="Tells “Valve leaks” (50\u00a0%) from “b is bad” (50\u00a0%).",
        time="5\u00a0min + 3\u00a0min to get there, after 1\u00a0h of standing",
        if_bad="Does it hold? No. Then “Valve leaks” 90\u00a0%.",
        if_good="Does it hold? Yes. Then “b is bad” 91\u00a0%.",
        figures=(
            "Does it hold? Yes: 49\u00a0%; then “b is bad” 91\u00a0% instead of 50\u00a0%",
            "Does it hold? No: 51\u00a0%; then “Valve leaks” 90\u00a0% instead of 50\u00a0%",
        ),
    )


def test_a_preparation_says_what_it_is_for(pump):
    found = reason(pump, CODE, result("fuse-look", False))
    assert found.why.startswith("Comes before “Test relay-swap”. Tells “relay is bad” (")
    assert (found.if_bad, found.if_good) == ("", "")


def test_a_question_before_a_part_is_fitted(pump):
    assert reason(pump, *FOUND).why == (
        "“valve is bad” (28\u00a0%) can be the cause of “pump is bad”: test it first, or the new "
        "part may fail the same way."
    )


def test_a_repair(pump):
    found = reason(pump, *FOUND, result("valve-hold", False))
    assert found.headline == "Found: Pump is bad"
    assert found.why == "Shown: Test pump-feed: abnormal."
    assert found.time == "1\u00a0h, then 15\u00a0min to prove it"


def test_a_proof(pump):
    fitted = [*FOUND, result("valve-hold", False), {"repair": "pump"}, result("relay-swap", False)]
    found = reason(pump, *fitted)
    assert (found.headline, found.why) == ("Next: prove the repair", "Repaired: “pump is bad”.")
    assert found.figures[0].endswith("that no fault is left, before the proof")


def test_the_end(pump):
    fitted = [*FOUND, result("valve-hold", False), {"repair": "pump"}, result("relay-swap", False)]
    assert reason(pump, *fitted, {"recheck": "cured"}).why == "The repair is proven."


def test_no_fault_below_five_per_cent_is_named():
    """The test speaks of a fault of 2 % alone."""
    faults = [fault("a", 98, 60, 40), fault("b", 2, 600, 4000)]
    data = network(faults, [check("t", 1, {"b": 0.99})], base=1e-9)
    case = case_of(Model(from_data(data)), [])
    found = reason_for(case, decide(case))
    assert "b is bad" not in found.why
