"""The whole plan as a tree, from the codes to a proven repair, and what it costs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.inference.filtering import Belief
from baycalc.isolation.model.bayes_net import LOOK, RECHECK, Key, Model
from baycalc.isolation.planning.case import Case, open_case
from baycalc.isolation.planning.decide import Action, decide
from baycalc.isolation.planning.follow_ups import finished, follow_ups
from baycalc.isolation.planning.repair_order import repair_only
from baycalc.isolation.planning.state import Cost, state_of
from baycalc.isolation.report.explanation import Reason, reason_for
from baycalc.isolation.report.wording import result_text

DEPTH = 14
"""Most actions in a row that the plan draws [-]."""

RARE = 0.01
"""Share of cars below which a branch is not drawn on [-]."""

SPLIT = 0.25
"""Part of `RARE` below which a way that a test turns out is drawn with the other rare ones [-]."""

SUSPECTS_SHOWN = 4
"""Most suspects that a point of the plan names [-]."""

FREE = Cost(0.0, 0.0)

Events = tuple[Event, ...]


@dataclass
class Branch:
    """One way that an action turns out.

    Attributes
    ----------
    text : str
        In words: "all good", or what was not.
    good : bool
        Whether nothing was abnormal.
    chance : float
        Its chance [-].
    node : Node
        What follows.
    """

    text: str
    good: bool
    chance: float
    node: PlanNode


@dataclass
class PlanNode:
    """One point of the plan.

    Attributes
    ----------
    end : str
        "" where an action follows, "proven" or "handed on" at the end of a job, "rare" where the
        plan is not drawn on.
    share : float
        Share of cars that come here [-].
    suspects : tuple of tuple
        The likeliest faults with their shares [-].
    case : Case, optional
        The job at this point, where it is drawn on.
    action : Action, optional
        What is done here.
    reason : Reason, optional
        Why.
    spent, to_go : Cost
        Of this action, and of all from here on.
    branches : list of Branch
        What can come of it, likeliest first.
    """

    end: Literal["", "proven", "handed on", "rare"]
    share: float
    suspects: tuple[tuple[str, float], ...] = ()
    case: Case | None = None
    action: Action | None = None
    reason: Reason | None = None
    spent: Cost = FREE
    to_go: Cost = FREE
    branches: list[Branch] = field(default_factory=list)


def plan_tree(
    model: Model, events: list[Event], depth: int = DEPTH, rare: float = RARE
) -> PlanNode:
    """Draw the plan from a history on, most often just the codes.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    events : list of Event
        The job so far.
    depth : int
        Most actions in a row [-].
    rare : float
        Share of cars below which a branch is not drawn on [-].

    Returns
    -------
    node : Node
        The first point of the plan; its `to_go` is what a job costs on average.
    """
    return _node(model, events, 1.0, depth, rare)


def guess_cost(model: Model, events: list[Event]) -> Cost:
    """Average cost of fitting parts by guess, likeliest first for what they cost.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    events : list of Event
        The job so far, most often just the codes.
    """
    problem = open_case(model, events).problem
    return repair_only(problem.view(0), problem.weights)


def _node(model: Model, events: list[Event], share: float, depth: int, rare: float) -> PlanNode:
    case = open_case(model, events)
    if share < rare or depth == 0:
        return _leaf(case, share)
    decision = decide(case)
    action = decision.action
    if action.kind in ("close", "stop"):
        end: Literal["proven", "handed on"] = "proven" if action.kind == "close" else "handed on"
        return PlanNode(end, share, _likeliest(case))
    node = PlanNode("", share, _likeliest(case), case, action, reason_for(case, decision))
    ways, rest = _ways(case, action, SPLIT * rare / share)
    node.spent = _spent(case, ways[0][0])
    cost, minutes = node.spent
    for new, chance in ways:
        follow = _node(model, [*events, *new], share * chance, depth - 1, rare)
        bad = [_told(case, event) for event in new if _is_bad(event)]
        text = "; ".join(bad) or _good_text(action)
        node.branches.append(Branch(text, not bad, chance, follow))
        cost += chance * follow.to_go.money
        minutes += chance * follow.to_go.minutes
    if rest > 0.0:
        at_once = repair_only(case.problem.view(0), case.problem.weights)
        node.branches.append(
            Branch("several at once", False, rest, PlanNode("rare", share * rest, to_go=at_once))
        )
        cost += rest * at_once.money
        minutes += rest * at_once.minutes
    node.to_go = Cost(cost, minutes)
    return node


def _leaf(case: Case, share: float) -> PlanNode:
    """End a branch that is not drawn on; repairs alone are counted for what is left of it."""
    if finished(case, follow_ups(case)) or not case.problem.weights:
        return PlanNode("proven" if case.problem.weights else "handed on", share, _likeliest(case))
    cost = repair_only(case.problem.view(0), case.problem.weights)
    return PlanNode("rare", share, _likeliest(case), to_go=cost)


def _likeliest(case: Case) -> tuple[tuple[str, float], ...]:
    shares = sorted(case.suspects.marginals.items(), key=lambda item: -item[1])
    return tuple((fault, share) for fault, share in shares[:SUSPECTS_SHOWN] if share >= RARE)


def _ways(case: Case, action: Action, least: float) -> tuple[list[tuple[Events, float]], float]:
    """List the ways that an action can turn out, likeliest first, and the chance of the others."""
    if action.kind == "repair":
        return [((Event(Key("repair", action.id)),), 1.0)], 0.0
    if action.kind == "opening":
        return [((Event(Key("opening", action.id)),), 1.0)], 0.0
    if action.kind == "recheck":
        keys = [RECHECK]
    elif action.kind == "outside":
        keys = [LOOK]
    else:
        keys = _keys(case, action)
    if not keys:
        return [((Event(Key("test", action.id)),), 1.0)], 0.0
    ways: list[tuple[Events, Belief]] = [((), case.known.belief.copy())]
    for key in keys:
        ways = [longer for way in ways for longer in _split(case.model, *way, key)]
        often = [way for way in ways if way[1].chance >= least * case.known.belief.chance]
        ways = often or [max(ways, key=lambda way: way[1].chance)]
    whole = case.known.belief.chance
    told = [(events, belief.chance / whole) for events, belief in ways]
    told.sort(key=lambda way: -way[1])
    rest = 1.0 - sum(chance for _, chance in told)
    return told, rest if rest > 1e-9 else 0.0


def _keys(case: Case, action: Action) -> list[Key]:
    if action.again:
        seen = case.model.tests[action.id].observations
        return [Key("test", action.id, item.id) for item in seen]
    return case.problem.watched[case.problem.number[action.id]]


def _split(model: Model, events: Events, belief: Belief, key: Key) -> list[tuple[Events, Belief]]:
    ways = []
    count = len(model.columns(key))
    for place in range(count):
        likelihood = tuple(float(place == one) for one in range(count))
        then = belief.copy()
        then.learn(key, likelihood)
        if then.scale() > 0.0:
            new: Events = (*events, Event(key, likelihood))
            if key == LOOK and place:
                new = (*new, Event(Key("repair", "outside")))
            ways.append((new, then))
    return ways


def _is_bad(event: Event) -> bool:
    return event.tells and event.likelihood[0] == 0.0


def _told(case: Case, event: Event) -> str:
    if event.key == RECHECK:
        return "still there"
    if event.key == LOOK:
        return "found there"
    return result_text(case, event.key, event.likelihood.index(1.0))


def _good_text(action: Action) -> str:
    return {"repair": "done", "opening": "done", "recheck": "fixed", "outside": "nothing"}.get(
        action.kind, "all good"
    )


def _spent(case: Case, events: Events) -> Cost:
    """Cost of an action: what the job has spent more once its events are in the history."""
    job = state_of(case.model, case.known.events)
    money, minutes = job.money, job.minutes
    for event in events:
        job.add(event)
    return Cost(job.money - money, job.minutes - minutes)
