"""The cheapest way for one car, known after the event: shown at the end, never scored."""

from copy import copy
from dataclasses import dataclass

from baycalc.exercise.run import BadAct, ExerciseRun
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.planning.confirmation import confirmation_of

Act = tuple[str, str]
"""Kind and id of an act."""

MOST_LOOKS = 4
"""Tests that show a fault of which the way is tried, the cheapest first [-]."""


@dataclass(frozen=True)
class BestOrder:
    """A way to a proven repair.

    Attributes
    ----------
    acts : tuple of tuple
        Kind and id of each act, in order.
    minutes, money : float
        What it takes, opening steps included [min], [money].
    """

    acts: tuple[Act, ...]
    minutes: float
    money: float


def best_order(start: ExerciseRun) -> BestOrder | None:
    """Find the cheapest order for a car whose faults are known.

    Parameters
    ----------
    start : ExerciseRun
        The exercise before its first act.

    Returns
    -------
    best : BestOrder, optional
        Before each part is bought one test has shown its fault, where any shows it on this car.
        None for a car without a fault, or with a cause outside.
    """
    if start.car.is_good or OUTSIDE in start.car.members:
        return None
    return _cheapest(start, (), 0)


def _cheapest(run: ExerciseRun, acts: tuple[Act, ...], depth: int) -> BestOrder | None:
    if run.car.is_good:
        proven = _after(run, [("proof", "")])
        return BestOrder((*acts, ("proof", "")), proven.job.minutes, _money(proven))
    if depth > 2 * len(run.faults) + 1:
        return None
    found = []
    for fault in _first_causes(run):
        for way, then in _safe_ways(run, fault):
            best = _cheapest(then, (*acts, *way), depth + 1)
            if best is not None:
                found.append(best)
    return min(found, key=lambda best: best.money, default=None)


def _safe_ways(run: ExerciseRun, fault: str) -> list[tuple[list[Act], ExerciseRun]]:
    """List ways to repair a fault with what is then; where each is dangerous, the repair unseen."""
    tried = [(way, _after(run, way)) for way in (*_ways(run, fault), [("repair", fault)])]
    safe = [(way, then) for way, then in tried if not any(done.danger for done in then.done)]
    return safe[:-1] or safe


def _first_causes(run: ExerciseRun) -> list[str]:
    """List the faults of a car of which no cause is there too; a circle leaves all."""
    members = run.car.members
    led = {
        name
        for fault in run.model.network.faults
        if fault.id in members
        for name in fault.leads_to
        if name != fault.id
    }
    return [fault for fault in members if fault not in led] or list(members)


def _ways(run: ExerciseRun, fault: str) -> list[list[Act]]:
    """List ways to repair a fault: the tests that show it, each followed by the repair."""
    model = run.model
    repair: Act = ("repair", fault)
    if model.repairs[model.number[fault]].price <= 0.0:
        return [[repair]]
    tests = sorted(_showing(run, fault), key=lambda name: _cost(run, _steps(model, run, name)))
    ways = [[*_steps(model, run, name), repair] for name in tests[:MOST_LOOKS]]
    return ways or [[repair]]


def _showing(run: ExerciseRun, fault: str) -> set[str]:
    rules, number = confirmation_of(run.model), run.model.number[fault]
    return {
        key.name
        for key in rules.keys
        if (place := run.car.shows(Key("test", key.name, key.observation)))
        and rules.shown[key][place - 1] >> number & 1
        and rules.looks_for[key] >> number & 1
    }


def _steps(model: Model, run: ExerciseRun, name: str) -> list[Act]:
    """List a test after those that must come before it."""
    names: list[str] = []

    def add(test: str) -> None:
        for other in model.tests[test].after:
            if other not in names and other not in run.job.done:
                add(other)
        names.append(test)

    add(name)
    return [("test", each) for each in dict.fromkeys(names)]


def _cost(run: ExerciseRun, steps: list[Act]) -> float:
    return _money(_after(run, steps)) - _money(run)


def _after(run: ExerciseRun, acts: list[Act]) -> ExerciseRun:
    then = copy(run)
    then.car = copy(run.car)
    then.history, then.done = list(run.history), list(run.done)
    for kind, name in acts:
        try:
            then.act({"do": kind, "id": name})
        except BadAct:
            break
    return then


def _money(run: ExerciseRun) -> float:
    return run.job.minutes * run.model.network.rate + run.job.price
