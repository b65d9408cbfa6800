"""Evidence that contradicts itself: found, and brought down to the smallest group that clashes."""

from dataclasses import dataclass
from itertools import combinations
from math import sumprod

from baycalc.isolation.inference.evidence import Entry
from baycalc.isolation.inference.filtering import Belief, Stage
from baycalc.isolation.model.bayes_net import RECHECK, Model

RARE = 0.1
"""A pair clashes below this part of the chance of a second fault by coincidence (`base`)."""


@dataclass(frozen=True)
class Clash:
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


def clashes(model: Model, stages: list[Stage]) -> list[Clash]:
    """Find the evidence that contradicts itself.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    stages : list of Stage
        The evidence, state by state [-].

    Returns
    -------
    clashes : list of Clash
        Empty where all is well [-].

    Notes
    -----
    Two results that speak of independent faults meet about as often as `base` says; a pair is
    reported when it is ten times rarer than that. Where no pair clashes but the whole is
    impossible, the smallest impossible group found by leaving out one after the other is given.
    """
    limit = RARE * model.network.base
    steps = _steps(model, stages)
    found: list[Clash] = []
    for number, (place, chance) in enumerate(steps):
        single = _chance_alone(model, stages, place)
        if single > 0.0 and chance >= limit * single:
            continue
        before = [earlier for earlier, _ in steps[:number]]
        found.append(_closest(model, stages, place, single, before))
        if chance <= 0.0:
            break
    return [clash for clash in found if clash.ratio < limit]


def left_out(model: Model, stages: list[Stage]) -> tuple[int, ...]:
    """Choose evidence to ignore so that what remains is possible: of each clash the oldest."""
    ignored: list[int] = []
    rest = [entry.place for entry in _entries(stages)]
    while rest and _chance(model, stages, rest) <= 0.0:
        ignored.append(min(_impossible(model, stages, rest)))
        rest.remove(ignored[-1])
    return tuple(ignored)


def _steps(model: Model, stages: list[Stage]) -> list[tuple[int, float]]:
    """Give each piece of evidence with its chance, once those before it are known."""
    belief = Belief(model)
    steps = []
    for stage in stages:
        for key, entry in stage.facts.items():
            belief.learn(key, entry.likelihood)
            steps.append((entry.place, belief.scale()))
        if stage.repair is not None:
            belief.repair(stage.repair)
            belief.scale()
    return steps


def _closest(
    model: Model, stages: list[Stage], place: int, single: float, before: list[int]
) -> Clash:
    """Find what a piece of evidence clashes with most: nothing, one other, or a group."""
    if single <= 0.0:
        return Clash((place,), 0.0)
    pairs = []
    for other in before:
        both = _chance(model, stages, [other, place])
        alone = _chance(model, stages, [other])
        pairs.append(Clash((other, place), both / (alone * single)))
    nearest = min(pairs, key=lambda pair: pair.ratio, default=Clash((place,), 1.0))
    together = [*before, place]
    if nearest.ratio > 0.0 and _chance(model, stages, together) <= 0.0:
        return Clash(tuple(_impossible(model, stages, together)), 0.0)
    return nearest


def _impossible(model: Model, stages: list[Stage], places: list[int]) -> list[int]:
    """Bring impossible evidence down to a group that is possible without any one member."""
    for size in (1, 2):
        for few in combinations(places, size):
            if _chance(model, stages, list(few)) <= 0.0:
                return list(few)
    group = list(places)
    for place in places:
        rest = [other for other in group if other != place]
        if _chance(model, stages, rest) <= 0.0:
            group = rest
    return group


def _chance_alone(model: Model, stages: list[Stage], place: int) -> float:
    """Chance of one piece of evidence; before any repair it needs no belief."""
    for key, entry in stages[0].facts.items():
        if entry.place == place and key != RECHECK:
            return sumprod(model.prior, model.likelihoods(key, entry.likelihood))
    return _chance(model, stages, [place])


def _chance(model: Model, stages: list[Stage], places: list[int]) -> float:
    """Chance of some of the evidence, all else unknown; what comes after it does not matter."""
    belief = Belief(model)
    left = len(places)
    for stage in stages:
        for key, entry in stage.facts.items():
            if entry.place in places:
                belief.learn(key, entry.likelihood)
                left -= 1
        if not left:
            break
        if stage.repair is not None:
            belief.scale()
            belief.repair(stage.repair)
    belief.scale()
    return belief.chance


def _entries(stages: list[Stage]) -> list[Entry]:
    return [entry for stage in stages for entry in stage.facts.values()]
