"""The whole plan as a tree, from the codes to a proven repair, and what it costs."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import product
from typing import Literal

from baycalc.isolation.inference.evidence import read_history
from baycalc.isolation.json_reader import Json
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.planning.case import Case, open_case
from baycalc.isolation.planning.decide import Action, decide
from baycalc.isolation.planning.follow_ups import finished, open_questions
from baycalc.isolation.planning.job import job_of
from baycalc.isolation.planning.repair_order import Cost, repair_only
from baycalc.isolation.report.explanation import Reason, reason_for

DEPTH = 14
"""Most actions in a row that the plan draws."""

RARE = 0.01
"""Share of cars below which a branch is not drawn on."""

SUSPECTS_SHOWN = 4
"""Most suspects that a point of the plan names."""

Events = tuple[Json, ...]


@dataclass
class Branch:
    """One way that an action turns out: the events it adds, its chance, what follows."""

    events: Events
    chance: float
    node: Node


@dataclass
class Node:
    """One point of the plan.

    Parameters
    ----------
    end : str
        "" where an action follows, "proven" at the end of a job, "rare" where the plan is not
        drawn on [-].
    share : float
        Share of cars that come here [-].
    suspects : tuple of tuple
        The likeliest faults with their shares [-].
    action : Action, optional
        What is done here [-].
    reason : Reason, optional
        Why [-].
    spent, to_go : tuple of float
        Cost of this action, and of all from here on [money, min].
    branches : list of Branch
        What can come of it, likeliest first [-].
    """

    end: Literal["", "proven", "rare"]
    share: float
    suspects: tuple[tuple[str, float], ...]
    action: Action | None = None
    reason: Reason | None = None
    spent: Cost = (0.0, 0.0)
    to_go: Cost = (0.0, 0.0)
    branches: list[Branch] = field(default_factory=list)


def plan_tree(model: Model, history: list[Json], depth: int = DEPTH, rare: float = RARE) -> Node:
    """Draw the plan from a history on, most often just the codes.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    history : list of dict
        The job so far [-].
    depth : int
        Most actions in a row [-].
    rare : float
        Share of cars below which a branch is not drawn on [-].

    Returns
    -------
    node : Node
        The first point of the plan; its `to_go` is what a job costs on average [-].

    Raises
    ------
    ValueError
        Where the history cannot be read.
    """
    return _node(model, history, 1.0, depth, rare)


def guess_cost(model: Model, history: list[Json]) -> Cost:
    """Average cost of fitting parts by guess, likeliest first for what they cost.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    history : list of dict
        The job so far, most often just the codes [-].

    Returns
    -------
    cost : tuple of float
        Expected cost [money] and the minutes in it [min].
    """
    problem = open_case(model, history).problem
    return repair_only(problem.view(0), problem.weights)


def _node(model: Model, history: list[Json], share: float, depth: int, rare: float) -> Node:
    case = open_case(model, history)
    if share < rare or depth == 0:
        return _leaf(case, share)
    decision = decide(case)
    node = Node("", share, _likeliest(case))
    if decision.action.kind == "close":
        node.end = "proven"
        return node
    node.action, node.reason = decision.action, reason_for(case, decision)
    outcomes = _outcomes(case, decision.action)
    cost, minutes = node.spent = _spent(case, outcomes[0][0])
    for events, chance in outcomes:
        follow = _node(model, [*history, *events], share * chance, depth - 1, rare)
        node.branches.append(Branch(events, chance, follow))
        cost += chance * follow.to_go[0]
        minutes += chance * follow.to_go[1]
    node.to_go = cost, minutes
    return node


def _leaf(case: Case, share: float) -> Node:
    """End a branch that is not drawn on; repairs alone are counted for what is left of it."""
    if finished(case, open_questions(case)):
        return Node("proven", share, _likeliest(case))
    cost = repair_only(case.problem.view(0), case.problem.weights)
    return Node("rare", share, _likeliest(case), to_go=cost)


def _likeliest(case: Case) -> tuple[tuple[str, float], ...]:
    shares = sorted(case.suspects.shares.items(), key=lambda item: -item[1])
    return tuple((fault, share) for fault, share in shares[:SUSPECTS_SHOWN] if share >= RARE)


def _outcomes(case: Case, action: Action) -> list[tuple[Events, float]]:
    """List the ways that an action can turn out, likeliest first, each with its chance."""
    ways = [(events, _chance(case, events)) for events in _events(case, action)]
    return sorted((way for way in ways if way[1] > 0.0), key=lambda way: -way[1])


def _events(case: Case, action: Action) -> list[Events]:
    if action.kind == "repair":
        return [({"repair": action.id},)]
    if action.kind == "recheck":
        return [({"recheck": "cured"},), ({"recheck": "not cured"},)]
    keys = case.problem.watched[case.problem.number[action.id]]
    if not keys:
        return [({"test": action.id, "result": "done"},)]
    return [
        tuple(
            {"test": action.id, "observation": key[2], "result": result}
            for key, result in zip(keys, results, strict=True)
        )
        for results in product(("shown", "not shown"), repeat=len(keys))
    ]


def _chance(case: Case, events: Events) -> float:
    belief = case.known.belief.copy()
    for entry in read_history(case.model, list(events)):
        belief.learn(entry.key, entry.likelihood)
    return belief.scale()


def _spent(case: Case, events: Events) -> Cost:
    """Cost of an action: what the job has spent more once its events are in the history."""
    job = job_of(case.model, case.known.entries)
    money, minutes = job.money, job.minutes
    for entry in read_history(case.model, list(events)):
        job.add(entry)
    return job.money - money, job.minutes - minutes
