"""Follows a plan to its end, one look ahead at a time, for what the job will really cost."""

from operator import mul

from baycalc.isolation.lookahead import Move, Search, State
from baycalc.isolation.repairing import Cost, repair_only


def to_go(search: Search, move: Move) -> Cost:
    """Expected cost from here to a proven repair when a move is made first.

    Parameters
    ----------
    search : Search
        The look-ahead [-].
    move : Move
        The first move [-].

    Returns
    -------
    cost : tuple of float
        Expected cost [money] and the minutes in it [min].

    Notes
    -----
    Nearer to the truth than the move's own figure, which counts only repairs past the edge of
    the look-ahead. Tests that are due only because no part is bought unseen are left out.
    """
    return min(
        (move.cost, move.minutes), _along(search, search.start, search.problem.weights, move)
    )


def _follow(search: Search, state: State, weights: list[float]) -> Cost:
    best = repair_only(search.problem.view(state.gone), weights)
    if sum(weights) < search.look.rare:
        return best
    moves = search.tests(state, weights, 1, best[0])
    moves += search.repairs(state, weights, 1)
    move = min(moves, key=lambda item: item.cost)
    return min(best, _along(search, state, weights, move))


def _along(search: Search, state: State, weights: list[float], move: Move) -> Cost:
    """Cost of a move and of all that follows it."""
    whole = sum(weights)
    if move.step is not None:
        cost, minutes = move.step.cost * whole, move.step.minutes * whole
        after = state.tested(move.step)
        for outcome in search.problem.view(state.gone).outcomes(move.step.tests):
            more, longer = _follow(search, after, list(map(mul, weights, outcome)))
            cost += more
            minutes += longer
        return cost, minutes
    cost = minutes = 0.0
    if move.kind == "repair":
        cost = search.problem.cost[move.number] * whole
        minutes = search.problem.minutes[move.number] * whole
        state = state.repaired(move.number)
    more, longer = _prove(search, state, weights)
    return cost + more, minutes + longer


def _prove(search: Search, state: State, weights: list[float]) -> Cost:
    """Cost of a recheck and of what follows where it fails, or of going on without one."""
    whole = sum(weights)
    more, longer = _follow(search, state.proven(), search.left_after_recheck(state, weights))
    proof = search.problem.recheck_cost * whole, search.problem.recheck_minutes * whole
    at_once = repair_only(search.problem.view(state.gone), weights)
    return min(at_once, (proof[0] + more, proof[1] + longer))
