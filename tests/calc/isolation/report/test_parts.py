"""What the drawing says of each part, against the sets of faults counted by hand."""

import pytest
from tests.calc.isolation.jobs import case_of
from tests.calc.isolation.networks import check, fault, network, result

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.decide import decide
from baycalc.isolation.report.parts import parts


@pytest.fixture
def model() -> Model:
    """A pump that fails in two ways, and a fuse."""
    faults = [
        fault("worn", 3, sets={"P0410": 0.9}) | {"part": "pump"},
        fault("jammed", 1, sets={"P0410": 0.9}) | {"part": "pump"},
        fault("blown", 4, sets={"P0410": 0.9}) | {"part": "fuse"},
    ]
    tests = [
        check("spin", 5, {"worn": 0.9}),
        check("turn", 9, {"jammed": 0.9}),
        check("look", 2, {"blown": 0.95}),
    ]
    return Model(from_data(network(faults, tests, codes={"P0410": {"false_alarm": 0.001}})))


def said(model: Model, *history):
    case = case_of(model, [{"code": "P0410", "state": "stored"}, *history])
    action = decide(case).action
    return case, action, {row["part"]: row for row in parts(case, action)}


def test_a_part_has_the_share_of_any_of_its_faults(model):
    case, _, rows = said(model)
    belief = case.known.belief
    sets = zip(belief.weights, belief.model.sets.members, strict=True)
    any_of_pump = sum(weight for weight, members in sets if {0, 1} & set(members))
    assert rows["pump"]["share"] == pytest.approx(any_of_pump)
    shares = case.suspects.marginals
    assert rows["pump"]["share"] < shares["worn"] + shares["jammed"]  # both can be there
    assert rows["fuse"]["share"] == pytest.approx(shares["blown"])


def test_the_most_suspect_and_what_is_looked_at_now(model):
    _, action, rows = said(model)
    assert action.id == "look"
    assert (rows["fuse"]["outline"], rows["pump"]["outline"]) in (
        ("most", "suspect"),
        ("suspect", "most"),
    )
    assert rows["fuse"]["here"]
    assert rows["fuse"]["text"].startswith("now ")
    assert not rows["pump"]["here"]


def test_a_part_is_tested_once_all_of_its_faults_were_looked_for(model):
    _, _, rows = said(model, result("look", False), result("spin", False))
    assert rows["fuse"]["tested"]
    assert rows["fuse"]["text"].startswith("tested")
    assert not rows["pump"]["tested"]
    _, _, rows = said(model, result("spin", False), result("turn", False))
    assert rows["pump"]["tested"]
