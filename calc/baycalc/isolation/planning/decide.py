"""The next action: a step, a test, a repair, a look outside, the proof, or the end of the job."""

from dataclasses import dataclass, field, replace

from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.confirmation import outcome
from baycalc.isolation.planning.follow_ups import FOUND, FollowUp, finished, follow_ups, unseen
from baycalc.isolation.planning.lookahead import Horizon, Move, Search, horizon_for
from baycalc.isolation.planning.repair_order import order_of
from baycalc.isolation.planning.rollout import followed, to_go
from baycalc.isolation.planning.rules import is_cleared, likeliest
from baycalc.isolation.planning.steps import Step

SPEAKS = 0.15
"""Share of belief of which a test must speak to come before one that speaks of more [-]; common
practice, no source."""

DEARER = 0.05
"""Part by which a test that speaks of more may cost more in all and come first [-]; less than the
chances behind it are known."""

GIVEN_UP = 0.5
"""Share of belief in causes that nothing here reaches, from which a job is handed on [-]."""

DOUBTED = 0.1
"""Share of a cleared fault from which its test is done once more before a job is handed on [-];
common practice, no source."""

AS_GOOD_AS_FOUND = 0.8
"""Share of belief from which a test that looks for a fault says so [-]; below, what it tells from
what is the better reason."""

TWICE = 2
"""How often a test is asked for in one state of the car [-]."""


@dataclass(frozen=True)
class Action:
    """What to do next.

    Attributes
    ----------
    kind : str
        "opening", "test", "repair", "outside", "recheck", "close" or "stop".
    id : str
        The step, the test or the fault; of "stop" what is said: "outside" or "not found".
    serves : str
        The test that this one must come before; else the same test.
    question : FollowUp, optional
        The cause or knock-on that the test is asked for.
    move : Move, optional
        What the planner found for it.
    again : bool
        Whether a test is repeated as nothing else explains the car.
    """

    kind: str
    id: str
    serves: str = ""
    question: FollowUp | None = None
    move: Move | None = None
    again: bool = False


@dataclass(frozen=True)
class Decision:
    """The next action with what else could be done, and what is to be followed up.

    Attributes
    ----------
    action : Action
        What to do next.
    moves : tuple of Move
        Everything that may be done now, cheapest in the long run first.
    follow_ups : tuple of FollowUp
        Causes and knock-ons of what was found.
    search : Search, optional
        The look-ahead that found them.
    """

    action: Action
    moves: tuple[Move, ...] = ()
    follow_ups: tuple[FollowUp, ...] = ()
    search: Search | None = field(default=None, compare=False)


def decide(case: Case, horizon: Horizon | None = None) -> Decision:
    """Say what to do next in a case at hand.

    Parameters
    ----------
    case : Case
        The job at this moment.
    horizon : Horizon, optional
        How far to look ahead; without it, what the size of the problem allows, and the best few
        moves are followed to the end.

    Returns
    -------
    decision : Decision
        The next action, and what else there is.

    Notes
    -----
    The planner's cheapest move is taken, but for these rules. A job that is proven and has
    nothing due is closed. Opening steps come first. A cause that is as good as found is repaired
    before what it ruined. No part is bought before a test has looked for its fault, where one can
    that costs less, nor after a test has cleared it. Before the first repair, tests that change
    the bill come first: a customer authorises once. What is open before the proof is tested where
    that costs less than a proof made in vain. Where nothing here explains the car any more, the
    job ends with that.
    """
    items = follow_ups(case)
    if finished(case, items):
        return Decision(Action("close", ""), (), items)
    opening = _opening(case)
    if opening is not None:
        return Decision(opening, (), items)
    search = Search(case.problem, horizon or horizon_for(case.problem))
    if not case.problem.weights:
        return Decision(_end(case), (), items, search)
    allowed = [move for move in search.moves() if not _barred(case, search, move)]
    if horizon is None:
        allowed = followed(search, allowed)
    if not allowed or _explains_nothing(case):
        return Decision(_end(case), tuple(allowed), items, search)
    chosen = _cause_first(case, _action(case, _telling(case, allowed)))
    asked = _first_seen(case, chosen, search, allowed) or _first_asked(case, chosen, items)
    return Decision(asked or chosen, tuple(allowed), items, search)


