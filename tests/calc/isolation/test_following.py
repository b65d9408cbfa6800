"""What a job will cost: the figure beside the next action, against the plan worked through."""

from random import Random

import pytest
from tests.calc.isolation.networks import random_procedure

from baycalc.isolation.case import open_case
from baycalc.isolation.following import to_go
from baycalc.isolation.lookahead import Search, look_for
from baycalc.isolation.model import Model
from baycalc.isolation.network import from_data
from baycalc.isolation.tree import plan_tree


@pytest.mark.parametrize("seed", range(8))
def test_close_to_the_plan_worked_through(seed):
    """One fault at a time; the tree is drawn down to one car in 2000.

    Rare branches are closed by repairs alone, so the figure errs on the dear side; tests that
    are due only because no part is bought unseen are not in it.
    """
    model = Model(from_data(random_procedure(Random(seed), 6, 8, base=1e-9)))
    problem = open_case(model, []).problem
    search = Search(problem, look_for(problem))
    move = search.moves()[0]
    cost, minutes = to_go(search, move)
    expected = plan_tree(model, [], rare=5e-4)
    assert 0.97 * expected.to_go[0] <= cost <= 1.12 * expected.to_go[0]
    assert minutes == pytest.approx(expected.to_go[1], rel=0.2)
    assert cost <= move.cost + 1e-9
