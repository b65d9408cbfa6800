"""The closing rule: causes and knock-ons of what was found are cleared before a job is closed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from baycalc.isolation.model.fault_model import Fault
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.confirmation import (
    can_clear,
    looks_before_buying,
    steps_for,
    well_shown,
)
from baycalc.isolation.planning.problem import REALLY_THERE, Step

SMALL = 0.02
"""Share of belief up to which a cause or a knock-on need not be tested."""

FOUND = 0.5
"""Share of belief from which a fault counts as found."""


@dataclass(frozen=True)
class Question:
    """A fault to be cleared because of another one.

    Parameters
    ----------
    fault, because : str
        The fault to clear, and the one that was found or repaired [-].
    kind : str
        "cause" or "knock-on" of it; "itself" where it is to be shown before it is repaired [-].
    when : str
        "before" the part is fitted, or "after", before the job is closed [-].
    share : float
        Share of belief that it is present [-].
    tests : tuple of str
        Tests that can be done now and clear it, shortest first [-].
    step : Step, optional
        The first of these, with what must be done before it [-].
    """

    fault: str
    because: str
    kind: str
    when: str
    share: float
    tests: tuple[str, ...]
    step: Step | None


def open_questions(case: Case) -> tuple[Question, ...]:
    """List the causes and knock-ons that are still suspect and that no test has cleared.

    Parameters
    ----------
    case : Case
        The job at this moment [-].

    Returns
    -------
    questions : tuple of Question
        The likeliest first [-].

    Notes
    -----
    A cause is cleared by any test of the job that showed it absent, a knock-on only by one
    made after the repair of the fault it comes from: the part may have been good before.
    A fault that is itself as good as found is no question any more.
    """
    questions: dict[str, Question] = {}
    for question in sorted(_all_questions(case), key=lambda item: -item.share):
        questions.setdefault(question.fault, question)
    return tuple(questions.values())


def unseen(case: Case, fault: str) -> Question | None:
    """Ask for a fault whose part would be bought though no test has looked for it.

    Parameters
    ----------
    case : Case
        The job at this moment [-].
    fault : str
        The fault to be repaired [-].

    Returns
    -------
    question : Question, optional
        None where its part may be bought; see `looks_before_buying` [-].
    """
    steps = looks_before_buying(case, fault)
    if not steps:
        return None
    share = case.suspects.shares[fault]
    return Question(fault, fault, "itself", "before", share, _served(case, steps), steps[0])


def blocking(case: Case, questions: tuple[Question, ...]) -> list[Question]:
    """Pick the questions that keep the job from being closed: those that a test can answer."""
    repaired = case.job.repaired
    return [item for item in questions if item.tests and item.because in repaired]


def finished(case: Case, questions: tuple[Question, ...]) -> bool:
    """Tell whether the job may be closed."""
    proven = bool(case.job.repaired) and case.job.rechecked == "cured"
    return proven and case.suspects.clear >= FOUND and not blocking(case, questions)


def _all_questions(case: Case) -> Iterator[Question]:
    for fault in case.model.network.faults:
        if fault.id in case.job.repaired:
            if case.suspects.repaired[fault.id] >= REALLY_THERE:
                yield from _causes(case, fault)
                yield from _knock_ons(case, fault)
        elif case.suspects.shares[fault.id] >= FOUND:
            yield from _causes(case, fault)
            yield from _knock_ons(case, fault)


def _causes(case: Case, found: Fault) -> Iterator[Question]:
    when = "after" if found.id in case.job.repaired else "before"
    for fault in case.model.network.faults:
        if found.id in fault.leads_to and not _cleared(case, fault.id, since=-1):
            yield from _question(case, fault.id, found.id, "cause", when)


def _knock_ons(case: Case, found: Fault) -> Iterator[Question]:
    places = [entry.place for entry in case.known.entries if entry.key == ("repair", found.id)]
    since = max(places, default=len(case.known.entries))
    for name in found.leads_to:
        if not _cleared(case, name, since):
            yield from _question(case, name, found.id, "knock-on", "after")


def _question(case: Case, fault: str, because: str, kind: str, when: str) -> Iterator[Question]:
    share = case.suspects.shares[fault]
    if SMALL <= share < FOUND:
        steps = _steps_for(case, fault)
        first = steps[0] if steps else None
        yield Question(fault, because, kind, when, share, _served(case, steps), first)


def _served(case: Case, steps: Sequence[Step]) -> tuple[str, ...]:
    return tuple(case.problem.tests[step.tests[-1]].id for step in steps)


def _cleared(case: Case, fault: str, since: int) -> bool:
    keys = well_shown(case.model, fault)
    return any(
        entry.place > since and entry.key in keys and entry.likelihood == (0.0, 1.0)
        for entry in case.known.entries
    )


def _steps_for(case: Case, fault: str) -> list[Step]:
    """List the tests that can be done now and clear a fault, shortest first."""
    steps = steps_for(case, fault)
    clear = [step for key, step in steps.items() if can_clear(case, fault, key)]
    return [*dict.fromkeys(clear)]