def _opening(case: Case) -> Action | None:
    """Give the first opening step or test that is neither done nor skipped."""
    if case.job.repaired:
        return None
    for step in case.model.network.opening:
        if step.id not in case.job.opened:
            return Action("opening", step.id)
    problem = case.problem
    for number, test in enumerate(problem.tests):
        if test.opening and problem.open >> number & 1:
            step_to = problem.steps.to(number, case.job.stand, problem.met, problem.open)
            if step_to is not None:
                return Action("test", problem.tests[step_to.first].id, test.id)
    return None


def _action(case: Case, move: Move) -> Action:
    if move.kind == "test" and move.step is not None:
        tests = case.problem.tests
        return Action("test", tests[move.number].id, tests[move.step.tests[-1]].id, move=move)
    if move.kind == "repair":
        fault = likeliest(case.problem, move.number, case.problem.weights)
        name = case.model.ids[fault]
        return Action("outside" if name == OUTSIDE else "repair", name, move=move)
    return Action("recheck", "", move=move)


def _telling(case: Case, moves: list[Move]) -> Move:
    """Take the cheapest move, but for a test of what hardly anybody suspects.

    A test that prepares another one, or that protects by what it forbids, may come all the same.
    """
    best = moves[0]
    if speaks(case, best):
        return best
    near = (1.0 + DEARER) * best.cost
    telling = [move for move in moves if speaks(case, move)]
    served = [move for move in telling if move.step and best.step and move.number == best.number]
    if served:
        return served[0]
    return next((move for move in telling if move.cost <= near), best)


def speaks(case: Case, move: Move) -> bool:
    """Tell whether a move is no test, or one that speaks of enough of the belief."""
    if move.step is None or len(move.step.tests) > 1:
        return True
    test = case.problem.tests[move.step.first]
    if any(band.stops for item in test.observations for band in item.bands):
        return True
    shown = {fault for item in test.observations for fault in item.shown()}
    return sum(case.suspects.marginals[fault] for fault in shown) >= SPEAKS


def _barred(case: Case, search: Search, move: Move) -> bool:
    """Tell whether a repair may not be done.

    What it clears was cleared by a test, or a part would be bought while a cause that nothing
    here reaches is likelier; or it is a look outside while the listed faults have the most of the
    belief and something may be done for them, or before any test of them was made.
    """
    problem = case.problem
    if move.kind != "repair":
        return False
    if case.model.ids[move.number] == OUTSIDE:
        return case.suspects.outside < GIVEN_UP or not _tested(case)
    if problem.price[move.number] > 0.0 and problem.outside and case.suspects.clear < FOUND:
        cured = problem.cured[move.number]
        reached = sum(
            weight
            for mask, weight in zip(case.model.sets.masks, case.known.belief.weights, strict=True)
            if mask & cured
        )
        if reached < _lost(case):
            return True
    return is_cleared(problem, search.start, problem.weights, move.number)


def _lost(case: Case) -> float:
    """Share of belief in causes out of reach: outside, or cleared by their tests [-]."""
    beyond = case.problem.cleared | 1 << case.model.number[OUTSIDE]
    rows = zip(case.model.sets.masks, case.known.belief.weights, strict=True)
    return sum(weight for mask, weight in rows if mask and not mask & ~beyond)


def _tested(case: Case) -> bool:
    """Tell whether a test was made that is no opening one, or none is left to be made."""
    tests = case.model.tests
    made = any(not tests[name].opening for name in case.job.done)
    return made or not case.problem.open


def _cause_first(case: Case, action: Action) -> Action:
    """Repair a cause that is as good as found before what it ruined, or that would go again."""
    if action.kind != "repair":
        return action
    root, passed = action.id, {action.id}
    while cause := _found_cause(case, root, passed):
        passed.add(cause)
        root = cause
    return action if root == action.id else Action("repair", root)


