"""Suspects: what is still possible after the codes, the results and the repairs so far."""

from dataclasses import dataclass

from baycalc.isolation.inference.conflicts import left_out
from baycalc.isolation.inference.evidence import Entry, read_history
from baycalc.isolation.inference.filtering import Belief, Stage, believe, stages_of
from baycalc.isolation.inference.smoothing import shares_met
from baycalc.isolation.json_reader import Json
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.fault_model import ELSEWHERE

SETS_SHOWN = 8
"""Most sets of faults that are named."""

SET_MATTERS = 0.01
"""Share below which a set of faults is not named."""


@dataclass(frozen=True)
class Suspects:
    """What is believed after a job's history.

    Parameters
    ----------
    shares : dict
        For each fault the share of belief that it is present now [-].
    sets : tuple
        The sets of faults that matter, each with its share, likeliest first; the empty set
        means that nothing is wrong any more [-].
    none_of_these : float
        Share of a cause outside this procedure [-].
    clear : float
        Share that no fault is left [-].
    repaired : dict
        For each repair the share of belief that its fault was really there [-].
    ignored : tuple of int
        Places in the history of evidence left out, as it contradicts other evidence [-].
    """

    shares: dict[str, float]
    sets: tuple[tuple[tuple[str, ...], float], ...]
    none_of_these: float
    clear: float
    repaired: dict[str, float]
    ignored: tuple[int, ...]


@dataclass(frozen=True)
class Beliefs:
    """A job's evidence with the belief that follows from it, now and before each repair."""

    entries: list[Entry]
    stages: list[Stage]
    belief: Belief
    before: list[Belief]
    ignored: tuple[int, ...]


def weigh(model: Model, entries: list[Entry]) -> Beliefs:
    """Carry the belief through a job; of contradicting evidence leave the oldest out."""
    stages = stages_of(model, entries)
    belief, before = believe(model, stages)
    ignored: tuple[int, ...] = ()
    if belief.chance <= 0.0:
        ignored = left_out(model, stages)
        belief, before = believe(model, stages, ignored)
    return Beliefs(entries, stages, belief, before, ignored)


def suspects(model: Model, history: list[Json]) -> Suspects:
    """Say what is still suspect.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    history : list of dict
        The job so far [-].

    Returns
    -------
    suspects : Suspects
        Exact over all sets of up to three faults [-].

    Raises
    ------
    ValueError
        Where the history cannot be read.
    """
    return suspects_of(weigh(model, read_history(model, history)))


def suspects_of(known: Beliefs) -> Suspects:
    """Say what is still suspect, from a belief at hand."""
    model = known.belief.model
    weights = known.belief.weights
    shares = dict(zip(model.ids, model.sets.shares(weights), strict=True))
    return Suspects(
        shares=shares,
        sets=_sets_that_matter(model, weights),
        none_of_these=shares.get(ELSEWHERE, 0.0),
        clear=weights[0],
        repaired=shares_met(model, known.stages, known.before, known.ignored),
        ignored=known.ignored,
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
