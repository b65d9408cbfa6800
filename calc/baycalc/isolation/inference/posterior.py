"""Suspects: what is still possible after the codes, the results and the repairs so far."""

from dataclasses import dataclass

from baycalc.isolation.inference.conflicts import discarded
from baycalc.isolation.inference.evidence import Event, Evidence, evidence_of
from baycalc.isolation.inference.filtering import Belief, update
from baycalc.isolation.inference.smoothing import smoothed_marginals
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.fault_model import OUTSIDE

SETS_SHOWN = 8
"""Most sets of faults that are named [-]."""

SET_MATTERS = 0.01
"""Share below which a set of faults is not named [-]."""


@dataclass(frozen=True)
class Posterior:
    """A job's evidence with the belief that follows from it, now and before each repair.

    Attributes
    ----------
    events : list of Event
        The events of the job.
    evidence : Evidence
        What they say, state by state.
    belief : Belief
        The belief now.
    before : list of Belief
        The belief just before each repair.
    discarded : tuple of int
        Places of evidence left out, as it contradicts newer evidence [-].
    """

    events: list[Event]
    evidence: Evidence
    belief: Belief
    before: list[Belief]
    discarded: tuple[int, ...]


@dataclass(frozen=True)
class Suspects:
    """What is believed after a job's history, in shares.

    Attributes
    ----------
    marginals : dict
        For each fault the share of belief that it is present now [-].
    sets : tuple
        The sets of faults that matter, each with its share, likeliest first; the empty set
        means that nothing is wrong any more [-].
    outside : float
        Share of a cause outside this procedure [-].
    clear : float
        Share that no fault is left [-].
    repaired : dict
        For each repair the share of belief that its fault was really there [-].
    """

    marginals: dict[str, float]
    sets: tuple[tuple[tuple[str, ...], float], ...]
    outside: float
    clear: float
    repaired: dict[str, float]


def posterior(model: Model, events: list[Event]) -> Posterior:
    """Carry the belief through a job; of contradicting evidence leave the oldest out.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    events : list of Event
        The job so far.

    Returns
    -------
    known : Posterior
        Exact over all sets of up to three faults.
    """
    evidence = evidence_of(model, events)
    belief, before = update(model, evidence)
    left_out: tuple[int, ...] = ()
    if belief.chance <= 0.0:
        left_out = discarded(model, evidence)
        belief, before = update(model, evidence, left_out)
    return Posterior(events, evidence, belief, before, left_out)


def suspects_of(known: Posterior) -> Suspects:
    """Say what is still suspect, in shares."""
    model, weights = known.belief.model, known.belief.weights
    marginals = dict(zip(model.ids, model.sets.shares(weights), strict=True))
    return Suspects(
        marginals=marginals,
        sets=_sets_that_matter(model, weights),
        outside=marginals.get(OUTSIDE, 0.0),
        clear=weights[0],
        repaired=smoothed_marginals(model, known.evidence, known.before, known.discarded),
    )


def _sets_that_matter(
    model: Model, weights: list[float]
) -> tuple[tuple[tuple[str, ...], float], ...]:
    places = [place for place, weight in enumerate(weights) if weight >= SET_MATTERS]
    places.sort(key=lambda place: -weights[place])
    return tuple(
        (tuple(model.ids[fault] for fault in model.sets.members[place]), weights[place])
        for place in places[:SETS_SHOWN]
    )
