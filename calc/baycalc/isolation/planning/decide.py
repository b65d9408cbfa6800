"""The next action: a test, a repair, the proof, or the end of the job."""

from dataclasses import dataclass

from baycalc.isolation.json_reader import Json
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.fault_model import ELSEWHERE
from baycalc.isolation.planning.case import Case, open_case
from baycalc.isolation.planning.follow_ups import FOUND, Question, finished, open_questions, unseen
from baycalc.isolation.planning.lookahead import Look, Move, Search, look_for
from baycalc.isolation.planning.problem import Step
from baycalc.isolation.planning.rollout import to_go, with_close_calls


@dataclass(frozen=True)
class Action:
    """What to do next.

    Parameters
    ----------
    kind : str
        "test", "repair", "recheck" or "close" [-].
    id : str
        The test or the fault; empty for a recheck and for the end [-].
    serves : str
        The test that this one must come before; else the same test [-].
    question : Question, optional
        The cause or knock-on that the test is asked for [-].
    move : Move, optional
        What the planner found for it [-].
    """

    kind: str
    id: str
    serves: str = ""
    question: Question | None = None
    move: Move | None = None


@dataclass(frozen=True)
class Decision:
    """The next action with what else could be done, and what must be cleared first.

    Parameters
    ----------
    action : Action
        What to do next [-].
    moves : tuple of Move
        Everything that can be done now, cheapest in the long run first [-].
    questions : tuple of Question
        Causes and knock-ons not yet cleared [-].
    """

    action: Action
    moves: tuple[Move, ...]
    questions: tuple[Question, ...]


def next_action(model: Model, history: list[Json]) -> Action:
    """Say what to do next.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    history : list of dict
        The job so far [-].

    Returns
    -------
    action : Action
        The action that is expected to cost least in all [-].

    Raises
    ------
    ValueError
        Where the history cannot be read.
    """
    return decide(open_case(model, history)).action


def decide(case: Case, look: Look | None = None) -> Decision:
    """Say what to do next in a case at hand.

    Parameters
    ----------
    case : Case
        The job at this moment [-].
    look : Look, optional
        How far to look ahead; without it, what the size of the problem allows [-].

    Returns
    -------
    decision : Decision
        The next action, and what else there is [-].

    Notes
    -----
    The planner's cheapest move is taken, but for five rules. A job that is proven and has no
    open question is closed. A cause that is as good as found is mended before what it ruined.
    No part is bought before a test has looked for its fault, where one can that costs less.
    Before a part is fitted, the causes that could ruin it too are tested. Before the proof, a
    knock-on is tested where that costs less than a proof made in vain; after it, whatever is
    still open.
    """
    questions = open_questions(case)
    if finished(case, questions):
        return Decision(Action("close", ""), (), questions)
    search = Search(case.problem, look or look_for(case.problem))
    moves = tuple(with_close_calls(search, search.moves()))
    action = _cause_first(case, _action(case, moves[0]))
    asked = _first_seen(case, action, search, moves) or _first_asked(case, action, questions)
    return Decision(asked or action, moves, questions)


def _action(case: Case, move: Move) -> Action:
    if move.kind == "test" and move.step is not None:
        tests = case.problem.tests
        return Action("test", tests[move.number].id, tests[move.step.tests[-1]].id, move=move)
    if move.kind == "repair":
        return Action("repair", case.model.ids[move.number], move=move)
    return Action("recheck", "", move=move)


def _cause_first(case: Case, action: Action) -> Action:
    """Mend a cause that is as good as found before what it ruined, or that would go again."""
    if action.kind != "repair":
        return action
    root, passed = action.id, {action.id}
    while cause := _found_cause(case, root, passed):
        passed.add(cause)
        root = cause
    return action if root == action.id else Action("repair", root)


def _found_cause(case: Case, fault: str, passed: set[str]) -> str:
    """Give the likeliest cause of a fault that is as good as found, or nothing."""
    shares = case.suspects.shares
    causes = [
        other.id
        for other in case.model.network.faults
        if fault in other.leads_to and shares[other.id] >= FOUND and other.id not in passed
    ]
    return max(causes, key=lambda name: shares[name], default="")


def _first_seen(
    case: Case, action: Action, search: Search, moves: tuple[Move, ...]
) -> Action | None:
    """Give the test that must look for a fault before its part is bought."""
    if action.kind != "repair" or action.id == ELSEWHERE:
        return None
    question = unseen(case, action.id)
    if question is None or question.step is None:
        return None
    tests = case.problem.tests
    looks = {
        move: move.step
        for move in moves
        if move.step is not None and tests[move.step.tests[-1]].id in question.tests
    }
    move = min(looks, key=lambda look: to_go(search, look), default=None)
    step = question.step if move is None else looks[move]
    return Action("test", tests[step.first].id, tests[step.tests[-1]].id, question, move)


def _first_asked(case: Case, action: Action, questions: tuple[Question, ...]) -> Action | None:
    """Give the test of the first question that is due before the planner's move."""
    tests = case.problem.tests
    for question in questions:
        step = question.step
        if step is not None and _is_due(case, action, question, step):
            return Action("test", tests[step.first].id, question.tests[0], question)
    return None


def _is_due(case: Case, action: Action, question: Question, step: Step) -> bool:
    if case.job.rechecked == "cured":
        return question.because in case.job.repaired
    if action.kind == "repair":
        return question.kind == "cause" and question.because == action.id
    if action.kind == "recheck":
        return step.cost <= question.share * case.problem.recheck_cost
    return False
