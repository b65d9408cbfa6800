"""Ways to work on a car: by the plan, by guess, or down the page."""

from collections.abc import Callable

from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.decide import Action, decide
from baycalc.isolation.planning.lookahead import Horizon
from baycalc.isolation.planning.repair_order import order_of

SURE = 0.9
"""Share of belief from which one who works down the page stops testing and repairs [-]."""

Policy = Callable[[Case], Action]


def by_plan(case: Case) -> Action:
    """Follow the plan."""
    return decide(case).action


def by_quick_plan(case: Case) -> Action:
    """Follow the plan, looking only one move ahead."""
    return decide(case, Horizon(1, 0, 2, 1.0, 0)).action


def by_guess(case: Case) -> Action:
    """Fit parts by guess, likeliest first for what they cost, each followed by the proof."""
    return _proof_or_end(case) or _likeliest_repair(case)


def by_page(case: Case) -> Action:
    """Work down the tests of the page until one fault is as good as sure."""
    end = _proof_or_end(case)
    if end is not None:
        return end
    fault, share = max(case.suspects.marginals.items(), key=lambda item: item[1])
    if share >= SURE:
        return _repair(fault)
    problem = case.problem
    for number, test in enumerate(problem.tests):
        step = problem.steps.to(number, case.job.stand, problem.met, problem.open)
        if step is not None and test.id not in case.job.done:
            return Action("test", problem.tests[step.first].id, test.id)
    return _likeliest_repair(case)


def _proof_or_end(case: Case) -> Action | None:
    if not case.job.repaired or case.job.proof == "not cured":
        return None
    return Action("close" if case.job.proof == "cured" else "recheck", "")


def _likeliest_repair(case: Case) -> Action:
    weights = case.problem.weights
    order = order_of(case.problem.view(0), weights) if weights else []
    return _repair(case.model.ids[order[0]]) if order else Action("stop", "outside")


def _repair(fault: str) -> Action:
    return Action("outside" if fault == OUTSIDE else "repair", fault)
