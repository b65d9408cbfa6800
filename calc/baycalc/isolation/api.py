"""What the page and the command line are given: the findings of this package as plain JSON."""

from dataclasses import asdict
from functools import lru_cache
from json import dumps, loads
from typing import Any

from baycalc.isolation.inference.conflicts import Clash, clashes
from baycalc.isolation.json_reader import Json
from baycalc.isolation.model.bayes_net import RECHECK, Model
from baycalc.isolation.model.fault_model import from_data
from baycalc.isolation.planning.case import Case, open_case
from baycalc.isolation.planning.decide import Action, Decision, decide
from baycalc.isolation.planning.follow_ups import FOUND, Question
from baycalc.isolation.planning.lookahead import Move, Search, look_for
from baycalc.isolation.planning.policies import by_guess, by_page, by_plan
from baycalc.isolation.planning.rollout import to_go
from baycalc.isolation.report import metrics, testability
from baycalc.isolation.report.explanation import Reason, asked, reason_for
from baycalc.isolation.report.plan_tree import RARE, Branch, Node, guess_cost, plan_tree
from baycalc.isolation.report.simulation import simulate

MODELS_KEPT = 4
"""Procedures that are kept ready for the next question."""


def evaluate(network_data: Json, history: list[Json]) -> Json:
    """Say where a job stands and what to do next.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].
    history : list of dict
        The job so far [-].

    Returns
    -------
    answer : dict
        `suspects`, `sets`, `none_of_these`, `clear`, `next`, `alternatives`, `spent`, `to_go`,
        `contradictions`, `open_questions` and `finished` [-].

    Raises
    ------
    ValueError
        Where the network or the history cannot be read.
    """
    case = open_case(_model(network_data), history)
    decision = decide(case)
    ended = decision.action.kind == "close"
    return {
        "suspects": _suspects(case),
        "sets": [
            {"faults": list(faults), "label": _set_label(case.model, faults), "share": share}
            for faults, share in case.suspects.sets
        ],
        "none_of_these": case.suspects.none_of_these,
        "clear": case.suspects.clear,
        "next": _action(case.model, decision.action) | _reason(reason_for(case, decision)),
        "alternatives": [_move(case, move, decision.moves[0]) for move in decision.moves],
        "spent": {"minutes": case.job.minutes, "money": case.job.money},
        "to_go": {"minutes": 0.0, "money": 0.0} if ended else _to_go(case, decision),
        "contradictions": [_clash(case, clash) for clash in clashes(case.model, case.known.stages)],
        "left_out": list(case.known.ignored),
        "open_questions": [_question(case, question) for question in decision.questions],
        "finished": ended,
    }


def plan(network_data: Json, codes: list[str] | dict[str, bool], rare: float = RARE) -> Json:
    """Draw the whole plan from the codes on.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].
    codes : list of str or dict
        The codes stored; as a dict also those not stored [-].
    rare : float
        Share of cars below which a branch is not drawn on [-].

    Returns
    -------
    answer : dict
        `tree`, nested; `expected` of the plan and of fitting parts by `guess`, each in minutes
        and money [-].

    Raises
    ------
    ValueError
        Where the network or a code cannot be read.
    """
    model = _model(network_data)
    stored = codes if isinstance(codes, dict) else dict.fromkeys(codes, True)
    history: list[Json] = [{"code": code, "stored": there} for code, there in stored.items()]
    tree = plan_tree(model, history, rare=rare)
    return {
        "tree": _node(model, tree),
        "expected": _cost(tree.to_go),
        "guess": _cost(guess_cost(model, history)),
    }


def figures(network_data: Json) -> Json:
    """Give the author's figures of a procedure as plain JSON.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].

    Returns
    -------
    answer : dict
        The fields of `metrics.Figures` [-].

    Raises
    ------
    ValueError
        Where the network cannot be read.
    """
    return _plain(asdict(metrics.figures(_model(network_data))))


