"""Repairing without another test, in the order of chance over cost: the base of all planning."""

from operator import mul

from baycalc.isolation.planning.problem import PlanningProblem, View
from baycalc.isolation.planning.state import Cost


def repair_only(view: View, weights: list[float], order: list[int] | None = None) -> Cost:
    """Cost of repairing without another test, likeliest first for what it costs.

    Parameters
    ----------
    view : View
        The fault sets [-].
    weights : list of float
        Weight of each set [-].
    order : list of int, optional
        The order of the repairs, where it is known already [-].

    Returns
    -------
    cost : tuple of float
        Expected cost times the sum of the weights [money], and minutes likewise [min].

    Notes
    -----
    With one fault and a proof after each repair the order of chance over cost is the best one
    (Kadane and Simon). With more, a proof that would hardly end the job is left out: it is
    made only when the cars already in order save more by it than the others lose.
    """
    return _walk(view, weights, order_of(view, weights) if order is None else order)


def costs_by_set(view: View, order: list[int]) -> list[float]:
    """Cost of each set of faults when repairs follow an order, with a proof after each."""
    problem = view.problem
    proof = problem.recheck_cost
    spent = 0.0
    reached = [0.0] * problem.count
    for action in order:
        spent += problem.cost[action] + proof
        for fault in problem.cures[action]:
            reached[fault] = reached[fault] or spent
    costs = reached + [0.0] * (len(view.places) - problem.count)
    for row in view.empty:
        costs[row] = proof
    for row, one in view.ones:
        costs[row] = reached[one]
    for row, one, two in view.twos:
        costs[row] = max(reached[one], reached[two])
    for row, one, two, three in view.threes:
        costs[row] = max(reached[one], reached[two], reached[three])
    return costs


def order_of(view: View, weights: list[float]) -> list[int]:
    """Put the faults that are possible in the order of chance over cost."""
    chance = weights[: view.problem.count]
    for fault in view.gone:
        chance[fault] = 0.0
    for row, one in view.ones:
        chance[one] += weights[row]
    for row, one, two in view.twos:
        weight = weights[row]
        chance[one] += weight
        chance[two] += weight
    for row, one, two, three in view.threes:
        weight = weights[row]
        chance[one] += weight
        chance[two] += weight
        chance[three] += weight
    problem = view.problem
    if not problem.alone:
        chance = _by_action(problem, chance)
    worth = list(map(mul, chance, problem.worth))
    order = [fault for fault, value in enumerate(worth) if value > 0.0]
    order.sort(key=worth.__getitem__, reverse=True)
    return order if problem.alone else _each_once(problem, order, view.cleared)


def _by_action(problem: PlanningProblem, chance: list[float]) -> list[float]:
    """Sum the chances of what each repair clears; a repair of the same kind counts once."""
    sums = [0.0] * problem.count
    for action in problem.actions_of_one:
        sums[action] = chance[action]
    for action, cures in problem.actions_of_more:
        sums[action] = sum([chance[fault] for fault in cures])
    return sums


def _each_once(problem: PlanningProblem, order: list[int], cleared: int) -> list[int]:
    """Leave out repairs of which everything is cleared before."""
    kept = []
    cured = problem.cured
    for action in order:
        if cured[action] & ~cleared:
            cleared |= cured[action]
            kept.append(action)
    return kept


def _walk(view: View, weights: list[float], order: list[int]) -> Cost:
    """Go through an order of repairs and add up what it costs."""
    problem = view.problem
    proof, prices, times = problem.recheck_cost, problem.cost, problem.minutes
    cured = _cured_after(view, weights, order)
    well = sum([weights[row] for row in view.empty])
    cars = well + sum(cured)
    cost = minutes = 0.0
    for fault, more in zip(order, cured, strict=True):
        price = prices[fault]
        if well * (price + proof) > proof * cars:
            cost += proof * cars
            minutes += problem.recheck_minutes * cars
            cars -= well
            well = 0.0
        cost += price * cars
        minutes += times[fault] * cars
        well += more
    cost += proof * cars
    minutes += problem.recheck_minutes * cars
    return Cost(cost, minutes)


def _cured_after(view: View, weights: list[float], order: list[int]) -> list[float]:
    """Weight of the cars that each repair of an order is the last one for."""
    if not order:
        return []
    problem = view.problem
    if problem.alone:
        rank = [0] * problem.count
        for place, fault in enumerate(order):
            rank[fault] = place
        cured = [weights[fault] for fault in order]
    else:
        rank = [-1] * problem.count
        cured = [0.0] * len(order)
        for place, action in enumerate(order):
            for fault in problem.cures[action]:
                if rank[fault] < 0:
                    rank[fault] = place
        for fault in view.left:
            if rank[fault] >= 0:
                cured[rank[fault]] += weights[fault]
    for row, one in view.ones:
        cured[rank[one]] += weights[row]
    for row, one, two in view.twos:
        first, second = rank[one], rank[two]
        cured[first if first > second else second] += weights[row]
    for row, one, two, three in view.threes:
        cured[max(rank[one], rank[two], rank[three])] += weights[row]
    return cured
