"""Why an action is the next one, in slots: why, time, if bad, if good."""

from dataclasses import dataclass, replace
from operator import mul

from baycalc.isolation.model.bayes_net import Key
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.confirmation import outcome
from baycalc.isolation.planning.decide import Action, Decision
from baycalc.isolation.planning.follow_ups import FollowUp
from baycalc.isolation.report.wording import (
    UNLIKELY,
    amount,
    fault_name,
    fault_share,
    result_text,
    test_name,
)
from baycalc.text import capital, duration, percent

SURE = 0.9
"""Share of belief from which a fault that a test has shown counts as found [-]; common practice,
no source."""

CHANGE = 0.02
"""Change of a share from which a result is said to speak for a fault [-]."""


@dataclass(frozen=True)
class Reason:
    """Why an action is the next one; a slot with nothing to say is empty.

    Attributes
    ----------
    headline, why, time, if_bad, if_good : str
        One short line each.
    figures : tuple of str
        What stands behind it.
    """

    headline: str
    why: str = ""
    time: str = ""
    if_bad: str = ""
    if_good: str = ""
    figures: tuple[str, ...] = ()


def reason_for(case: Case, decision: Decision) -> Reason:
    """Say why an action is the next one.

    Parameters
    ----------
    case : Case
        The job at this moment.
    decision : Decision
        What was decided.
    """
    action = decision.action
    kind = action.kind
    if kind == "test":
        return _for_test(case, decision)
    if kind == "repair":
        return _for_repair(case, action)
    if kind == "outside":
        return _for_outside(case)
    if kind == "opening":
        step = next(one for one in case.model.network.opening if one.id == action.id)
        return Reason(f"Next: {step.title}", "Once at the start of a job.", duration(step.minutes))
    if kind == "recheck":
        minutes = case.model.network.recheck_minutes
        told = f"{percent(case.suspects.clear)} that no fault is left, before the proof"
        return Reason(
            "Next: prove the repair", _proof_why(case), duration(minutes), figures=(told,)
        )
    if kind == "close":
        return Reason("The job can be closed", "The repair is proven.")
    if action.id == "outside":
        return Reason("This procedure cannot explain the car", _lost(case))
    return Reason("Fault not found", "Every test that was made came out normal.")


def shown_by(case: Case, fault: str) -> list[str]:
    """Tell the abnormal results that speak for a fault."""
    rules, number = case.problem.rules, case.model.number[fault]
    return [
        result_text(case, event.key, place)
        for event in case.known.events
        if event.key.observation
        and (place := outcome(event))
        and rules.shown[event.key][place - 1] >> number & 1
    ]


@dataclass(frozen=True)
class Swing:
    """What one outcome of an observation means for the likeliest fault then.

    Attributes
    ----------
    place : int
        The outcome; 0 is the normal one [-].
    chance : float
        Its chance [-].
    fault : str
        The fault that it raises most.
    now, then : float
        Its share before and after [-].
    """

    place: int
    chance: float
    fault: str
    now: float
    then: float


def swings(case: Case, key: Key) -> list[Swing]:
    """Say what each outcome of an observation would mean."""
    model, weights = case.model, case.known.belief.weights
    now = model.sets.shares(weights)
    found = []
    for place, column in enumerate(model.columns(key)):
        rows = list(map(mul, weights, column))
        chance = sum(rows)
        if chance <= 0.0:
            continue
        then = [share / chance for share in model.sets.shares(rows)]
        fault = max(range(len(now)), key=lambda one: then[one] - now[one])
        found.append(Swing(place, chance, model.ids[fault], now[fault], then[fault]))
    return found


def most_informative(case: Case, test: str) -> tuple[Key | None, list[Swing]]:
    """Find the observation of a test that moves the shares of belief most."""
    keys = case.problem.watched[case.problem.number[test]]
    told = [(key, swings(case, key)) for key in keys]
    weight = {key: sum(one.chance * (one.then - one.now) for one in found) for key, found in told}
    return max(told, key=lambda pair: weight[pair[0]], default=(None, []))


def _for_test(case: Case, decision: Decision) -> Reason:
    action = decision.action
    test = case.model.tests[action.id]
    key, found = most_informative(case, action.serves or action.id)
    reason = Reason(
        f"Next: {test.title}", _why(case, action, found), _time(case, action), figures=()
    )
    if action.again:
        return replace(reason, headline=f"Once more: {test.title}")
    if key is None or action.serves not in ("", action.id):
        return reason
    bad = [one for one in found if one.place and one.then >= UNLIKELY]
    good = [one for one in found if not one.place and one.then >= UNLIKELY]
    worst = max(bad, key=lambda one: one.chance, default=None)
    return replace(
        reason,
        if_bad=_then(case, key, worst),
        if_good=_then(case, key, good[0] if good else None),
        figures=tuple(
            f"{result_text(case, key, one.place)}: {percent(one.chance)}; then "
            f"{fault_name(case, one.fault)} {percent(one.then)} instead of {percent(one.now)}"
            for one in found
        ),
    )


