"""Repairing without a test: the order of chance over cost, against worked cases."""

from itertools import permutations
from random import Random

import pytest
from tests.calc.isolation.networks import Json, fault, network, random_procedure

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.case import open_case
from baycalc.isolation.planning.problem import View
from baycalc.isolation.planning.repair_order import costs_by_set, order_of, repair_only

ALONE = 1e-9
"""`base` so small that two faults at once hardly count: the worked cases have one fault."""


def causes(
    chances: list[float], costs: list[float], recheck: float = 0.0
) -> tuple[View, list[float]]:
    """Causes of which one is there, each with its chance and the cost of checking it."""
    faults = [
        fault(f"cause-{number}", chance, cost)
        for number, (chance, cost) in enumerate(zip(chances, costs, strict=True), start=1)
    ]
    return one_of(faults, recheck)


def one_of(faults: list[Json], recheck: float) -> tuple[View, list[float]]:
    """Faults of which hardly ever two are there."""
    data = network(faults, [], base=ALONE, recheck_minutes=recheck)
    problem = open_case(Model(from_data(data)), []).problem
    return problem.view(0), problem.weights


def expected(view: View, weights: list[float], order: list[int]) -> float:
    return sum(w * c for w, c in zip(weights, costs_by_set(view, order), strict=True))


def test_three_causes_by_hand():
    """p = .5 .3 .2, c = 4 1 2: order 2, 1, 3 costs 4.2 and 1, 2, 3 costs 4.9.

    Computed by hand: 1 + .7 x 4 + .2 x 2, and 4 + .5 x 1 + .2 x 2.
    """
    view, weights = causes([0.5, 0.3, 0.2], [4, 1, 2])
    assert order_of(view, weights) == [1, 0, 2]
    assert repair_only(view, weights)[0] == pytest.approx(4.2, abs=1e-7)
    assert expected(view, weights, [0, 1, 2]) == pytest.approx(4.9, abs=1e-7)


@pytest.mark.parametrize(
    ("chances", "costs", "first"),
    [
        ([0.6, 0.4], [10, 10], 0),
        ([0.6, 0.4], [30, 10], 1),
        ([0.2, 0.8], [1, 10], 0),
        ([0.2, 0.8], [5, 10], 1),
    ],
)
def test_two_causes(chances, costs, first):
    """Check cause 1 first when p1/C1 is at least p2/C2 (textbook exercise)."""
    view, weights = causes(chances, costs)
    assert order_of(view, weights)[0] == first
    assert (chances[0] / costs[0] >= chances[1] / costs[1]) == (first == 0)


@pytest.mark.parametrize("seed", range(20))
def test_no_order_is_cheaper_for_one_fault(seed):
    """Chance over cost is the best order for one fault (Kadane and Simon): all are tried."""
    rng = Random(seed)
    chances = [rng.uniform(0.05, 1.0) for _ in range(5)]
    view, weights = causes(chances, [rng.uniform(1, 50) for _ in range(5)], recheck=4.0)
    best = min(expected(view, weights, list(order)) for order in permutations(range(5)))
    assert expected(view, weights, order_of(view, weights)) == pytest.approx(best, rel=1e-9)


def test_two_sure_faults_are_proven_once():
    """Both faults are there: both are repaired, and one proof of 20 is enough."""
    data = network(
        [
            fault("cause", 1, 10, leads_to={"effect": {"chance": 1.0}}),
            fault("effect", 1e-9, 30),
        ],
        [],
        recheck_minutes=20.0,
        rate=2.0,
    )
    problem = open_case(Model(from_data(data)), []).problem
    cost, minutes = repair_only(problem.view(0), problem.weights)
    assert minutes == pytest.approx(10 + 30 + 20, rel=1e-6)
    assert cost == pytest.approx(2.0 * minutes)


@pytest.mark.parametrize("seed", range(20))
def test_left_out_proofs_never_cost_more_than_a_proof_each_time(seed):
    data: Json = random_procedure(Random(seed), faults=6, base=0.5)
    problem = open_case(Model(from_data(data)), []).problem
    view, weights = problem.view(0), problem.weights
    each_time = expected(view, weights, order_of(view, weights))
    assert repair_only(view, weights)[0] <= each_time + 1e-9


def test_a_fault_that_two_repairs_clear_is_cleared_by_the_first():
    """Shares 3, 4 and 3 of 10, repairs of 1, 2 and 100, proof 1; the first clears two faults.

    By hand: repair 1 (1), proof of all (1), then repair 2 (2) and its proof (1) for the 3 of 10
    that are left; repair 3 is left out, for its fault is cleared by then.
    1 + 1 + 0.3 x 3 = 2.9.
    """
    faults = [
        fault("whole", 3, 1, repair={"minutes": 1, "price": 0, "cures": ["piece"]}),
        fault("piece", 4, 100),
        fault("other", 3, 2),
    ]
    view, weights = one_of(faults, recheck=1.0)
    assert order_of(view, weights) == [0, 2]
    assert repair_only(view, weights)[0] / sum(weights) == pytest.approx(2.9, abs=1e-6)


def test_a_later_repair_does_not_take_over_what_the_first_has_cleared():
    """Two assemblies share a piece; a car with only the piece is in order after the first."""
    faults = [
        fault("one", 2, 1, repair={"minutes": 1, "price": 0, "cures": ["piece"]}),
        fault("two", 3, 10, repair={"minutes": 10, "price": 0, "cures": ["piece"]}),
        fault("piece", 5, 100),
    ]
    view, weights = one_of(faults, recheck=1.0)
    assert order_of(view, weights) == [0, 1]
    # 1 + 1, then 10 + 1 for the 3 of 10 that had the second.
    assert repair_only(view, weights)[0] / sum(weights) == pytest.approx(5.3, abs=1e-6)