def diagnosability(network_data: Json) -> Json:
    """Say which faults the tests detect and separate, as plain JSON; quick, no car is simulated.

    Parameters
    ----------
    network_data : dict
        The network as plain JSON [-].

    Returns
    -------
    answer : dict
        The fields of `diagnosability.Diagnosability` [-].

    Raises
    ------
    ValueError
        Where the network cannot be read.
    """
    return _plain(asdict(testability.diagnosability(_model(network_data))))


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
        For "plan", "guess" and "page" the fields of `simulate.Outcome` [-].

    Raises
    ------
    ValueError
        Where the network cannot be read.
    """
    model = _model(network_data)
    policies = {"plan": by_plan, "guess": by_guess, "page": by_page}
    return {name: asdict(simulate(model, cars, seed, policy)) for name, policy in policies.items()}


def _model(network_data: Json) -> Model:
    return _model_of(dumps(network_data, sort_keys=False))


@lru_cache(maxsize=MODELS_KEPT)
def _model_of(text: str) -> Model:
    return Model(from_data(loads(text)))


def _plain(data: Json) -> Json:
    """Turn tuples into lists, as JSON has them."""
    plain: Json = loads(dumps(data))
    return plain


def _cost(cost: tuple[float, float]) -> Json:
    return {"money": cost[0], "minutes": cost[1]}


def _suspects(case: Case) -> list[Json]:
    rows = [
        {
            "fault": fault,
            "label": case.model.labels[case.model.number[fault]],
            "share": share,
            "repaired": case.suspects.repaired.get(fault),
            "knock_on_of": _came_from(case, fault),
        }
        for fault, share in case.suspects.shares.items()
    ]
    return sorted(rows, key=lambda row: -row["share"])


def _came_from(case: Case, fault: str) -> list[str]:
    """Name the faults, found or repaired, that can have led to a fault."""
    return [
        other.id
        for other in case.model.network.faults
        if fault in other.leads_to
        and max(case.suspects.shares[other.id], case.suspects.repaired.get(other.id, 0.0)) >= FOUND
    ]


def _set_label(model: Model, faults: tuple[str, ...]) -> str:
    labels = [model.labels[model.number[fault]] for fault in faults]
    return " and ".join(labels) if labels else "nothing left"


def _action(model: Model, action: Action) -> Json:
    question = action.question
    return {
        "kind": action.kind,
        "id": action.id,
        "title": _title(model, action.kind, action.id),
        "serves": action.serves,
        "clears": question.fault if question else None,
    }


def _title(model: Model, kind: str, name: str) -> str:
    if kind == "test":
        return model.tests[name].title
    if kind == "repair":
        return model.labels[model.number[name]]
    return {"recheck": "Prove the repair", "close": "Close the job"}[kind]


def _reason(reason: Reason) -> Json:
    data = _plain(asdict(reason))
    data["reason"] = data.pop("sentence")
    return data


def _move(case: Case, move: Move, best: Move) -> Json:
    tests = case.problem.tests
    name = serves = ""
    if move.step is not None:
        name, serves = tests[move.number].id, tests[move.step.tests[-1]].id
    elif move.kind == "repair":
        name = case.model.ids[move.number]
    return {
        "kind": move.kind,
        "id": name,
        "title": _title(case.model, move.kind, name),
        "serves": serves,
        "money": move.cost,
        "minutes": move.minutes,
        "extra": move.cost - best.cost,
    }


def _to_go(case: Case, decision: Decision) -> Json:
    search = Search(case.problem, look_for(case.problem))
    move = decision.action.move or decision.moves[0]
    return _cost(to_go(search, move))


def _clash(case: Case, clash: Clash) -> Json:
    names = [_evidence(case, place) for place in clash.places]
    how = "cannot be true" if clash.ratio <= 0.0 else "can hardly be true"
    sentence = f"{' and '.join(names)} {how}{' together' if len(names) > 1 else ''}: check again"
    return {"events": list(clash.places), "ratio": clash.ratio, "sentence": sentence}


def _evidence(case: Case, place: int) -> str:
    entry = next(item for item in case.known.entries if item.place == place)
    abnormal = entry.likelihood[0] > entry.likelihood[1]
    if entry.key == RECHECK:
        return "recheck not cured" if abnormal else "recheck cured"
    if entry.key[0] == "code":
        return f"{entry.key[1]} {'stored' if abnormal else 'not stored'}"
    title = case.model.tests[entry.key[1]].title
    return f"{title} ({entry.key[2]} {'shown' if abnormal else 'not shown'})"


def _question(case: Case, question: Question) -> Json:
    return {
        "fault": question.fault,
        "because": question.because,
        "kind": question.kind,
        "when": question.when,
        "share": question.share,
        "tests": list(question.tests),
        "sentence": asked(case, question),
    }


def _node(model: Model, node: Node) -> Json:
    data: Json = {
        "end": node.end,
        "share": node.share,
        "suspects": [{"fault": fault, "share": share} for fault, share in node.suspects],
        "spent": _cost(node.spent),
        "to_go": _cost(node.to_go),
        "branches": [_branch(model, branch) for branch in node.branches],
    }
    if node.action is not None and node.reason is not None:
        data |= _action(model, node.action) | _reason(node.reason)
    return data


def _branch(model: Model, branch: Branch) -> Json:
    node: dict[str, Any] = _node(model, branch.node)
    return {"events": list(branch.events), "chance": branch.chance, "node": node}
