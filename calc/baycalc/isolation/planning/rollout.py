"""Follows a plan to its end, one look ahead at a time, for what the job will really cost.

The few best moves are valued so: rollout, one step of policy improvement (Bertsekas).
"""

from dataclasses import replace
from operator import mul

from baycalc.isolation.planning.lookahead import Move, Search, rank
from baycalc.isolation.planning.point import Point
from baycalc.isolation.planning.rules import closing_cost
from baycalc.isolation.planning.state import Cost

REPAIRS_FOLLOWED = 2
"""How many of the best repairs are followed to the end [-]."""

CLOSE = 0.25
"""Part by which a move may look dearer than the best one and be followed [-]."""


def to_go(search: Search, move: Move) -> Cost:
    """Expected cost from here to a proven repair when a move is made first.

    Parameters
    ----------
    search : Search
        The look-ahead.
    move : Move
        The first move.

    Returns
    -------
    cost : Cost
        That of the plan that goes on looking ahead; where it is cheaper and may be carried out,
        that of the look-ahead, which repairs at once past its edge.
    """
    if move.followed:
        return Cost(move.cost, move.minutes)
    state, weights = search.start, search.problem.weights
    along = _along(search, state, weights, move)
    return min(Cost(move.cost, move.minutes), along)


def followed(search: Search, moves: list[Move]) -> list[Move]:
    """Value the best few moves by following the plan to the end; cheapest first.

    Parameters
    ----------
    search : Search
        The look-ahead.
    moves : list of Move
        What can be done now, cheapest first.

    Returns
    -------
    moves : list of Move
        Those followed first, each with its new cost, then the others.
    """
    room = {"test": search.horizon.follow, "repair": REPAIRS_FOLLOWED, "recheck": 1}
    limit = (1.0 + CLOSE) * min((move.cost for move in moves), default=0.0)
    near, far = [], []
    for move in moves:
        if room[move.kind] > 0 and move.cost <= limit:
            room[move.kind] -= 1
            near.append(move)
        else:
            far.append(move)
    if len(near) == 1:
        return [*near, *far]
    valued = [_valued(search, move) for move in near]
    return [*sorted(valued, key=rank), *far]


def _valued(search: Search, move: Move) -> Move:
    cost, minutes = to_go(search, move)
    return replace(move, cost=cost, minutes=minutes, followed=True)


def _follow(search: Search, state: Point, weights: list[float]) -> Cost:
    best = closing_cost(search.problem, state, weights, search.horizon.looks)
    if sum(weights) < search.horizon.rare:
        return best
    moves = search.tests(state, weights, 1, best.money)
    moves += search.repairs(state, weights, 1, search.horizon.repairs)
    if not moves:
        return best
    move = min(moves, key=lambda item: item.cost)
    return min(best, _along(search, state, weights, move))


def _along(search: Search, state: Point, weights: list[float], move: Move) -> Cost:
    """Cost of a move and of all that follows it."""
    whole = sum(weights)
    problem = search.problem
    if move.step is not None:
        cost, minutes = move.step.cost * whole, move.step.minutes * whole
        for outcome in problem.view(state.gone).outcomes(move.step.tests):
            after = state.tested(move.step, outcome)
            more = _follow(search, after, list(map(mul, weights, outcome.chances)))
            cost += more.money
            minutes += more.minutes
        return Cost(cost, minutes)
    cost = minutes = 0.0
    if move.kind == "repair":
        cost = problem.cost[move.number] * whole
        minutes = problem.minutes[move.number] * whole
        state = state.repaired(problem.cured[move.number])
    more = _prove(search, state, weights)
    return Cost(cost + more.money, minutes + more.minutes)


def _prove(search: Search, state: Point, weights: list[float]) -> Cost:
    """Cost of a proof and of what follows where it fails, or of going on without one."""
    whole = sum(weights)
    more = _follow(search, state.proven(), search.left_after_recheck(state, weights))
    proof = search.problem.recheck_cost * whole, search.problem.recheck_minutes * whole
    proven = Cost(proof[0] + more.money, proof[1] + more.minutes)
    return min(closing_cost(search.problem, state, weights, search.horizon.looks), proven)
