"""Evidence that contradicts itself: found, and brought down to the smallest group that clashes."""

from dataclasses import dataclass
from itertools import combinations
from math import sumprod

from baycalc.isolation.inference.evidence import Event, Evidence
from baycalc.isolation.inference.filtering import Belief
from baycalc.isolation.model.bayes_net import RECHECK, Model

RARE = 0.1
"""A pair clashes below this part of the chance of a second fault by coincidence (`base`)."""


@dataclass(frozen=True)
class Conflict:
    """Pieces of evidence that can hardly be true together.

    Parameters
    ----------
    places : tuple of int
        Their places in the history [-].
    ratio : float
        Chance of all together over the product of their single chances [-].
    """

    places: tuple[int, ...]
    ratio: float


def conflicts(model: Model, evidence: Evidence) -> list[Conflict]:
    """Find the evidence that contradicts itself.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    evidence : Evidence
        The evidence, state by state [-].

    Returns
    -------
    conflicts : list of Conflict
        Empty where all is well [-].

    Notes
    -----
    Two results that speak of independent faults meet about as often as `base` says; a pair is
    reported when it is ten times rarer than that. Where no pair clashes but the whole is
    impossible, the smallest impossible group found by leaving out one after the other is given.
    """
    limit = RARE * model.network.base
    steps = _steps(model, evidence)
    found: list[Conflict] = []
    for number, (place, chance) in enumerate(steps):
        single = _chance_alone(model, evidence, place)
        if single > 0.0 and chance >= limit * single:
            continue
        before = [earlier for earlier, _ in steps[:number]]
        found.append(_closest(model, evidence, place, single, before))
        if chance <= 0.0:
            break
    return [conflict for conflict in found if conflict.ratio < limit]


def discarded(model: Model, evidence: Evidence) -> tuple[int, ...]:
    """Choose evidence to ignore so that what remains is possible: of each clash the oldest."""
    ignored: list[int] = []
    rest = [entry.place for entry in _facts(evidence)]
    while rest and _chance(model, evidence, rest) <= 0.0:
        ignored.append(min(_impossible(model, evidence, rest)))
        rest.remove(ignored[-1])
    return tuple(ignored)


def _steps(model: Model, evidence: Evidence) -> list[tuple[int, float]]:
    """Give each piece of evidence with its chance, once those before it are known."""
    belief = Belief(model, model.prior(evidence.outside))
    steps = []
    for stage in evidence.stages:
        for entry in stage.all():
            belief.learn(entry.key, entry.likelihood)
            steps.append((entry.place, belief.scale()))
        if stage.repair is not None:
            belief.repair(stage.repair)
            belief.scale()
    return steps


def _closest(
    model: Model, evidence: Evidence, place: int, single: float, before: list[int]
) -> Conflict:
    """Find what a piece of evidence clashes with most: nothing, one other, or a group."""
    if single <= 0.0:
        return Conflict((place,), 0.0)
    pairs = []
    for other in before:
        both = _chance(model, evidence, [other, place])
        alone = _chance(model, evidence, [other])
        pairs.append(Conflict((other, place), both / (alone * single)))
    nearest = min(pairs, key=lambda pair: pair.ratio, default=Conflict((place,), 1.0))
    together = [*before, place]
    if nearest.ratio > 0.0 and _chance(model, evidence, together) <= 0.0:
        return Conflict(tuple(_impossible(model, evidence, together)), 0.0)
    return nearest


def _impossible(model: Model, evidence: Evidence, places: list[int]) -> list[int]:
    """Bring impossible evidence down to a group that is possible without any one member."""
    for size in (1, 2):
        for few in combinations(places, size):
            if _chance(model, evidence, list(few)) <= 0.0:
                return list(few)
    group = list(places)
    for place in places:
        rest = [other for other in group if other != place]
        if _chance(model, evidence, rest) <= 0.0:
            group = rest
    return group


def _chance_alone(model: Model, evidence: Evidence, place: int) -> float:
    """Chance of one piece of evidence; before any repair it needs no belief."""
    for entry in evidence.stages[0].all():
        if entry.place == place and entry.key != RECHECK:
            chances = model.likelihoods(entry.key, entry.likelihood)
            return sumprod(model.prior(evidence.outside), chances)
    return _chance(model, evidence, [place])


def _chance(model: Model, evidence: Evidence, places: list[int]) -> float:
    """Chance of some of the evidence, all else unknown; what comes after it does not matter."""
    belief = Belief(model, model.prior(evidence.outside))
    left = len(places)
    for stage in evidence.stages:
        for entry in stage.all():
            if entry.place in places:
                belief.learn(entry.key, entry.likelihood)
                left -= 1
        if not left:
            break
        if stage.repair is not None:
            belief.scale()
            belief.repair(stage.repair)
    belief.scale()
    return belief.chance


def _facts(evidence: Evidence) -> list[Event]:
    return [entry for stage in evidence.stages for entry in stage.all()]
