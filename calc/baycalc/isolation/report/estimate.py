"""One estimate before the first repair: a customer authorises once."""

from baycalc.isolation.json_reader import Json
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.decide import Decision
from baycalc.isolation.planning.follow_ups import FOUND
from baycalc.isolation.planning.state import WAITING
from baycalc.isolation.report.wording import UNLIKELY, amount, fault_name
from baycalc.text import capital, duration, percent


def estimate(case: Case, decision: Decision) -> Json | None:
    """Put together what the whole repair takes.

    Parameters
    ----------
    case : Case
        The job at this moment.
    decision : Decision
        What was decided.

    Returns
    -------
    estimate : dict or None
        Parts, minutes, money and what stays uncertain, as texts; None but before the first
        repair.
    """
    if decision.action.kind != "repair" or case.job.repaired:
        return None
    shares, model = case.suspects.marginals, case.model
    fitted = [decision.action.id]
    cured = model.cures[model.number[decision.action.id]]
    for fault in model.network.faults:
        number = model.number[fault.id]
        if shares[fault.id] >= FOUND and number not in cured:
            fitted.append(fault.id)
            cured |= model.cures[number]
    repairs = [model.repairs[model.number[name]] for name in fitted]
    minutes = sum(one.minutes for one in repairs) + model.network.recheck_minutes
    price = sum(one.price for one in repairs)
    money = (minutes + case.job.minutes + WAITING * case.job.wait) * model.network.rate
    uncertain = [
        f"{fault_name(case, fault.id)}, {percent(shares[fault.id])}: "
        f"{amount(case, fault.repair.price)} and {duration(fault.repair.minutes)} more if there"
        for fault in model.network.faults
        if shares[fault.id] >= UNLIKELY and model.number[fault.id] not in cured
    ]
    total = amount(case, money + price + case.job.price)
    return {
        "parts": [
            {
                "fault": name,
                "text": capital(model.labels[model.number[name]]),
                "price": amount(case, one.price),
            }
            for name, one in zip(fitted, repairs, strict=True)
        ],
        "minutes": duration(minutes),
        "money": total,
        "wait": duration(case.job.wait) if case.job.wait else "",
        "uncertain": uncertain,
        "text": f"Estimate: {amount(case, price)} for parts, {duration(minutes)} with the proof; "
        f"{total} in all with the time so far.",
    }
