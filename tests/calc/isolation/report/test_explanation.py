"""The reason in one sentence with figures: whole sentences, worked through a job."""

import pytest
from tests.calc.isolation.networks import Json, check, fault, network, result

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.fault_model import from_data
from baycalc.isolation.planning.case import open_case
from baycalc.isolation.planning.decide import decide
from baycalc.isolation.report.explanation import Reason, most_telling, reason_for

CODE = {"code": "P0410", "stored": True}
FOUND = [CODE, result("safe", False), result("relay-swap", False), result("pump-feed")]


def reason(model: Model, *events: Json) -> Reason:
    case = open_case(model, list(events))
    return reason_for(case, decide(case))


@pytest.fixture
def two() -> Model:
    """Two faults equally often, 60 minutes and 40 each; a test of 5 finds the first."""
    data = network(
        [fault("a", 1, 60, 40), fault("b", 1, 60, 40)],
        [check("t", 5, {"a": 0.9}, false_alarm=0.1, setup="up")],
        base=1e-9,
        setups={"up": {"minutes": 3}},
        recheck_minutes=10,
        currency="$",
    )
    return Model(from_data(data))


def test_figures_of_a_test_by_hand(two):
    """P(shown) = .5 x .91 + .5 x .1 = .505; then a has .455/.505 = .901, else b .45/.495 = .909.

    Without the test: 110 + .5 x 110 = 165. With it 8, then 110 and another 110 in the cars that
    were judged wrongly, .5 x .1 + .5 x .09 = .095.
    """
    found = reason(two)
    assert found.minutes == 5
    assert found.setup_minutes == 3
    assert found.chance_shown == pytest.approx(0.505)
    assert found.saves == pytest.approx(165 - (8 + 110 + 0.095 * 110), abs=1e-4)
    swings = {swing.fault: swing for swing in found.swings}
    assert swings["a"].shown == pytest.approx(0.455 / 0.505, abs=1e-6)
    assert swings["b"].not_shown == pytest.approx(0.45 / 0.495, abs=1e-6)


def test_sentence_of_a_test(two):
    assert reason(two).sentence == (
        "5 minutes and 3 for the set-up; separates a is bad (50 %, 90 % if it fails) from b is "
        "bad (50 %, 91 % if it passes); saves $37 on average against repairing at once"
    )


def test_sentence_of_a_preparation(pump):
    assert reason(pump, CODE, result("fuse-look", False)).sentence == (
        "2 minutes; must come before Test relay-swap, which separates relay is bad (53 %, 99 % "
        "if it fails) from pump is bad (57 %, 88 % if it passes); saves 11 on average "
        "against repairing at once"
    )


def test_sentence_of_a_part_not_looked_for():
    first = check("safe", 2, {})
    look = check("look", 5, {"dear": 0.95}, after=["safe"])
    faults = [
        fault("dear", 5, 20, 100, sets={"P0410": 0.9}),
        fault("cheap", 1, 5, 5, sets={"P0410": 0.1}),
    ]
    codes = {"P0410": {"false_alarm": 0.001}}
    model = Model(from_data(network(faults, [look, first], codes=codes, recheck_minutes=10)))
    assert reason(model, CODE).sentence == (
        "2 minutes; must come before Test look: no test has looked yet whether dear is bad (98 %): "
        "show it before a part is bought"
    )
    assert reason(model, CODE, result("safe", False)).sentence == (
        "5 minutes; no test has looked yet whether dear is bad (98 %): show it before a part is "
        "bought"
    )


def test_sentence_of_a_repair_without_a_part():
    data = network([fault("a", 9, 20), fault("b")], [], recheck_minutes=5, elsewhere=0)
    assert reason(Model(from_data(data))).sentence == (
        "91 % for a is bad, and no test saves more than it costs; 20 minutes and no part to buy, "
        "then 5 minutes to prove it"
    )


def test_sentence_of_a_cause(pump):
    assert reason(pump, *FOUND).sentence == (
        "6 minutes; valve is bad (28 %) can be the cause of pump is bad: clear it before the "
        "part is fitted, or the new one may fail the same way"
    )


def test_sentence_of_a_knock_on(pump):
    events = [*FOUND, result("valve-hold", False), {"repair": "pump"}]
    assert reason(pump, *events).sentence == (
        "4 minutes; relay is bad (31 %) can come from pump is bad: clear it before the job is "
        "closed"
    )


def test_sentence_of_a_repair(pump):
    found = reason(pump, *FOUND, result("valve-hold", False))
    assert found.sentence == (
        "99 % for pump is bad, and no test saves more than it costs; 60 minutes and 250 for "
        "parts, then 15 minutes to prove it"
    )
    assert (found.minutes, found.price) == (60, 250)


def test_sentence_of_the_proof(two):
    found = reason(two, result("t"), {"repair": "a"})
    assert found.sentence == "10 minutes; the proof: 90 % that no fault is left"


def test_sentence_of_the_end(two):
    found = reason(two, result("t"), {"repair": "a"}, {"recheck": "cured"})
    assert found.sentence == "the repair is proven, and no cause or knock-on is left untested"


def test_sentence_of_a_cause_outside():
    data = network([fault("a", 1, 5)], [], elsewhere=8)
    assert reason(Model(from_data(data)), {"repair": "a"}, {"recheck": "not cured"}).sentence == (
        "100 % for a cause outside this procedure, and no test here pays any more"
    )


def test_the_observation_that_tells_most_is_named():
    test = check("t", 1, {"a": 0.2}, false_alarm=0.1)
    test["observations"].append(
        {"id": "b2", "shows": {"b": 0.95}, "false_alarm": 0.01, "says": "hum"}
    )
    data = network([fault("a", 1, 60), fault("b", 1, 60)], [test], base=1e-9)
    model = Model(from_data(data))
    assert most_telling(open_case(model, []), "t").observation == "b2"
    assert reason(model).sentence.startswith(
        '1 minute; separates b is bad (50 %, 99 % if "hum" fails) from a is bad (50 %, 95 % if it '
        "passes)"
    )