def _why(case: Case, action: Action, found: list[Swing]) -> str:
    if action.again:
        return "It came out normal, yet nothing else explains the car."
    if action.question is not None:
        purpose = question_text(case, action.question)
    elif case.model.tests[action.serves].opening:
        purpose = "A cheap look before any planning."
    else:
        purpose = _tells(case, found)
    if action.serves in ("", action.id):
        return purpose
    return f"Comes before {test_name(case, action.serves)}. {purpose}"


def _tells(case: Case, found: list[Swing]) -> str:
    """Name the fault that an abnormal result speaks for, and the one that rises otherwise."""
    raised = [one for one in found if one.then - one.now > CHANGE and one.now >= UNLIKELY]
    bad = sorted((one for one in raised if one.place), key=lambda one: -one.chance * one.then)
    good = [one for one in raised if not one.place]
    if bad and good and bad[0].fault != good[0].fault:
        first = fault_share(case, bad[0].fault, bad[0].now)
        return f"Tells {first} from {fault_share(case, good[0].fault, good[0].now)}."
    if bad:
        return f"Finds or clears {fault_share(case, bad[0].fault, bad[0].now)}."
    if good:
        return f"Normal, it speaks for {fault_share(case, good[0].fault, good[0].now)}."
    return "Rules out what is rare but costs much."


def _then(case: Case, key: Key, swing: Swing | None) -> str:
    if swing is None:
        return ""
    told = result_text(case, key, swing.place)
    end = "" if told.endswith((".", "?")) else "."
    return f"{told}{end} Then {fault_name(case, swing.fault)} {percent(swing.then)}."


def _time(case: Case, action: Action) -> str:
    test = case.model.tests[action.id]
    change = case.job.change(test.setup)
    parts = [duration(test.minutes)]
    if change.minutes:
        parts.append(f"{duration(change.minutes)} to get there")
    told = " + ".join(parts)
    if change.wait:
        told += f", after {duration(change.wait)} of standing"
    return told + (f", uses {amount(case, test.price)}" if test.price else "")


def question_text(case: Case, item: FollowUp) -> str:
    """State why a cause or a knock-on is to be cleared."""
    fault, other = fault_share(case, item.fault, item.share), fault_name(case, item.because)
    if item.kind == "itself":
        return f"No test has looked for {fault} yet: show it before a part is bought."
    if item.kind == "cause":
        why = f"{capital(fault)} can be the cause of {other}"
        if item.state == "before fitting":
            return f"{why}: test it first, or the new part may fail the same way."
        return f"{why}: test it before the job is closed."
    when = "before the estimate" if item.state == "before fitting" else "before the job is closed"
    return f"{capital(fault)} can come from {other}: test it {when}."


def _for_repair(case: Case, action: Action) -> Reason:
    share = case.suspects.marginals[action.id]
    cost = case.model.repairs[case.model.number[action.id]]
    shown = shown_by(case, action.id)
    label = capital(case.model.labels[case.model.number[action.id]])
    found = "Found" if shown and share >= SURE else "Most likely"
    proof = duration(case.model.network.recheck_minutes)
    why = f"Shown: {shown[-1]}." if shown else "No test has shown the fault itself."
    return Reason(
        f"{found}: {label}",
        why.replace("..", ".").replace("?.", "?"),
        f"{duration(cost.minutes)}, then {proof} to prove it",
        figures=(f"{percent(share)} for {fault_name(case, action.id)}", *shown),
    )


def _for_outside(case: Case) -> Reason:
    share = percent(case.suspects.outside)
    minutes = case.model.network.outside.minutes
    return Reason(
        "Look outside this procedure",
        f"What is listed here explains the car too badly: {share} for a cause outside.",
        duration(minutes),
        "Found: repair it there, then prove it here.",
        "Nothing found: the job is handed on with what is known.",
    )


def _proof_why(case: Case) -> str:
    done = ", ".join(fault_name(case, name) for name in case.job.repaired[-2:])
    return f"Repaired: {done}."


def _lost(case: Case) -> str:
    if case.job.looked_outside:
        return "What it lists is cleared, and the look outside found nothing."
    return "What it lists is cleared or repaired."
