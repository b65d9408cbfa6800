"""Which tests look for a fault, and whether one has: no part is bought before that."""

from baycalc.isolation.inference.evidence import RESULTS
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.problem import Step

SHOWN_WELL = 0.5
"""Chance from which an observation shows a fault well enough to clear it."""


def well_shown(model: Model, fault: str) -> list[Key]:
    """List the observations that show a fault well, or the best one where none does."""
    chances: list[tuple[float, Key]] = []
    for test in model.network.tests:
        for item in test.observations:
            chance = item.shows.get(fault, 0.0)
            if chance > 0.0:
                chances.append((chance, ("test", test.id, item.id)))
    best = max((chance for chance, _ in chances), default=0.0)
    return [key for chance, key in chances if chance >= min(best, SHOWN_WELL)]


def steps_for(case: Case, fault: str) -> dict[Key, Step]:
    """List the observations to be had now that show a fault well, each with its test.

    Parameters
    ----------
    case : Case
        The job at this moment [-].
    fault : str
        The fault [-].

    Returns
    -------
    steps : dict
        The test of each observation, with what must be done before it; shortest first [-].
    """
    problem = case.problem
    steps = {}
    for key in well_shown(case.model, fault):
        number = problem.number[key[1]]
        step = problem.step(number, case.job.setup, problem.met)
        if step is not None and key in problem.watched[number]:
            steps[key] = step
    return dict(sorted(steps.items(), key=lambda item: item[1].minutes))


def can_clear(case: Case, fault: str, key: Key) -> bool:
    """Tell whether an observation would be normal without the fault, in spite of all others."""
    number = case.model.number[fault]
    without = normal = 0.0
    rows = zip(
        case.model.sets.masks, case.known.belief.weights, case.model.normal(key), strict=True
    )
    for mask, weight, chance in rows:
        if not mask >> number & 1:
            without += weight
            normal += weight * chance
    return normal >= SHOWN_WELL * without


def looks_before_buying(case: Case, fault: str) -> list[Step]:
    """List the tests of which one is due before a part is bought for a fault.

    Parameters
    ----------
    case : Case
        The job at this moment [-].
    fault : str
        The fault to be repaired [-].

    Returns
    -------
    steps : list of Step
        Shortest first; empty where a test has looked for the fault, where none can tell it from
        the others, where no part is bought, or where looking costs more than the repair [-].
    """
    cost = case.model.repairs[case.model.number[fault]]
    if cost.price <= 0.0 or _looked_for(case, fault):
        return []
    limit = case.problem.cost[case.model.number[fault]] + case.problem.recheck_cost
    steps = {key: step for key, step in steps_for(case, fault).items() if step.cost < limit}
    if not any(can_clear(case, fault, key) for key in steps):
        return []
    return [*dict.fromkeys(steps.values())]


def _looked_for(case: Case, fault: str) -> bool:
    """Tell whether any test showed a fault, or one that shows it well was normal.

    A reading too close to call has looked for nothing: it proves neither.
    """
    keys, number = well_shown(case.model, fault), case.model.number[fault]
    for entry in case.known.entries:
        if entry.key in keys and entry.likelihood == RESULTS["not shown"]:
            return True
        shown = entry.key[0] == "test" and entry.likelihood == RESULTS["shown"]
        if shown and number in case.model.shows(entry.key):
            return True
    return False
