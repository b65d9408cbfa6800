"""What may be done at a point of the plan: no part is bought unseen, none that a test cleared."""

from math import sumprod
from operator import mul

from baycalc.isolation.model.bayes_net import Key
from baycalc.isolation.planning.confirmation import SHOWN_WELL
from baycalc.isolation.planning.point import Point
from baycalc.isolation.planning.problem import PlanningProblem, View
from baycalc.isolation.planning.repair_order import order_of, repair_only
from baycalc.isolation.planning.state import Cost
from baycalc.isolation.planning.steps import Step

CLEARED = 0.7
"""Share of belief from which a part is bought though the test of its fault was normal [-]; common
practice, no source."""


SELDOM = 0.03
"""Share of the cars below which a look that is due before a repair is not counted [-]."""


def likeliest(problem: PlanningProblem, action: int, weights: list[float], gone: int = 0) -> int:
    """Give the likeliest fault that a repair clears.

    Parameters
    ----------
    problem : Problem
        The decision.
    action : int
        Number of a fault with that repair [-].
    weights : list of float
        Weight of each set [-].
    gone : int
        Mask of the faults repaired already [-].
    """
    if len(problem.cures[action]) == 1:
        return action
    left = [fault for fault in problem.cures[action] if not gone >> fault & 1]
    same = [fault for fault in left if problem.cured[fault] == problem.cured[action]]
    rows = problem.rows_with
    return max(
        same or left or [action], key=lambda fault: sum([weights[row] for row in rows[fault]])
    )


def is_cleared(problem: PlanningProblem, state: Point, weights: list[float], action: int) -> bool:
    """Tell whether a part may not be bought, as the tests of all that it cures were normal.

    Notes
    -----
    A fault that no test shows is never cleared, nor any where no cause can lie outside. Above
    `CLEARED` of the belief the part is bought all the same: then it is the test that is doubted.
    """
    if problem.price[action] <= 0.0 or not problem.outside:
        return False
    cured = problem.cured[action] & ~state.gone
    possible = 0.0
    open_to_it = whole = 0.0
    for mask, weight in zip(problem.masks, weights, strict=True):
        whole += weight
        here = mask & cured
        if here:
            possible += weight
            if here & ~state.cleared:
                open_to_it += weight
    return open_to_it < (1.0 - CLEARED) * possible and possible < CLEARED * whole


def looks_before_buying(
    problem: PlanningProblem, state: Point, weights: list[float], action: int
) -> list[Step]:
    """List the tests of which one is due before a part is bought.

    Parameters
    ----------
    problem : Problem
        The decision.
    state : Point
        The point of the plan.
    weights : list of float
        Weight of each set [-].
    action : int
        Number of a fault with the repair [-].

    Returns
    -------
    steps : list of Step
        Cheapest first; empty where a test has looked for the fault, where none can tell it from
        the others, where no part is bought, or where looking costs more than the repair.
    """
    if problem.price[action] <= 0.0 or problem.cured[action] & state.looked:
        return []
    fault = likeliest(problem, action, weights, state.gone)
    limit = problem.cost[action] + problem.recheck_cost
    steps: dict[Step, None] = {}
    clears = False
    for key, number in problem.looks[fault]:
        step = problem.steps.to(number, state.stand, state.met, state.open)
        if step is None or step.cost >= limit:
            continue
        steps[step] = None
        clears = clears or can_clear(problem.view(state.gone), weights, fault, key)
    return sorted(steps, key=lambda step: step.cost) if clears else []


def can_clear(view: View, weights: list[float], fault: int, key: Key) -> bool:
    """Tell whether an observation would be normal without a fault, in spite of all others."""
    others = list(map(mul, weights, view.without(fault)))
    return bool(sumprod(others, view.normal(key)) >= SHOWN_WELL * sum(others))


def closing_cost(
    problem: PlanningProblem, point: Point, weights: list[float], looks_left: int
) -> Cost:
    """Cost of going on without planning: the looks that are due, and repairs, likeliest first.

    Parameters
    ----------
    problem : Problem
        The decision.
    point : Point
        The point of the plan.
    weights : list of float
        Weight of each set [-].
    looks_left : int
        How many looks in a row are counted [-].

    Returns
    -------
    cost : Cost
        Times the sum of the weights.
    """
    key = (point, tuple(weights), looks_left)
    if key not in problem.closed:
        problem.closed[key] = _closing_cost(problem, point, weights, looks_left)
    return problem.closed[key]


def _closing_cost(
    problem: PlanningProblem, point: Point, weights: list[float], looks_left: int
) -> Cost:
    view = problem.view(point.gone)
    order = order_of(view, weights)
    place, look = _first_look(problem, point, weights, order if looks_left else [])
    if look is None:
        return repair_only(view, weights, order)
    whole = sum(weights)
    if place > 0:
        return _repair_first(problem, point, weights, order[0], looks_left)
    money, minutes = look.cost * whole, look.minutes * whole
    for outcome in view.outcomes(look.tests):
        then = point.tested(look, outcome)
        rest = list(map(mul, weights, outcome.chances))
        after = closing_cost(problem, then, rest, looks_left - 1)
        money += after.money
        minutes += after.minutes
    return Cost(money, minutes)


def _first_look(
    problem: PlanningProblem, point: Point, weights: list[float], order: list[int]
) -> tuple[int, Step | None]:
    """Find the first repair of an order before which a test is due, and that test."""
    least = SELDOM * sum(weights)
    for place, action in enumerate(order):
        if problem.price[action] <= 0.0 or problem.cured[action] & point.looked:
            continue
        if sum([weights[fault] for fault in problem.cures[action]]) < least:
            continue
        looks = looks_before_buying(problem, point, weights, action)
        if looks:
            return place, looks[0]
    return 0, None


def _repair_first(
    problem: PlanningProblem, point: Point, weights: list[float], action: int, looks_left: int
) -> Cost:
    """Cost of a repair with its proof, and of going on where it fails."""
    whole = sum(weights)
    then = point.repaired(problem.cured[action])
    left = list(weights)
    for row in problem.view(then.gone).empty:
        left[row] = 0.0
    after = closing_cost(problem, then.proven(), left, looks_left)
    money = (problem.cost[action] + problem.recheck_cost) * whole + after.money
    minutes = (problem.minutes[action] + problem.recheck_minutes) * whole + after.minutes
    return Cost(money, minutes)