def _found_cause(case: Case, fault: str, passed: set[str]) -> str:
    """Give the likeliest cause of a fault that is as good as found, or nothing."""
    shares = case.suspects.marginals
    causes = [
        other.id
        for other in case.model.network.faults
        if fault in other.leads_to and shares[other.id] >= FOUND and other.id not in passed
    ]
    return max(causes, key=lambda name: shares[name], default="")


def _first_seen(case: Case, action: Action, search: Search, moves: list[Move]) -> Action | None:
    """Give the test that must look for a fault before its part is bought, with that purpose."""
    if action.kind == "test":
        return _looking(case, action, search)
    if action.kind != "repair":
        return None
    question = unseen(case, case.model.number[action.id], search.start)
    if question is None or question.step is None:
        return None
    tests = case.problem.tests
    looks = {
        move: move.step
        for move in moves
        if move.step is not None and tests[move.step.tests[-1]].id in question.tests
    }
    move = min(looks, key=lambda look: to_go(search, look).money, default=None)
    step = question.step if move is None else looks[move]
    return Action("test", tests[step.first].id, tests[step.tests[-1]].id, question, move)


def _looking(case: Case, action: Action, search: Search) -> Action | None:
    """Say of a test that it looks for a fault as good as found, where it does."""
    problem = case.problem
    order = order_of(problem.view(0), problem.weights)
    fault = likeliest(problem, order[0], problem.weights)
    if case.suspects.marginals[case.model.ids[fault]] < AS_GOOD_AS_FOUND:
        return None
    question = unseen(case, fault, search.start)
    if question is None or action.serves not in question.tests:
        return None
    return replace(action, question=question)


def _first_asked(case: Case, action: Action, items: tuple[FollowUp, ...]) -> Action | None:
    """Give the test of the first follow-up that is due before the planner's move."""
    tests = case.problem.tests
    for item in items:
        step = item.step
        if step is not None and _is_due(case, action, item, step):
            return Action("test", tests[step.first].id, item.tests[0], item)
    return None


def _is_due(case: Case, action: Action, item: FollowUp, step: Step) -> bool:
    problem = case.problem
    if case.job.proof == "cured":
        return item.because in case.job.repaired
    if action.kind == "repair":
        if item.kind == "cause" and item.because == action.id:
            return True
        bill = problem.cost[case.model.number[item.fault]] + problem.recheck_cost
        return (
            not case.job.repaired
            and item.state == "before fitting"
            and (step.cost <= item.share * bill)
        )
    if action.kind == "recheck":
        return step.cost <= item.share * problem.recheck_cost
    return False


def _explains_nothing(case: Case) -> bool:
    """Tell whether what is left of the belief lies in causes that nothing here reaches."""
    if case.job.proof == "cured" or not case.job.looked_outside:
        return False
    return _lost(case) >= GIVEN_UP * (1.0 - case.suspects.clear)


def _end(case: Case) -> Action:
    """Look outside, or repeat the test that cleared the likeliest fault; then hand the job on."""
    if OUTSIDE in case.model.number and not case.job.looked_outside:
        return Action("outside", OUTSIDE)
    again = _test_again(case)
    if again is not None:
        return again
    return Action("stop", "outside" if _anything_shown(case) else "not found")


def _test_again(case: Case) -> Action | None:
    """Give the test that cleared the likeliest suspect, where it was done only once."""
    shares = case.suspects.marginals
    faults = sorted(case.model.network.faults, key=lambda fault: -shares[fault.id])
    for fault in faults:
        if shares[fault.id] < DOUBTED:
            return None
        number = case.model.number[fault.id]
        for event in case.known.events:
            key = event.key
            if (
                key.observation
                and outcome(event) == 0
                and case.problem.rules.clears[key] >> number & 1
                and case.job.times.get(key.name, TWICE) < TWICE
            ):
                return Action("test", key.name, key.name, again=True)
    return None


def _anything_shown(case: Case) -> bool:
    """Tell whether any test of the job was abnormal."""
    return any(event.key.kind == "test" and outcome(event) for event in case.known.events)
