"""A job reduced to what its chance depends on, so that jobs that are alike are weighed once."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from baycalc.isolation.inference.evidence import NORMAL, Event, evidence_of
from baycalc.isolation.model.bayes_net import Key, Likelihood, Model

DIGITS = 4
"""Decimals of a likelihood that count [-]."""

Fact = tuple[Key, Likelihood]
"""What was seen, with its likelihood under each outcome, the normal one first [-]."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """What was seen in a job, state by state of the car.

    Attributes
    ----------
    outside : str
        The code that says how likely a cause outside is; "" for none.
    by_code : bool
        Whether a stored code led here.
    stages : tuple
        For each state what was seen, and the number of the fault whose repair ended it; -1 in
        the last one.
    """

    outside: str
    by_code: bool
    stages: tuple[tuple[tuple[Fact, ...], int], ...]


def pattern_of(model: Model, events: list[Event]) -> Pattern:
    """Reduce the events of a job.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    events : list of Event
        The job.

    Notes
    -----
    A complaint that was not ticked counts as not told: of those that were ticked alone, every
    complaint would seem to come always.
    """
    told = {event.key for event in events}
    not_told = [
        Event(key, NORMAL)
        for key in (Key("complaint", name) for name in model.network.complaints)
        if key not in told
    ]
    evidence = evidence_of(model, [*not_told, *_first_results(events)])
    stages = tuple(
        (
            tuple(sorted((fact.key, _rounded(fact.likelihood)) for fact in stage.all())),
            -1 if stage.repair is None else stage.repair,
        )
        for stage in evidence.stages
    )
    by_code = any(key.kind == "code" and like[1] > like[0] for key, like in stages[0][0])
    calls = model.network.outside.with_codes.items()
    outside = next((code for code, share in calls if share == evidence.outside), "")
    return Pattern(outside, by_code, stages)


def _first_results(events: Iterable[Event]) -> Iterator[Event]:
    """Leave out what a test said when it was done again in the same state of the car.

    A test is repeated where its result was doubted: of the last results alone, chances would be
    learned that confirm what was believed. The first one is no choice of anybody.
    """
    seen: set[Key] = set()
    for event in events:
        if event.key.kind == "repair":
            seen.clear()
        elif event.key.kind == "test" and event.tells:
            if event.key in seen:
                continue
            seen.add(event.key)
        yield event


def _rounded(likelihood: Likelihood) -> Likelihood:
    most = max(likelihood)
    return tuple(round(chance / most, DIGITS) for chance in likelihood)
