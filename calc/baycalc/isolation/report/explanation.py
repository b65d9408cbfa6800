"""Why an action is the next one: the figures, and one sentence that states them."""

from dataclasses import dataclass
from operator import mul

from baycalc.isolation.model.bayes_net import Key
from baycalc.isolation.model.fault_model import ELSEWHERE
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.decide import Action, Decision
from baycalc.isolation.planning.follow_ups import Question

SWINGS_SHOWN = 6
"""Most faults of which it is told how their shares move."""

WORTH_TELLING = 0.5
"""Least amount that a test is said to save [money]."""

CHANGE = 0.02
"""Change of a share from which a test is said to speak for a fault."""


@dataclass(frozen=True)
class Swing:
    """How an observation moves the share of one fault: now, if shown, if not shown."""

    fault: str
    now: float
    shown: float
    not_shown: float


@dataclass(frozen=True)
class Reason:
    """Why an action is the next one.

    Parameters
    ----------
    sentence : str
        In one sentence [-].
    minutes, setup_minutes : float
        Minutes of the action itself, and of changing the set-up for it [min].
    price : float
        Parts of a repair [money].
    observation : str
        The observation of the test that tells most; empty for other actions [-].
    chance_shown : float, optional
        Chance that this observation is abnormal [-].
    swings : tuple of Swing
        The faults whose shares it moves, most first [-].
    saves : float, optional
        What the test saves on average against repairing at once [money].
    """

    sentence: str
    minutes: float
    setup_minutes: float = 0.0
    price: float = 0.0
    observation: str = ""
    chance_shown: float | None = None
    swings: tuple[Swing, ...] = ()
    saves: float | None = None


def reason_for(case: Case, decision: Decision) -> Reason:
    """Say why an action is the next one.

    Parameters
    ----------
    case : Case
        The job at this moment [-].
    decision : Decision
        What was decided [-].

    Returns
    -------
    reason : Reason
        Figures and a sentence [-].
    """
    action = decision.action
    if action.kind == "test":
        return _for_test(case, decision)
    if action.kind == "repair":
        return _for_repair(case, action)
    minutes = case.model.network.recheck_minutes
    if action.kind == "recheck":
        clear = _percent(case.suspects.clear)
        return Reason(f"{_minutes(minutes)}; the proof: {clear} that no fault is left", minutes)
    return Reason("the repair is proven, and no cause or knock-on is left untested", 0.0)


@dataclass(frozen=True)
class Telling:
    """What one observation can tell: the chance that it is shown, and how shares move."""

    observation: str
    chance: float
    swings: tuple[Swing, ...]

    @property
    def weight(self) -> float:
        """How much the shares move on average."""
        rest = self.chance * (1.0 - self.chance)
        return rest * sum(abs(swing.shown - swing.not_shown) for swing in self.swings)


def most_telling(case: Case, test: str) -> Telling:
    """Find the observation of a test that moves the shares of belief most."""
    keys = case.problem.watched[case.problem.number[test]]
    tellings = [_telling(case, key) for key in keys]
    return max(tellings, key=lambda item: item.weight, default=Telling("", 0.0, ()))


def _telling(case: Case, key: Key) -> Telling:
    model, weights = case.model, case.known.belief.weights
    normal = list(map(mul, weights, model.normal(key)))
    chance = max(0.0, 1.0 - sum(normal))
    now = model.sets.shares(weights)
    without = model.sets.shares(normal)
    swings = [
        Swing(
            name,
            share,
            (share - rest) / chance if chance > 0.0 else share,
            rest / (1.0 - chance) if chance < 1.0 else share,
        )
        for name, share, rest in zip(model.ids, now, without, strict=True)
    ]
    swings.sort(key=lambda swing: -abs(swing.shown - swing.not_shown))
    return Telling(key[2], chance, tuple(swings[:SWINGS_SHOWN]))


