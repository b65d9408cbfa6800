"""Where a job stands, ready to show: every sentence and figure that the page writes."""

from typing import Any

from baycalc.isolation.json_reader import Json
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.decide import Action, Decision
from baycalc.isolation.planning.follow_ups import SMALL, FollowUp
from baycalc.isolation.planning.lookahead import Move
from baycalc.isolation.planning.rollout import to_go
from baycalc.isolation.planning.state import Cost
from baycalc.isolation.report.estimate import estimate
from baycalc.isolation.report.explanation import question_text, reason_for, shown_by
from baycalc.isolation.report.parts import parts
from baycalc.isolation.report.record import contradictions, discarded_entries, hand_on
from baycalc.isolation.report.wording import (
    UNLIKELY,
    amount,
    fault_name,
)
from baycalc.text import capital, duration, percent

FAINT = 0.01
"""Share below which a suspect is not listed [-]."""

TIE = 0.015
"""Part by which two actions may differ in what the job costs and still be equally good [-]: less
than the chances behind them are known."""

TIES_SHOWN = 2
"""Most other actions that are named as equally good [-]."""

TOGETHER_SHOWN = 2
"""Most tests that are named to be done while the car is in a set-up [-]."""

SETS_TOLD = 2
"""Most sets of several faults that are told [-]."""


def answer(case: Case, decision: Decision, unknown: list[tuple[int, str]]) -> Json:
    """Say where a job stands and what to do next.

    Parameters
    ----------
    case : Case
        The job at this moment.
    decision : Decision
        What was decided.
    unknown : list of tuple
        Entries that this procedure does not know: place in the history, and why [-].

    Returns
    -------
    answer : dict
        As DEVELOPERS.md lists it; all texts ready to show.
    """
    action = decision.action
    return {
        "next": _next(case, decision),
        "ties": _ties(case, decision),
        "suspects": _suspects(case),
        "suspects_note": _note(case),
        "parts": parts(case, action),
        "sets": _sets(case),
        "how_sure": list(reason_for(case, decision).figures),
        "follow_ups": [_follow_up(case, item) for item in decision.follow_ups],
        "not_tested": _not_tested(case, decision),
        "discarded": discarded_entries(case, unknown),
        "contradictions": contradictions(case),
        "estimate": estimate(case, decision),
        "end": {"close": "closed", "stop": action.id}.get(action.kind, ""),
        "end_text": _end_text(action),
        "hand_on": hand_on(case) if action.kind == "stop" else [],
        "spent": {"minutes": case.job.minutes, "text": _spent(case)},
        "to_go": _to_go(case, decision),
        "finished": action.kind in ("close", "stop"),
    }


def action_data(case: Case, action: Action) -> Json:
    """Name an action."""
    return {
        "kind": action.kind,
        "id": action.id,
        "serves": action.serves or action.id,
        "title": action_title(case, action.kind, action.id),
    }


def action_title(case: Case, kind: str, name: str) -> str:
    """Give the title of an action."""
    if kind == "test":
        return case.model.tests[name].title
    if kind == "repair":
        return capital(case.model.labels[case.model.number[name]])
    if kind == "opening":
        return next(step.title for step in case.model.network.opening if step.id == name)
    return {
        "outside": "Look outside this procedure",
        "recheck": "Prove the repair",
        "close": "Close the job",
        "stop": "Hand the job on",
    }[kind]


def _next(case: Case, decision: Decision) -> Json:
    action = decision.action
    reason = reason_for(case, decision)
    data = action_data(case, action) | {
        "again": action.again,
        "headline": reason.headline,
        "short": _short(case, action),
        "why": reason.why,
        "time": reason.time,
        "if_bad": reason.if_bad,
        "if_good": reason.if_good,
        "setup": "",
        "clears": action.question.fault if action.question else None,
        "confirmed": False,
        "confirm_with": [],
        "price": "",
        "together": [],
    }
    if action.kind == "test":
        setup = case.model.tests[action.id].setup
        if setup is not None and setup != case.job.stand.setup:
            data["setup"] = case.model.network.setups[setup].says
        data["together"] = _together(case, action, decision)
    if action.kind == "repair":
        price = case.model.repairs[case.model.number[action.id]].price
        data["price"] = f"{amount(case, price)} for parts" if price > 0.0 else "no part to buy"
        data["confirmed"] = bool(shown_by(case, action.id))
        data["confirm_with"] = [] if data["confirmed"] else _confirm_with(case, action.id)
    return data


def _short(case: Case, action: Action) -> str:
    if action.kind == "test":
        test = case.model.tests[action.id]
        return test.short or test.title
    return action_title(case, action.kind, action.id)


def _confirm_with(case: Case, fault: str) -> list[str]:
    """Name the tests, to be had now, that would show a fault before its part is bought."""
    problem, number = case.problem, case.model.number[fault]
    names = {
        key.name: None
        for key in problem.rules.keys
        if problem.rules.looks_for[key] >> number & 1
        and key in problem.watched[problem.number[key.name]]
        and problem.steps.to(problem.number[key.name], case.job.stand, problem.met, problem.open)
    }
    return list(names)


