"""What a job will cost: the figure beside the next action, against the plan worked through."""

from random import Random

import pytest
from tests.calc.isolation.jobs import case_of
from tests.calc.isolation.networks import check, fault, network, random_procedure, result

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.lookahead import Horizon, Search, horizon_for
from baycalc.isolation.planning.rollout import followed, to_go
from baycalc.isolation.report.plan_tree import plan_tree

SHORT = Horizon(2, 4, 1, 0.05, 2)
"""The look-ahead of procedures as long as those of a book."""


@pytest.mark.parametrize("seed", range(8))
def test_close_to_the_plan_worked_through(seed):
    """One fault at a time; the tree is drawn down to one car in 1000.

    Rare branches are closed by repairs alone, so the figure errs on the dear side.
    """
    model = Model(from_data(random_procedure(Random(seed), 6, 8, base=1e-9)))
    problem = case_of(model, []).problem
    search = Search(problem, horizon_for(problem))
    move = followed(search, search.moves())[0]
    cost, minutes = to_go(search, move)
    expected = plan_tree(model, [], rare=1e-3).to_go
    assert 0.96 * expected.money <= cost <= 1.12 * expected.money
    assert minutes == pytest.approx(expected.minutes, rel=0.2)


@pytest.mark.parametrize("seed", range(12))
def test_moves_are_valued_anew_and_none_is_lost(seed):
    model = Model(from_data(random_procedure(Random(seed + 25), 8, 10)))
    search = Search(case_of(model, [result("t0")]).problem, SHORT)
    moves = search.moves()
    then = followed(search, moves)
    assert {(m.kind, m.number, m.step) for m in then} == {(m.kind, m.number, m.step) for m in moves}
    near = [move for move in then if move.followed]
    assert [move.cost for move in near] == sorted(move.cost for move in near)
    assert then[: len(near)] == near


def test_the_test_that_decides_comes_before_one_of_a_rare_fault():
    """The horizon effect: a look ahead of two moves puts the test of the rare fault first.

    Coil .66 and wire .33 behind a code; the coil's test decides. A test of a third fault of 1 %
    makes what follows look cheaper by a hair, at every step.
    """
    faults = [
        fault("coil", 66, 20, 60),
        fault("wire", 33, 40, 8),
        fault("sensor", 1, 30, 120),
        fault("passage", 1, 90, 0),
    ]
    tests = [
        check("sensor-answers", 3, {"sensor": 0.95}),
        check("valve-moves", 4, {"passage": 0.95}),
        check("coil-ohms", 5, {"coil": 0.97}),
        check("wire-drop", 8, {"wire": 0.97}),
    ]
    model = Model(from_data(network(faults, tests, recheck_minutes=15, base=0.01)))
    search = Search(case_of(model, []).problem, SHORT)
    first = followed(search, search.moves())[0]
    assert model.network.tests[first.number].id in ("coil-ohms", "wire-drop")