def _for_test(case: Case, decision: Decision) -> Reason:
    action = decision.action
    test = case.model.tests[action.id]
    setup = case.job.change_minutes(test.setup)
    telling = most_telling(case, action.serves)
    cost = _cost(test.minutes, setup)
    saves = None
    if action.question is not None:
        purpose = asked(case, action.question)
    else:
        purpose = _separates(case, action.serves, telling)
        repairs = [move.cost for move in decision.moves if move.kind == "repair"]
        if action.move is not None and repairs:
            saves = min(repairs) - action.move.cost
            if saves >= WORTH_TELLING:
                purpose += f"; saves {_money(case, saves)} on average against repairing at once"
    if action.serves != action.id:
        then = ", which" if action.question is None else ":"
        purpose = f"must come before {case.model.tests[action.serves].title}{then} {purpose}"
    return Reason(
        f"{cost}; {purpose}",
        test.minutes,
        setup,
        observation=telling.observation,
        chance_shown=telling.chance,
        swings=telling.swings,
        saves=saves,
    )


def _separates(case: Case, test: str, telling: Telling) -> str:
    """Name the fault that a shown result speaks for, and the one that rises otherwise."""
    up = [swing for swing in telling.swings if swing.shown - swing.now > CHANGE]
    down = [swing for swing in telling.swings if swing.not_shown - swing.now > CHANGE]
    up.sort(key=lambda swing: swing.now - swing.shown)
    down.sort(key=lambda swing: swing.now - swing.not_shown)
    name = _observation_name(case, test, telling.observation)
    if not up and not down:
        return "rules out what is rare but dear"
    if not up:
        return f"speaks for {_moved(case, down[0], down[0].not_shown, f'{name} passes')}"
    first = _moved(case, up[0], up[0].shown, f"{name} fails")
    if not down:
        return f"finds or clears {first}"
    return f"separates {first} from {_moved(case, down[0], down[0].not_shown, 'it passes')}"


def _moved(case: Case, swing: Swing, then: float, when: str) -> str:
    return f"{_label(case, swing.fault)} ({_percent(swing.now)}, {_percent(then)} if {when})"


def _observation_name(case: Case, test: str, observation: str) -> str:
    """Name an observation where a test has several."""
    items = case.model.tests[test].observations
    if len(items) < 2:
        return "it"
    return next(f'"{item.says or item.id}"' for item in items if item.id == observation)


def asked(case: Case, question: Question) -> str:
    """State why a cause or a knock-on is to be cleared."""
    fault, other = _label(case, question.fault), _label(case, question.because)
    share = _percent(question.share)
    if question.kind == "itself":
        return f"no test has looked yet whether {fault} ({share}): show it before a part is bought"
    if question.kind == "knock-on":
        return f"{fault} ({share}) can come from {other}: clear it before the job is closed"
    if question.when == "after":
        return f"{fault} ({share}) can be the cause of {other}: clear it before the job is closed"
    return (
        f"{fault} ({share}) can be the cause of {other}: clear it before the part is fitted, "
        "or the new one may fail the same way"
    )


def _for_repair(case: Case, action: Action) -> Reason:
    cost = case.model.repairs[case.model.number[action.id]]
    share = _percent(case.suspects.shares[action.id])
    if action.id == ELSEWHERE:
        sentence = f"{share} for a cause outside this procedure, and no test here pays any more"
        return Reason(sentence, cost.minutes, price=cost.price)
    proof = _minutes(case.model.network.recheck_minutes)
    parts = f"{_money(case, cost.price)} for parts" if cost.price > 0.0 else "no part to buy"
    sentence = (
        f"{share} for {_label(case, action.id)}, and no test saves more than it costs; "
        f"{_minutes(cost.minutes)} and {parts}, then {proof} to prove it"
    )
    return Reason(sentence, cost.minutes, price=cost.price)


def _cost(minutes: float, setup: float) -> str:
    if setup > 0.0:
        return f"{_minutes(minutes)} and {setup:g} for the set-up"
    return _minutes(minutes)


def _label(case: Case, fault: str) -> str:
    return case.model.labels[case.model.number[fault]]


def _minutes(value: float) -> str:
    return "1 minute" if value == 1.0 else f"{value:g} minutes"


def _money(case: Case, amount: float) -> str:
    return f"{case.model.network.currency or ''}{amount:.0f}"


def _percent(share: float) -> str:
    if 0.0 < share < 0.01:
        return "under 1 %"
    return f"{100.0 * share:.0f} %"