def _together(case: Case, action: Action, decision: Decision) -> list[Json]:
    """Name tests in the same set-up that are likely to be asked for anyway."""
    tests, shares = case.model.tests, case.suspects.marginals
    setup = tests[action.id].setup
    if setup is None or not case.model.network.setups[setup].minutes:
        return []
    worth = []
    for move in decision.moves:
        if move.step is None or len(move.step.tests) > 1:
            continue
        test = case.problem.tests[move.step.first]
        if test.setup != setup or test.id in (action.id, action.serves):
            continue
        spoken = {fault for item in test.observations for fault in item.shown()}
        if any(shares[fault] >= UNLIKELY for fault in spoken):
            worth.append({"id": test.id, "title": test.title})
    return worth[:TOGETHER_SHOWN]


def _ties(case: Case, decision: Decision) -> list[Json]:
    """List other actions that are as good, where the planner's own choice stands."""
    best = decision.action.move
    if best is None or not best.followed:
        return []
    ties: list[Json] = []
    for move in decision.moves:
        if move == best or not move.followed or move.cost > (1.0 + TIE) * best.cost:
            continue
        kind, name = _of_move(case, move)
        if kind == "test" and name not in {decision.action.id, *(one["id"] for one in ties)}:
            title = action_title(case, kind, name)
            ties.append(
                {"kind": kind, "id": name, "title": title, "text": f"Equally good: {title}"}
            )
    return ties[:TIES_SHOWN]


def _of_move(case: Case, move: Move) -> tuple[str, str]:
    if move.step is not None:
        return "test", case.problem.tests[move.step.first].id
    return move.kind, case.model.ids[move.number] if move.kind == "repair" else ""


def _suspects(case: Case) -> list[Json]:
    listed = case.model.network.faults
    rows = []
    for fault, share in case.suspects.marginals.items():
        number = case.model.number[fault]
        if share >= FAINT:
            text = capital(case.model.labels[number])
            short = listed[number].short if number < len(listed) else ""
            rows.append(
                {
                    "fault": fault,
                    "text": text,
                    "short": short or text,
                    "share": share,
                    "share_text": percent(share),
                }
            )
    return sorted(rows, key=lambda row: -row["share"])


def _note(case: Case) -> str:
    if sum(case.suspects.marginals.values()) <= 1.0 + SMALL:
        return ""
    return "Several can be there at once: the shares are no parts of one whole."


def _sets(case: Case) -> list[str]:
    several = [(faults, share) for faults, share in case.suspects.sets if len(faults) > 1]
    return [
        f"Together: {' and '.join(fault_name(case, fault) for fault in faults)} ({percent(share)})"
        for faults, share in several[:SETS_TOLD]
        if share >= SMALL
    ]


def _follow_up(case: Case, item: FollowUp) -> Json:
    state = {
        "cleared": "tested, not there",
        "unlikely": f"not tested, now unlikely ({percent(item.share)})",
        "left": f"left on purpose ({percent(item.share)})",
        "untestable": f"no test can be done now ({percent(item.share)})",
    }.get(item.state)
    told = f"{fault_name(case, item.fault)}: {state}." if state else question_text(case, item)
    return {
        "fault": item.fault,
        "because": item.because,
        "kind": item.kind,
        "state": item.state,
        "text": told,
        "tests": list(item.tests),
    }


def _not_tested(case: Case, decision: Decision) -> list[str]:
    return [
        f"Not tested, now unlikely: {fault_name(case, item.fault)}, {percent(item.share)}"
        for item in decision.follow_ups
        if item.state == "unlikely"
    ]


def _end_text(action: Action) -> str:
    if action.kind == "close":
        return "The repair is proven."
    if action.kind != "stop":
        return ""
    if action.id == "outside":
        return "The cause lies outside what this procedure knows. No further part is worth buying."
    return "No test found anything. The fault may come and go: wait until it shows again."


def _spent(case: Case) -> str:
    job = case.job
    told = f"Time so far: {duration(job.minutes)}"
    return told + (f", and {duration(job.wait)} of standing" if job.wait else "")


def _to_go(case: Case, decision: Decision) -> Json:
    cost = expected(decision)
    if cost is None:
        return {"minutes": 0.0 if decision.action.kind == "close" else None, "text": ""}
    told = f"{duration(cost.minutes)}, {amount(case, cost.money)} with parts"
    return {"minutes": cost.minutes, "text": f"Expected to go: {told}"}


def expected(decision: Decision) -> Cost | None:
    """Give what the job is expected to cost from here; None at its end."""
    move: Any = decision.action.move or (decision.moves[0] if decision.moves else None)
    if decision.search is None or move is None or decision.action.kind == "stop":
        return None
    return to_go(decision.search, move)
