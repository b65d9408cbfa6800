"""The events of a job, and what each says: codes, complaints, results, repairs, proofs."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from baycalc.isolation.model.bayes_net import RECHECK, Key, Likelihood, Model

NOTHING: Likelihood = (1.0, 1.0)
"""The likelihood of what tells nothing."""

NORMAL: Likelihood = (1.0, 0.0)
ABNORMAL: Likelihood = (0.0, 1.0)

PENDING: Likelihood = (0.1, 0.9)
"""Likelihood of a pending code: seen on one trip, it may have been chance; common practice, no
source [-]."""


@dataclass(frozen=True)
class Event:
    """One event of a job.

    Attributes
    ----------
    key : Key
        What it speaks of: evidence, or Key("repair", fault), Key("codes"), Key("state", state),
        Key("opening", step).
    likelihood : tuple of float
        Its likelihood under each outcome, the normal one first [-].
    done : bool
        False where a test was skipped, or an outside look or a step was left out.
    place : int
        Its place in the history [-].
    """

    key: Key
    likelihood: Likelihood = NOTHING
    done: bool = True
    place: int = -1

    @property
    def tells(self) -> bool:
        """Tell whether it says anything of the faults."""
        return len(set(self.likelihood)) > 1


@dataclass
class Stage:
    """The evidence of one state of the car, and the fault whose repair ended it."""

    facts: dict[Key, Event] = field(default_factory=dict)
    earlier: list[Event] = field(default_factory=list)
    repair: int | None = None

    def all(self) -> Iterable[Event]:
        """Give every piece of evidence, what a repeated test said before first."""
        yield from self.earlier
        yield from self.facts.values()


@dataclass(frozen=True)
class Evidence:
    """The evidence of a job, state by state.

    Attributes
    ----------
    stages : list of Stage
        One more than there are repairs.
    outside : float
        The share of a cause outside that the codes read call for [-].
    """

    stages: list[Stage]
    outside: float


def evidence_of(model: Model, events: Iterable[Event]) -> Evidence:
    """Sort the events of a job by the state of the car they speak of.

    Notes
    -----
    A test repeated in the same state is no independent witness: its newest result replaces
    the older one, and *not done* leaves an older one standing. Only of faults that come and go
    an older result speaks still.
    """
    stages = [Stage()]
    for event in events:
        kind = event.key.kind
        if kind == "repair":
            stages[-1].repair = model.number[event.key.name]
            stages.append(Stage())
        elif kind == "codes":
            _add_absent(model, stages[-1])
        elif event.tells:
            _keep_earlier(model, stages[-1], event)
            stages[-1].facts[event.key] = event
    for stage in stages:
        _drop_suppressed(model, stage)
    return Evidence(stages, _outside(model, stages[0]))


def _add_absent(model: Model, stage: Stage) -> None:
    """Where all codes are told, one that was not named is not stored; it has a place below zero."""
    for number, code in enumerate(model.network.codes):
        key = Key("code", code)
        stage.facts.setdefault(key, Event(key, NORMAL, place=-2 - number))


def _drop_suppressed(model: Model, stage: Stage) -> None:
    """A code that another one hides is not absent: it is unknown."""
    for code, entry in model.network.codes.items():
        if _stored(stage, code):
            for hidden in entry.suppresses:
                if not _stored(stage, hidden):
                    stage.facts.pop(Key("code", hidden), None)


def _stored(stage: Stage, code: str) -> bool:
    fact = stage.facts.get(Key("code", code))
    return fact is not None and fact.likelihood[1] > fact.likelihood[0]


def _outside(model: Model, first: Stage) -> float:
    outside = model.network.outside
    shares = [share for code, share in outside.with_codes.items() if _stored(first, code)]
    return min(shares, default=outside.share)


def _keep_earlier(model: Model, stage: Stage, event: Event) -> None:
    """Keep what a repeated test said before, where it speaks of a fault that comes and goes."""
    before = stage.facts.get(event.key)
    if before is None or event.key.kind != "test":
        return
    item = model.observation(event.key)
    if not any(item.shows(model.ids[fault]) for fault in model.intermittent):
        return
    was_normal = before.likelihood[0] >= max(before.likelihood[1:])
    is_normal = event.likelihood[0] >= max(event.likelihood[1:])
    if was_normal or is_normal:
        key = Key("again", event.key.name, event.key.observation)
        stage.earlier.append(Event(key, NORMAL if was_normal else ABNORMAL, place=before.place))


def cured(event: Event) -> bool:
    """Tell whether a proof found the car cured."""
    return event.key == RECHECK and event.likelihood[0] > 0.0
