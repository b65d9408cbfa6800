"""Repairing without another test, in the order of chance over cost: the base of all planning."""

from baycalc.isolation.problem import View

Cost = tuple[float, float]
"""Expected cost [money] and the minutes in it [min]."""


def repair_only(view: View, weights: list[float]) -> Cost:
    """Cost of repairing without another test, likeliest first for what it costs.

    Parameters
    ----------
    view : View
        The fault sets [-].
    weights : list of float
        Weight of each set [-].

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
    return _walk(view, weights, order_of(view, weights))


def order_of(view: View, weights: list[float]) -> list[int]:
    """Put the faults that are possible in the order of chance over cost."""
    problem = view.problem
    chance = [0.0] * len(problem.cost)
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
    scale = problem.worth
    ranked = [(p * scale[fault], -fault) for fault, p in enumerate(chance) if p > 0.0]
    ranked.sort(reverse=True)
    return [-fault for _, fault in ranked]


def _walk(view: View, weights: list[float], order: list[int]) -> Cost:
    """Go through an order of repairs and add up what it costs."""
    problem = view.problem
    cured = _cured_after(view, weights, order)
    in_order = sum(weights[row] for row in view.empty)
    faulty = sum(cured)
    cost = minutes = 0.0
    for number, fault in enumerate(order):
        price = problem.cost[fault]
        if in_order * price > problem.recheck_cost * faulty:
            cost += problem.recheck_cost * (in_order + faulty)
            minutes += problem.recheck_minutes * (in_order + faulty)
            in_order = 0.0
        cost += price * (in_order + faulty)
        minutes += problem.minutes[fault] * (in_order + faulty)
        in_order += cured[number]
        faulty -= cured[number]
    cost += problem.recheck_cost * in_order
    minutes += problem.recheck_minutes * in_order
    return cost, minutes


def _cured_after(view: View, weights: list[float], order: list[int]) -> list[float]:
    """Weight of the cars that each repair of an order is the last one for."""
    rank = [0] * len(view.problem.cost)
    for number, fault in enumerate(order):
        rank[fault] = number
    cured = [0.0] * (len(order) or 1)
    for row, one in view.ones:
        cured[rank[one]] += weights[row]
    for row, one, two in view.twos:
        first, second = rank[one], rank[two]
        cured[first if first > second else second] += weights[row]
    for row, one, two, three in view.threes:
        cured[max(rank[one], rank[two], rank[three])] += weights[row]
    return cured
