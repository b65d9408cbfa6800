"""What the page and the command line are given: the findings of this package as plain JSON."""

from collections import OrderedDict
from dataclasses import asdict
from hashlib import sha256
from json import dumps, loads
from typing import Any

from baycalc.isolation.json_reader import Json
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.case import open_case
from baycalc.isolation.planning.decide import decide
from baycalc.isolation.planning.policies import by_guess, by_page, by_plan
from baycalc.isolation.planning.state import Cost
from baycalc.isolation.read_events import read_events
from baycalc.isolation.report import metrics, plan_goals, testability
from baycalc.isolation.report.answer import action_data, answer
from baycalc.isolation.report.plan_tree import RARE, Branch, PlanNode, guess_cost, plan_tree
from baycalc.isolation.report.simulation import simulate

MODELS_KEPT = 4
"""Procedures that are kept ready for the next question [-]."""

_models: OrderedDict[str, Model] = OrderedDict()


def open_network(network_data: Json) -> str:
    """Take the network of a procedure, once, and give it a name for the questions to come.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].

    Raises
    ------
    ValueError
        Where the network cannot be read.
    """
    name = sha256(dumps(network_data).encode()).hexdigest()[:16]
    if name not in _models:
        _models[name] = Model(from_data(network_data))
    _models.move_to_end(name)
    while len(_models) > MODELS_KEPT:
        _models.popitem(last=False)
    return name


def opened(name: str) -> Model | None:
    """Give the model of a network that is open."""
    return _models.get(name)


def evaluate(name: str, history: list[Json]) -> Json:
    """Say where a job stands and what to do next.

    Parameters
    ----------
    name : str
        The network, as `open_network` named it.
    history : list of dict
        The job so far; what this procedure does not know is named in the answer [-].

    Returns
    -------
    answer : dict
        Every text ready to show, see `report.answer`; `error` where no such network is open.
    """
    model = _models.get(name)
    if model is None:
        return {"error": "unknown network"}
    events, unknown = read_events(model, history)
    case = open_case(model, events)
    return answer(case, decide(case), unknown)


def first_answers(network_data: Json) -> dict[str, Json]:
    """Give the answers to a job that begins: without a code, and with each code as the only one.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].

    Returns
    -------
    answers : dict
        By code; "" is the job without one.
    """
    name = open_network(network_data)
    answers = {"": evaluate(name, [])}
    for code in network_data.get("codes", {}):
        answers[code] = evaluate(name, [{"code": code, "state": "stored"}, {"codes": "all"}])
    return answers


def plan(network_data: Json, rare: float = RARE) -> Json:
    """Draw the whole plan, before any code is known.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].
    rare : float
        Share of cars below which a branch is not drawn on [-].

    Returns
    -------
    answer : dict
        `tree`, nested; `expected` of the plan and of fitting parts by `guess`, each in minutes
        and money.

    Raises
    ------
    ValueError
        Where the network cannot be read.
    """
    model = Model(from_data(network_data))
    tree = plan_tree(model, [], rare=rare)
    return {
        "tree": _node(tree),
        "expected": _cost(tree.to_go),
        "guess": _cost(guess_cost(model, [])),
    }


def figures(network_data: Json) -> Json:
    """Give the author's figures of a procedure: the fields of `metrics.Figures`.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].

    Raises
    ------
    ValueError
        Where the network cannot be read.
    """
    return _plain(asdict(metrics.figures(Model(from_data(network_data)))))


def diagnosability(network_data: Json) -> Json:
    """Say which faults the tests detect and separate; quick, no car is simulated.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].

    Returns
    -------
    answer : dict
        The fields of `testability.Diagnosability`.

    Raises
    ------
    ValueError
        Where the network cannot be read.
    """
    return _plain(asdict(testability.diagnosability(Model(from_data(network_data)))))


def simulation(network_data: Json, cars: int, seed: int = 0) -> Json:
    """Compare the plan with guesswork and with the order of the page, on simulated cars.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].
    cars : int
        How many cars for each [-].
    seed : int
        Seed of the chances [-].

    Returns
    -------
    answer : dict
        For "plan", "guess" and "page" the fields of `simulation.Outcome`; for "outside" those of
        the plan on cars whose cause lies outside, for "good" on cars with nothing wrong, each a
        fifth as many.

    Raises
    ------
    ValueError
        Where the network cannot be read.
    """
    model = Model(from_data(network_data))
    policies = {"plan": by_plan, "guess": by_guess, "page": by_page}
    found = {name: asdict(simulate(model, cars, seed, policy)) for name, policy in policies.items()}
    few = max(1, cars // 5)
    if OUTSIDE in model.number:
        alone = model.sets.index[1 << model.number[OUTSIDE]]
        found["outside"] = asdict(simulate(model, few, seed, by_plan, alone))
    found["good"] = asdict(simulate(model, few, seed, by_plan, 0))
    return found


def plan_starts(network_data: Json) -> list[Json]:
    """Say how the jobs of a procedure begin, and what they cost at least.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].

    Returns
    -------
    starts : list of dict
        The fields of `plan_goals.Start`.
    """
    return [asdict(start) for start in plan_goals.starts(Model(from_data(network_data)))]


def _plain(data: Json) -> Json:
    """Turn tuples into lists, as JSON has them."""
    plain: Json = loads(dumps(data))
    return plain


def _cost(cost: Cost) -> Json:
    return {"money": cost.money, "minutes": cost.minutes}


def _node(node: PlanNode) -> Json:
    data: Json = {
        "end": node.end,
        "share": node.share,
        "suspects": [{"fault": fault, "share": share} for fault, share in node.suspects],
        "spent": _cost(node.spent),
        "to_go": _cost(node.to_go),
        "branches": [_branch(branch) for branch in node.branches],
    }
    if node.case is not None and node.action is not None and node.reason is not None:
        data |= action_data(node.case, node.action)
        data |= {"headline": node.reason.headline, "why": node.reason.why}
    return data


def _branch(branch: Branch) -> Json:
    node: dict[str, Any] = _node(branch.node)
    return {"text": branch.text, "good": branch.good, "chance": branch.chance, "node": node}
