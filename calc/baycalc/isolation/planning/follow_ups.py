"""Causes and knock-ons of what was found: due before a part is fitted or a job is closed."""

from collections.abc import Iterator
from dataclasses import dataclass

from baycalc.isolation.model.bayes_net import Key
from baycalc.isolation.model.fault_model import Fault
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.confirmation import outcome
from baycalc.isolation.planning.point import Point
from baycalc.isolation.planning.problem import REALLY_THERE
from baycalc.isolation.planning.rules import can_clear, looks_before_buying
from baycalc.isolation.planning.steps import Step

SMALL = 0.02
"""Share of belief up to which a cause or a knock-on need not be tested [-]; common practice, no
source."""

FOUND = 0.5
"""Share of belief from which a fault counts as found [-]: it is then likelier than all else."""


@dataclass(frozen=True)
class FollowUp:
    """A fault to be followed up because of another one.

    Attributes
    ----------
    fault, because : str
        The fault, and the one that was found or repaired.
    kind : str
        "cause" or "knock-on" of it; "itself" where it is to be shown before it is repaired.
    state : str
        "before fitting" or "before closing" where a test is due; "cleared" by a test;
        "unlikely", not tested; "left" on purpose; "untestable" where no test can be done.
    share : float
        Share of belief that it is present [-].
    tests : tuple of str
        Tests that can be done now and clear it, cheapest first.
    step : Step, optional
        The first of these, with what must be done before it.
    """

    fault: str
    because: str
    kind: str
    state: str
    share: float
    tests: tuple[str, ...] = ()
    step: Step | None = None

    @property
    def due(self) -> bool:
        """Tell whether a test of it is due."""
        return self.state in ("before fitting", "before closing")


def follow_ups(case: Case) -> tuple[FollowUp, ...]:
    """List the causes and knock-ons of what was found or repaired, each with its state.

    Parameters
    ----------
    case : Case
        The job at this moment.

    Returns
    -------
    follow_ups : tuple of FollowUp
        Each fault once, the likeliest first.

    Notes
    -----
    A cause is cleared by any test of the job that showed it absent. So is a knock-on, but for one
    that may come after the repair of its cause: that needs a test made since.
    A fault that is itself as good as found is no question any more.
    """
    found: dict[str, FollowUp] = {}
    for item in sorted(_all(case), key=lambda one: (not one.due, -one.share)):
        found.setdefault(item.fault, item)
    return tuple(found.values())


def unseen(case: Case, action: int, state: Point) -> FollowUp | None:
    """Ask for a fault whose part would be bought though no test has looked for it.

    Parameters
    ----------
    case : Case
        The job at this moment.
    action : int
        Number of the fault to be repaired [-].
    state : Point
        The point of the plan.
    """
    problem = case.problem
    steps = looks_before_buying(problem, state, problem.weights, action)
    if not steps:
        return None
    fault = case.model.ids[action]
    share = case.suspects.marginals[fault]
    tests = tuple(problem.tests[step.tests[-1]].id for step in steps)
    return FollowUp(fault, fault, "itself", "before fitting", share, tests, steps[0])


def finished(case: Case, items: tuple[FollowUp, ...]) -> bool:
    """Tell whether the job may be closed."""
    proven = bool(case.job.repaired) and case.job.proof == "cured"
    return proven and case.suspects.clear >= FOUND and not any(item.due for item in items)


def _all(case: Case) -> Iterator[FollowUp]:
    repaired = case.suspects.repaired
    for fault in case.model.network.faults:
        if fault.id in case.job.repaired:
            if repaired[fault.id] >= REALLY_THERE:
                yield from _of(case, fault)
        elif case.suspects.marginals[fault.id] >= FOUND:
            yield from _of(case, fault)


def _of(case: Case, found: Fault) -> Iterator[FollowUp]:
    when = "before closing" if found.id in case.job.repaired else "before fitting"
    repair = Key("repair", found.id)
    places = [event.place for event in case.known.events if event.key == repair]
    since = max(places, default=-1)
    for fault in case.model.network.faults:
        if found.id in fault.leads_to:
            yield from _one(case, fault.id, found.id, "cause", when, -1)
    for name, link in found.leads_to.items():
        after = since if link.later > 0.0 else -1
        yield from _one(case, name, found.id, "knock-on", when, after)


def _one(
    case: Case, fault: str, because: str, kind: str, when: str, since: int
) -> Iterator[FollowUp]:
    share = case.suspects.marginals[fault]
    if share >= FOUND or fault in case.job.repaired:
        return
    steps: list[Step] = []
    if _cleared(case, fault, since):
        state = "cleared"
    elif fault in case.job.left:
        state = "left"
    elif share < SMALL:
        state = "unlikely"
    else:
        steps = _clearing_steps(case, fault)
        state = when if steps else "untestable"
    tests = tuple(case.problem.tests[step.tests[-1]].id for step in steps)
    yield FollowUp(fault, because, kind, state, share, tests, steps[0] if steps else None)


def _cleared(case: Case, fault: str, since: int) -> bool:
    rules, number = case.problem.rules, case.model.number[fault]
    return any(
        event.key.observation
        and event.place > since
        and outcome(event) == 0
        and rules.looks_for[event.key] >> number & 1
        for event in case.known.events
        if event.key.kind == "test"
    )


def _clearing_steps(case: Case, fault: str) -> list[Step]:
    """List the tests that can be done now and clear a fault, cheapest first."""
    problem, number = case.problem, case.model.number[fault]
    steps: dict[Step, None] = {}
    for key in problem.rules.keys:
        test = problem.number[key.name]
        if not problem.rules.looks_for[key] >> number & 1 or key not in problem.watched[test]:
            continue
        step = problem.steps.to(test, case.job.stand, problem.met, problem.open)
        view = problem.view(0)
        if step is not None and can_clear(view, problem.weights, number, key):
            steps[step] = None
    return sorted(steps, key=lambda step: step.cost)
