"""What is asked of the plans of a procedure: how each job begins, and what it costs at least."""

from dataclasses import dataclass
from math import sumprod

from baycalc.isolation.inference.evidence import ABNORMAL, Event
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.planning.case import Case, open_case
from baycalc.isolation.planning.decide import Decision, decide, speaks
from baycalc.isolation.planning.rollout import to_go


@dataclass(frozen=True)
class Start:
    """How a job begins with one code stored, or with none.

    Attributes
    ----------
    code : str
        The code; "" for none.
    first : str
        The first action after the opening.
    speaks : bool
        Whether a first test speaks of enough of the belief, prepares or protects.
    expected, at_least : float
        Cost by the plan, and a lower bound: each car repaired and proven at once, as if its
        faults were known [money].
    """

    code: str
    first: str
    speaks: bool
    expected: float
    at_least: float


def starts(model: Model) -> list[Start]:
    """Say how jobs begin: without a code, and with each code as the only one.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    """
    return [_start(model, code) for code in ("", *model.network.codes)]


def _start(model: Model, code: str) -> Start:
    events = [Event(Key("code", code), ABNORMAL, place=0)] if code else []
    events.append(Event(Key("codes"), place=1))
    case, decision = _past_opening(model, events)
    problem = case.problem
    bound = sumprod(problem.weights, problem.view(0).floor)
    move = decision.action.move
    expected = bound
    if decision.search is not None and decision.moves:
        expected = to_go(decision.search, move or decision.moves[0]).money
    first = f"{decision.action.kind} {decision.action.id}".strip()
    return Start(code, first, move is None or speaks(case, move), expected, min(bound, expected))


def _past_opening(model: Model, events: list[Event]) -> tuple[Case, Decision]:
    """Take a job past its opening; all is normal there."""
    while True:
        case = open_case(model, events)
        decision = decide(case)
        action = decision.action
        place = len(events) + 1
        if action.kind == "opening":
            events = [*events, Event(Key("opening", action.id), place=place)]
        elif action.kind == "test" and model.tests[action.id].opening:
            events = [*events, *_normal(model, action.id, place)]
        else:
            return case, decision


def _normal(model: Model, test: str, place: int) -> list[Event]:
    keys = [Key("test", test, item.id) for item in model.tests[test].observations]
    if not keys:
        return [Event(Key("test", test), place=place)]
    counts = [len(model.columns(key)) for key in keys]
    return [
        Event(key, (1.0, *[0.0] * (count - 1)), place=place + number)
        for number, (key, count) in enumerate(zip(keys, counts, strict=True))
    ]
