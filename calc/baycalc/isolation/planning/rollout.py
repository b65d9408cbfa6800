"""Follows a plan to its end, one look ahead at a time, for what the job will really cost."""

from dataclasses import replace
from operator import mul

from baycalc.isolation.planning.lookahead import Move, Search, State, rank
from baycalc.isolation.planning.repair_order import Cost, repair_only

CLOSE = 0.2
"""Part by which the best repair may look dearer than the best test and both be followed."""

CLEARLY = 0.08
"""Part by which a repair that was followed must be cheaper than a test, to come first."""


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
    if move.followed:
        return move.cost, move.minutes
    along = _along(search, search.start, search.problem.weights, move)
    return min((move.cost, move.minutes), along)


def with_close_calls(search: Search, moves: list[Move]) -> list[Move]:
    """Put the best repair before the best test where it is cheaper when both are followed.

    Parameters
    ----------
    search : Search
        The look-ahead [-].
    moves : list of Move
        What can be done now, cheapest first [-].

    Returns
    -------
    moves : list of Move
        The same, or with those two followed; cheapest first [-].

    Notes
    -----
    The look-ahead stops sooner past a repair than past a test, for a repair and its proof are
    two moves: alone, it would test too long before a repair that is as good as sure.
    """
    test, repair = moves[0], next((move for move in moves if move.kind == "repair"), None)
    if test.kind != "test" or repair is None or repair.cost > (1.0 + CLOSE) * test.cost:
        return moves
    found = {move: _followed(search, move) for move in (test, repair)}
    if found[repair].cost > (1.0 - CLEARLY) * found[test].cost:
        return moves
    return sorted((found.get(move, move) for move in moves), key=rank)


def _followed(search: Search, move: Move) -> Move:
    cost, minutes = to_go(search, move)
    return replace(move, cost=cost, minutes=minutes, followed=True)


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
