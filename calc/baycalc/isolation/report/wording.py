"""How faults, tests and results are named in a sentence."""

from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.model.bayes_net import Key
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.confirmation import outcome
from baycalc.text import capital, money, percent

UNLIKELY = 0.05
"""Share below which no reason names a fault [-]; common practice, no source."""


def fault_name(case: Case, fault: str) -> str:
    """Name a fault in quotes, by its short name where it has one."""
    number = case.model.number[fault]
    listed = case.model.network.faults
    short = listed[number].short if number < len(listed) else ""
    if number >= len(listed):
        return case.model.labels[number]
    return f"“{short or case.model.labels[number]}”"


def fault_share(case: Case, fault: str, share: float) -> str:
    """Name a fault with its share.

    Parameters
    ----------
    case : Case
        The job at this moment.
    fault : str
        The fault.
    share : float
        Its share [-].
    """
    return f"{fault_name(case, fault)} ({percent(share)})"


def test_name(case: Case, test: str) -> str:
    """Name a test in quotes, by its short name where it has one."""
    found = case.model.tests[test]
    return f"“{found.short or found.title}”"


def amount(case: Case, value: float) -> str:
    """Write an amount of money.

    Parameters
    ----------
    case : Case
        The job at this moment.
    value : float
        The amount [money].
    """
    return money(value, case.model.network.currency or "")


def result_text(case: Case, key: Key, place: int) -> str:
    """Write an observation with one of its outcomes: "Does it hold? No"."""
    item = case.model.observation(key)
    said = item.normal if place == 0 else item.bands[place - 1].says
    if place and not said:
        said = item.bands[place - 1].id
    asked = item.says or case.model.tests[key.name].title
    between = " " if asked.endswith("?") else ": "
    return f"{asked}{between}{capital(said or 'normal') if between == ' ' else said or 'normal'}"


def event_text(case: Case, event: Event) -> str:
    """Name a piece of evidence."""
    key = event.key
    abnormal = max(event.likelihood[1:]) > event.likelihood[0]
    if key.kind == "recheck":
        return "proof: still there" if abnormal else "proof: fixed"
    if key.kind == "code":
        return f"{key.name} {'stored' if abnormal else 'not stored'}"
    if key.kind == "complaint":
        return f"complaint: {case.model.network.complaints[key.name].says or key.name}"
    if key.kind == "outside":
        return "look outside: a cause found" if abnormal else "look outside: nothing found"
    place = outcome(event)
    item = case.model.observation(key)
    told = result_text(case, Key("test", *key[1:]), place) if place is not None else item.says
    return f"{case.model.tests[key.name].title}: {told}"
